//! How well several yarns held together can do at best, told from a few numbers of each:
//! so that of millions of pairs only those are judged that may have a place.
//!
//! Sums over a metre of each: masses add, and the mean of a property of the fibres is
//! sum(m p v) / sum(m p), m the mass of a metre, p the shares of fibres that have a value.

use super::{AtBest, Bounds, WIDER, kind::Glimpse};
use crate::{
    matching::{
        Criterion, Verdict,
        care::departs_by,
        construction::construction_departure,
        criterion::is_within,
        fibre::{MOST_PARTS, PartSums, parts_at_least, sums},
        grist::{built_as_compared, grist_departure},
        judgement::overall,
        prediction::{gauge_ratio, is_predictable},
        settings::widest_around,
    },
    record::{Blend, Care, built_together, washed_together},
    trade::Construction,
};

/// One yarn of a strand, in the numbers that decide how the strand is judged.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StrandPart {
    /// Grams in a metre.
    pub mass: f64,
    fibres: Option<Fibres>,
    built: Option<Construction>,
    care: Option<Care>,
}

/// Sums of what is known of a blend: of 1 / density, and of each property that counts.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Fibres {
    volume: PartSums,
    parts: [PartSums; MOST_PARTS],
}

/// By so much a departure is made smaller than computed, since sums in another order
/// round otherwise.
const ROUNDED: f64 = 1e-9;

impl Bounds<'_> {
    /// One yarn of so many metres per gram.
    pub fn strand_part(
        &self,
        grist: f64,
        (blend, built, care): (Option<&Blend>, Option<Construction>, Option<Care>),
    ) -> StrandPart {
        let fibres = blend.map(|blend| Fibres {
            volume: PartSums::of(blend, |fibre| Some(1.0 / fibre.density.value)),
            parts: sums(blend, self.wanted.purpose),
        });
        StrandPart {
            mass: 1.0 / grist,
            fibres,
            built,
            care,
        }
    }

    /// What a strand of these yarns does at best.
    pub fn of_strand(&self, parts: &[StrandPart]) -> AtBest {
        let mass: f64 = parts.iter().map(|part| part.mass).sum();
        let grist = (1.0 / mass, self.is_compared(parts, mass));
        let density = self.density_of(parts, mass).zip(self.density);
        let by_grist = self.by_length(grist, density);
        let by_gauge = self.by_thickness(grist, density);
        let glimpses = [
            by_grist,
            by_gauge,
            Glimpse::NotTold,
            self.by_fibre(parts, mass),
            self.by_build(parts),
            self.by_care(parts),
        ];
        let has_blends = parts.iter().all(|part| part.fibres.is_some());
        AtBest {
            verdict: self.strand_verdict(&glimpses, (has_blends, grist.0, density)),
            least: rounded(self.strand_overall(&glimpses)),
        }
    }

    /// What no strand of yarns of these kinds beats, however thick they are.
    pub fn of_strand_kinds(&self, kinds: &[StrandPart]) -> AtBest {
        let fibres: Option<Vec<Fibres>> = kinds.iter().map(|kind| kind.fibres).collect();
        let fibre = match (fibres, &self.wanted.facts.blend) {
            (Some(fibres), Some(_)) => {
                let each: Vec<_> = fibres.iter().map(|it| it.parts).collect();
                let least = parts_at_least(&each, self.fibre_reference(), self.wanted);
                Glimpse::Departs(rounded(least))
            }
            _ => Glimpse::NotTold,
        };
        let glimpses = [
            Glimpse::NotTold,
            Glimpse::NotTold,
            Glimpse::NotTold,
            fibre,
            self.by_build(kinds),
            self.by_care(kinds),
        ];
        let is_outside = glimpses.iter().any(Glimpse::is_beyond);
        let has_blends = kinds.iter().all(|kind| kind.fibres.is_some());
        AtBest {
            verdict: match is_outside || !has_blends && self.is_asked(Criterion::Fibre) {
                true => Verdict::CouldWork,
                false => Verdict::ShouldWork,
            },
            least: rounded(self.strand_overall(&glimpses)),
        }
    }

    /// The mass of a metre that is wanted, where it is known.
    pub fn wanted_mass(&self) -> Option<f64> {
        self.grist.map(|(wanted, _)| 1.0 / wanted)
    }

    /// From which to which mass of a metre of all a strand of these kinds has a place
    /// beside `worst`; from none to any where every mass may have one.
    pub fn masses(&self, kinds: &[StrandPart], worst: Option<AtBest>) -> (f64, f64) {
        let any = (0.0, f64::INFINITY);
        let (Some((wanted, tolerance)), Some(worst)) = (self.grist, worst) else {
            return any;
        };
        let Some(farthest) = self.farthest(self.of_strand_kinds(kinds).least, worst) else {
            return any;
        };
        let reach = farthest * tolerance * (1.0 + WIDER) + wanted * ROUNDED;
        let thick = kinds
            .iter()
            .map(|kind| Some(kind.density()? / self.density?));
        let thick: Option<Vec<f64>> = thick.collect();
        // Where a density is not known only the length counts.
        let (thin, thick) = thick
            .unwrap_or_default()
            .iter()
            .fold((1.0_f64, 1.0_f64), |(low, high), ratio| {
                (low.min(*ratio), high.max(*ratio))
            });
        let (low, high) = ((wanted - reach) / thick, (wanted + reach) / thin);
        let heaviest = if low > 0.0 { 1.0 / low } else { f64::INFINITY };
        (1.0 / high * (1.0 - WIDER), heaviest * (1.0 + WIDER))
    }

    /// How far, in tolerances, the length per mass may depart: D^2 is a + b g^2. None
    /// where it may by anything.
    fn farthest(&self, least: f64, worst: AtBest) -> Option<f64> {
        let of_grist = |grist| {
            let counted = Criterion::ALL
                .into_iter()
                .filter(|each| self.is_asked(*each));
            let counted = counted.map(|each| match each {
                Criterion::Grist => (each, grist),
                other => (other, 0.0),
            });
            overall(counted, &self.settings.weights).unwrap_or(0.0)
        };
        let share = of_grist(1.0).powi(2);
        let most = ((worst.least.powi(2) - least.powi(2)).max(0.0) / share).sqrt() + ROUNDED * 1e3;
        match worst.verdict {
            _ if share <= 0.0 => None,
            Verdict::ShouldWork => Some(most),
            // One that should work has a place whatever its departure.
            Verdict::CouldWork => Some(most.max(1.0 + WIDER)),
            Verdict::CannotSay | Verdict::WillNotWork => None,
        }
    }

    fn fibre_reference(&self) -> [PartSums; MOST_PARTS] {
        let blend = self.wanted.facts.blend.as_ref();
        blend.map_or([PartSums::default(); MOST_PARTS], |blend| {
            sums(&blend.value, self.wanted.purpose)
        })
    }

    /// Whether the length per mass of a strand says something beside what is wanted.
    fn is_compared(&self, parts: &[StrandPart], mass: f64) -> bool {
        let is_smooth = |part: &&StrandPart| part.built.is_none_or(Construction::is_smooth);
        let smooth: f64 = parts.iter().filter(is_smooth).map(|part| part.mass).sum();
        let built = match smooth >= (0.5 - 2.0 * ROUNDED) * mass {
            true => Construction::Plied,
            false => {
                built_together(parts.iter().map(|part| part.built)).unwrap_or(Construction::Plied)
            }
        };
        built_as_compared(&self.wanted.facts).comparable_by_grist(built)
    }

    fn density_of(&self, parts: &[StrandPart], mass: f64) -> Option<f64> {
        let mut all = PartSums::default();
        for part in parts {
            all = all.with(part.fibres?.volume, part.mass);
        }
        all.mean(mass).map(|volume| 1.0 / volume)
    }

    fn by_length(&self, (grist, is_compared): (f64, bool), densities: Densities) -> Glimpse {
        match self.grist.filter(|_| is_compared) {
            Some((wanted, tolerance)) => Glimpse::Departs(rounded(grist_departure(
                (grist, wanted),
                densities,
                tolerance,
            ))),
            None => Glimpse::NotJudged,
        }
    }

    fn by_thickness(&self, (grist, is_compared): (f64, bool), densities: Densities) -> Glimpse {
        if !self.knows_gauge() {
            return Glimpse::NotJudged;
        }
        if !self.gauge_is_on_label {
            return Glimpse::NotTold;
        }
        let grists = self.grist.map(|(wanted, _)| (grist, wanted));
        match grists.filter(|grists| is_compared && is_predictable(*grists)) {
            Some(grists) => {
                let ratio = gauge_ratio(grists, densities.unwrap_or((1.0, 1.0)));
                Glimpse::Departs(rounded(self.gauge_departure(ratio, true)))
            }
            None => Glimpse::NotJudged,
        }
    }

    fn by_fibre(&self, parts: &[StrandPart], mass: f64) -> Glimpse {
        if !self.is_asked(Criterion::Fibre) {
            return Glimpse::NotAsked;
        }
        if self.wanted.facts.blend.is_none() {
            return Glimpse::NotJudged;
        }
        let mut all = [PartSums::default(); MOST_PARTS];
        for part in parts {
            let Some(fibres) = part.fibres else {
                return Glimpse::NotJudged;
            };
            for (sum, own) in all.iter_mut().zip(fibres.parts) {
                *sum = sum.with(own, part.mass);
            }
        }
        let all = all.map(|sum| sum.over(mass));
        let least = parts_at_least(&[all], self.fibre_reference(), self.wanted);
        Glimpse::Departs(rounded(least))
    }

    fn by_build(&self, parts: &[StrandPart]) -> Glimpse {
        let wanted = self.wanted.facts.construction.as_ref();
        let wanted = wanted.map_or(Construction::Plied, |printed| printed.value);
        match built_together(parts.iter().map(|part| part.built)) {
            Some(built) => Glimpse::Departs(construction_departure(built, wanted)),
            None => Glimpse::NotJudged,
        }
    }

    fn by_care(&self, parts: &[StrandPart]) -> Glimpse {
        match (
            self.wanted.care,
            washed_together(parts.iter().map(|part| part.care)),
        ) {
            (None, _) => Glimpse::NotAsked,
            (Some(asked), Some(care)) => Glimpse::Departs(departs_by(asked, care)),
            (Some(_), None) => Glimpse::NotTold,
        }
    }

    fn strand_overall(&self, glimpses: &[Glimpse; 6]) -> f64 {
        let each = Criterion::ALL.into_iter().zip(glimpses);
        let asked = each.filter(|(criterion, _)| self.is_asked(*criterion));
        let counted =
            asked.map(|(criterion, glimpse)| (criterion, glimpse.counted().unwrap_or(0.0)));
        overall(counted, &self.settings.weights).unwrap_or(0.0)
    }

    /// No better than this, as no condition of a rule or of a label is looked at.
    fn strand_verdict(
        &self,
        glimpses: &[Glimpse; 6],
        (has_blends, grist, densities): (bool, f64, Densities),
    ) -> Verdict {
        let [by_grist, gauge, ..] = *glimpses;
        let is_held_back = !has_blends && self.is_asked(Criterion::Fibre);
        let is_outside = is_held_back || glimpses.iter().any(Glimpse::is_beyond);
        match by_grist.departure() {
            None if gauge == Glimpse::NotJudged => Verdict::CannotSay,
            None => Verdict::CouldWork,
            Some(found) if is_within(found) && !is_outside => Verdict::ShouldWork,
            Some(found) if is_within(found) || self.is_liked(grist, densities) => {
                Verdict::CouldWork
            }
            Some(_) => Verdict::WillNotWork,
        }
    }

    /// Whether it lies within the widest tolerance that is published.
    fn is_liked(&self, grist: f64, densities: Densities) -> bool {
        self.grist.is_some_and(|(wanted, _)| {
            let widest = widest_around(wanted) * (1.0 + WIDER);
            is_within(grist_departure((grist, wanted), densities, widest))
        })
    }
}

impl StrandPart {
    /// The same of another mass per metre.
    #[must_use]
    pub fn of_mass(self, mass: f64) -> Self {
        Self { mass, ..self }
    }

    fn density(&self) -> Option<f64> {
        let volume = self.fibres?.volume.mean(1.0)?;
        Some(1.0 / volume)
    }
}

/// Densities of the strand and of what is wanted, where both are known.
type Densities = Option<(f64, f64)>;

fn rounded(departure: f64) -> f64 {
    (departure - ROUNDED).max(0.0)
}
