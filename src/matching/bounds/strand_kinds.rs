//! What strands of many yarns do at best: of all of some blends, of some kinds, of a range
//! of masses.

use super::{
    AtBest, Bounds, WIDER,
    kind::Glimpse,
    strand::{BlendsAtBest, ROUNDED, StrandPart, built_of, rounded},
};
use crate::{
    matching::{
        Criterion, Verdict, fibre::parts_at_least, grist::built_as_compared, judgement::overall,
        settings::widest_around,
    },
    trade::Construction,
};

impl Bounds<'_> {
    /// What blends make of every strand of them at best.
    pub fn of_strand_blends(&self, blends: &[StrandPart]) -> BlendsAtBest {
        let fibres = blends.iter().map(|part| part.blend.fibres);
        let are_known = fibres.clone().all(|fibres| fibres.is_some());
        let fibre = match are_known && self.wanted.facts.blend.is_some() {
            true => {
                let each = fibres.flatten().map(|fibres| fibres.parts);
                Glimpse::Departs(rounded(parts_at_least(each, &self.fibres, self.wanted)))
            }
            false => Glimpse::NotJudged,
        };
        self.of_blends(blends, fibre)
    }

    /// What no strand of yarns of these blends beats, whatever else they are.
    pub fn of_any_finish(&self, blends: &BlendsAtBest) -> AtBest {
        let lengths = [Glimpse::NotTold, self.gauge_of_any()];
        self.strand_at_best((lengths, true), blends, [Glimpse::NotTold; 2])
    }

    /// What no strand of yarns of these kinds beats, however thick they are.
    pub fn of_strand_kinds(&self, blends: &BlendsAtBest, kinds: &[StrandPart]) -> AtBest {
        let lengths = match self.may_be_compared(kinds) {
            true => [Glimpse::NotTold, self.gauge_of_any()],
            false => [Glimpse::NotJudged, self.without_length()],
        };
        self.strand_at_best((lengths, true), blends, self.by_finish(kinds))
    }

    /// The same of strands of two kinds, of which one has this mass and both have one from
    /// `low` to `high`: their shares lie between those at either end.
    pub fn of_strand_shares(
        &self,
        [one, other]: &[StrandPart; 2],
        (low, high): (f64, f64),
    ) -> AtBest {
        let kinds = [*one, *other];
        let fibre = [low, high].map(|mass| {
            let other = other.of_mass((mass - one.mass).max(0.0));
            Self::fibres_of(&[*one, other], one.mass + other.mass)
        });
        let blends = match fibre {
            [Some(low), Some(high)] if self.wanted.facts.blend.is_some() => {
                let each = [low, high].into_iter();
                let least = parts_at_least(each, &self.fibres, self.wanted);
                self.of_blends(&kinds, Glimpse::Departs(rounded(least)))
            }
            _ => self.of_blends(&kinds, Glimpse::NotJudged),
        };
        self.of_strand_kinds(&blends, &kinds)
    }

    /// The mass of a metre that is wanted, where it is known.
    pub fn wanted_mass(&self) -> Option<f64> {
        self.grist.map(|(wanted, _)| 1.0 / wanted)
    }

    /// From which to which mass of a metre of all a strand of these kinds, which do no
    /// better than `at_best`, has a place beside `worst`; from none to any where every
    /// mass may have one.
    pub fn masses(
        &self,
        kinds: &[StrandPart],
        at_best: AtBest,
        worst: Option<AtBest>,
    ) -> (f64, f64) {
        let any = (0.0, f64::INFINITY);
        let (Some((wanted, tolerance)), Some(worst)) = (self.grist, worst) else {
            return any;
        };
        let Some(farthest) = self.farthest(kinds, at_best, worst) else {
            return any;
        };
        let reach = farthest * tolerance * (1.0 + WIDER) + wanted * ROUNDED;
        // Where a density is not known only the length counts.
        let known = kinds.iter().filter_map(StrandPart::density_of_known);
        let thick = known.zip(std::iter::repeat(self.density));
        let ratios = thick.filter_map(|(own, wanted)| Some(own / wanted?));
        let (thin, thick) = ratios.fold((1.0_f64, 1.0_f64), |(low, high), ratio| {
            (low.min(ratio), high.max(ratio))
        });
        let (low, high) = ((wanted - reach) / thick, (wanted + reach) / thin);
        let heaviest = if low > 0.0 { 1.0 / low } else { f64::INFINITY };
        (1.0 / high * (1.0 - WIDER), heaviest * (1.0 + WIDER))
    }

    /// How far, in tolerances, the length per mass may depart: D^2 is a + b g^2. None
    /// where it may by anything.
    fn farthest(&self, kinds: &[StrandPart], at_best: AtBest, worst: AtBest) -> Option<f64> {
        let (wanted, tolerance) = self.grist?;
        let of_grist = |each| if each == Criterion::Grist { 1.0 } else { 0.0 };
        let counted = Criterion::ALL.into_iter();
        let counted = counted.filter(|each| self.is_asked(*each));
        let counted = counted.map(|each| (each, of_grist(each)));
        let share = overall(counted, &self.settings.weights).map_or(0.0, |all| all.powi(2));
        let as_good = match share > 0.0 {
            true => {
                let more = (worst.least.powi(2) - at_best.least.powi(2)).max(0.0);
                (more / share).sqrt() + ROUNDED * 1e3
            }
            false => f64::INFINITY,
        };
        // How far a better verdict reaches, and the same one.
        let within = 1.0 + WIDER;
        let liked = within.max(widest_around(wanted) / tolerance * within);
        let (better, same) = match worst.verdict {
            Verdict::ShouldWork => (0.0, within),
            Verdict::CouldWork => (within, liked),
            Verdict::CannotSay => (liked, liked),
            Verdict::WillNotWork => (liked, f64::INFINITY),
        };
        let farthest = match at_best.verdict < worst.verdict {
            true => as_good.min(same).max(better),
            false => as_good.min(same),
        };
        let otherwise = self.strand_verdict(([Glimpse::NotJudged, self.without_length()], true));
        let is_told = worst.verdict < otherwise || self.are_always_compared(kinds);
        Some(farthest).filter(|farthest| is_told && farthest.is_finite())
    }

    fn gauge_of_any(&self) -> Glimpse {
        match self.knows_gauge() {
            true => Glimpse::NotTold,
            false => Glimpse::NotJudged,
        }
    }

    /// Gauge of a strand whose length per mass is not compared.
    fn without_length(&self) -> Glimpse {
        match self.look_at_gauge() || !self.knows_gauge() {
            true => Glimpse::NotJudged,
            false => Glimpse::NotTold,
        }
    }

    /// How strands of these yarns may count as built, by the share of the smooth ones.
    fn built_as_compared(parts: &[StrandPart]) -> impl Iterator<Item = Construction> {
        let is_smooth = |part: &StrandPart| part.finish.0.is_none_or(Construction::is_smooth);
        let plied = parts.iter().any(is_smooth).then_some(Construction::Plied);
        let are_smooth = parts.iter().all(is_smooth);
        let built = (!are_smooth).then(|| built_of(parts).unwrap_or(Construction::Plied));
        plied.into_iter().chain(built)
    }

    fn may_be_compared(&self, parts: &[StrandPart]) -> bool {
        let wanted = built_as_compared(&self.wanted.facts);
        Self::built_as_compared(parts).any(|built| wanted.comparable_by_grist(built))
    }

    fn are_always_compared(&self, parts: &[StrandPart]) -> bool {
        let wanted = built_as_compared(&self.wanted.facts);
        Self::built_as_compared(parts).all(|built| wanted.comparable_by_grist(built))
    }
}
