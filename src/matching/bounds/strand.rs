//! How well several yarns held together can do at best, told from a few numbers of each:
//! so that of millions of pairs only those are judged that may have a place. Many of them
//! at once are bounded in `strand_kinds`.
//!
//! Sums over a metre of each: masses add, and the mean of a property of the fibres is
//! sum(m p v) / sum(m p), m the mass of a metre, p the shares of fibres that have a value.

use super::{AtBest, Bounds, WIDER, kind::Glimpse};
use crate::{
    matching::{
        Criterion, Severity, Verdict,
        care::departs_by,
        construction::construction_departure,
        criterion::is_within,
        fibre::{MOST_PARTS, PartSums, parts_at_least, sums},
        grist::{built_as_compared, grist_departure},
        judge::with_severity,
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
    /// What counts of its blend.
    pub blend: StrandBlend,
    /// How it is built and washed.
    pub finish: StrandFinish,
}

/// What counts of a blend: the same of two between which a question does not tell.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StrandBlend {
    pub(super) fibres: Option<Fibres>,
    /// Whether the purpose is wary of it.
    is_capped: bool,
    severity: Severity,
}

/// How a yarn is built and, where that counts, washed.
pub type StrandFinish = (Option<Construction>, Option<Care>);

/// Sums of what is known of a blend: of 1 / density, and of each property that counts.
/// All 0 where no fibre is wanted.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Fibres {
    volume: PartSums,
    pub(super) parts: [PartSums; MOST_PARTS],
}

/// What blends make of every strand of them, in whatever shares.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BlendsAtBest {
    fibre: Glimpse,
    is_held_back: bool,
    severity: Severity,
}

/// By so much a departure is made smaller than computed, since sums in another order
/// round otherwise.
pub(super) const ROUNDED: f64 = 1e-9;

impl Bounds<'_> {
    /// What counts of a blend.
    pub fn strand_blend(&self, blend: Option<&Blend>) -> StrandBlend {
        let is_wanted = self.wanted.facts.blend.is_some();
        let (is_capped, severity) = self.by_rules_of_blend(blend);
        let fibres = blend.map(|blend| match is_wanted {
            true => Fibres {
                volume: PartSums::of(blend, |fibre| Some(1.0 / fibre.density.value)),
                parts: sums(blend, self.wanted.purpose),
            },
            false => Fibres::default(),
        });
        StrandBlend {
            fibres,
            is_capped,
            severity,
        }
    }

    /// What counts of how a yarn is built and washed.
    pub fn strand_finish(&self, built: Option<Construction>, care: Option<Care>) -> StrandFinish {
        (built, care.filter(|_| self.wanted.care.is_some()))
    }

    /// What a strand of these yarns does at best.
    pub fn of_strand(&self, parts: &[StrandPart]) -> AtBest {
        let mass: f64 = parts.iter().map(|part| part.mass).sum();
        let grist = (1.0 / mass, self.is_compared(parts, mass));
        let density = self.density_of(parts, mass).zip(self.density);
        let blends = self.of_blends(parts, self.by_fibre(parts, mass));
        let lengths = [
            self.by_length(grist, density),
            self.by_thickness(grist, density),
        ];
        let is_liked = self.is_liked(grist.0, density);
        self.strand_at_best((lengths, is_liked), &blends, self.by_finish(parts))
    }

    /// Whether the length per mass of a strand says something beside what is wanted.
    fn is_compared(&self, parts: &[StrandPart], mass: f64) -> bool {
        let is_smooth = |part: &&StrandPart| part.finish.0.is_none_or(Construction::is_smooth);
        let smooth: f64 = parts.iter().filter(is_smooth).map(|part| part.mass).sum();
        let built = match smooth >= (0.5 - 2.0 * ROUNDED) * mass {
            true => Construction::Plied,
            false => built_of(parts).unwrap_or(Construction::Plied),
        };
        built_as_compared(&self.wanted.facts).comparable_by_grist(built)
    }

    fn density_of(&self, parts: &[StrandPart], mass: f64) -> Option<f64> {
        let mut all = PartSums::default();
        for part in parts {
            all = all.with(part.blend.fibres?.volume, part.mass);
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
        if self.wanted.facts.blend.is_none() {
            return Glimpse::NotJudged;
        }
        match Self::fibres_of(parts, mass) {
            Some(all) => {
                let all = std::iter::once(all);
                Glimpse::Departs(rounded(parts_at_least(all, &self.fibres, self.wanted)))
            }
            None => Glimpse::NotJudged,
        }
    }

    /// The sums of all, of a mass of 1; nothing where a blend is not known.
    pub(super) fn fibres_of(parts: &[StrandPart], mass: f64) -> Option<[PartSums; MOST_PARTS]> {
        let mut all = [PartSums::default(); MOST_PARTS];
        for part in parts {
            for (sum, own) in all.iter_mut().zip(part.blend.fibres?.parts) {
                *sum = sum.with(own, part.mass);
            }
        }
        Some(all.map(|sum| sum.over(mass)))
    }

    /// What the rules make of blends: of shares no more is said than of each alone.
    pub(super) fn of_blends(&self, parts: &[StrandPart], fibre: Glimpse) -> BlendsAtBest {
        let mut blends = parts.iter().map(|part| part.blend);
        let are_known = blends.clone().all(|blend| blend.fibres.is_some());
        let severities = blends.clone().map(|blend| blend.severity);
        BlendsAtBest {
            fibre,
            severity: severities.min().unwrap_or(Severity::Beside),
            is_held_back: blends.all(|blend| blend.is_capped)
                || !are_known && self.is_asked(Criterion::Fibre),
        }
    }

    pub(super) fn by_finish(&self, parts: &[StrandPart]) -> [Glimpse; 2] {
        [self.by_build(parts), self.by_care(parts)]
    }

    fn by_build(&self, parts: &[StrandPart]) -> Glimpse {
        let wanted = self.wanted.facts.construction.as_ref();
        let wanted = wanted.map_or(Construction::Plied, |printed| printed.value);
        match built_of(parts) {
            Some(built) => Glimpse::Departs(construction_departure(built, wanted)),
            None => Glimpse::NotJudged,
        }
    }

    /// What is not known counts as what is not judged or more.
    fn by_care(&self, parts: &[StrandPart]) -> Glimpse {
        let Some(asked) = self.wanted.care else {
            return Glimpse::NotAsked;
        };
        match washed_together(parts.iter().map(|part| part.finish.1)) {
            Some(care) => Glimpse::Departs(departs_by(asked, care)),
            None => Glimpse::NotJudged,
        }
    }

    pub(super) fn strand_at_best(
        &self,
        (lengths, is_liked): ([Glimpse; 2], bool),
        blends: &BlendsAtBest,
        [build, care]: [Glimpse; 2],
    ) -> AtBest {
        let class = match self.is_never_judged(Criterion::WeightClass) {
            true => Glimpse::NotJudged,
            false => Glimpse::NotTold,
        };
        let [grist, gauge] = lengths;
        let glimpses = [grist, gauge, class, blends.fibre, build, care];
        let is_outside = blends.is_held_back
            || glimpses.iter().any(Glimpse::is_beyond)
            || gauge == Glimpse::NotJudged && class == Glimpse::NotJudged;
        let verdict = match (self.strand_verdict((lengths, is_liked)), is_outside) {
            (Verdict::ShouldWork, true) => Verdict::CouldWork,
            (verdict, _) => verdict,
        };
        AtBest {
            verdict: with_severity(verdict, blends.severity),
            least: rounded(self.strand_overall(&glimpses)),
        }
    }

    #[inline]
    fn strand_overall(&self, glimpses: &[Glimpse; 6]) -> f64 {
        let each = Criterion::ALL.into_iter().zip(glimpses);
        let asked = each.filter(|(criterion, _)| self.is_asked(*criterion));
        let counted =
            asked.map(|(criterion, glimpse)| (criterion, glimpse.counted().unwrap_or(0.0)));
        overall(counted, &self.settings.weights).unwrap_or(0.0)
    }

    /// What length per mass and gauge leave of the verdict.
    pub(super) fn strand_verdict(
        &self,
        ([by_grist, gauge], is_liked): ([Glimpse; 2], bool),
    ) -> Verdict {
        match by_grist {
            Glimpse::NotJudged if gauge == Glimpse::NotJudged => Verdict::CannotSay,
            Glimpse::NotJudged => Verdict::CouldWork,
            Glimpse::Departs(found) if !is_within(found) => match is_liked {
                true => Verdict::CouldWork,
                false => Verdict::WillNotWork,
            },
            _ => Verdict::ShouldWork,
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

    /// Density of those fibres whose density is known, however little of the yarn they
    /// are: beside another yarn they may be enough, and that of a strand lies between
    /// those of its yarns.
    pub(super) fn density_of_known(&self) -> Option<f64> {
        let volume = self.blend.fibres?.volume.mean_of_known()?;
        Some(1.0 / volume)
    }
}

/// Densities of the strand and of what is wanted, where both are known.
type Densities = Option<(f64, f64)>;

pub(super) fn built_of(parts: &[StrandPart]) -> Option<Construction> {
    built_together(parts.iter().map(|part| part.finish.0))
}

pub(super) fn rounded(departure: f64) -> f64 {
    (departure - ROUNDED).max(0.0)
}
