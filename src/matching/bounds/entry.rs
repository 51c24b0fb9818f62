//! What one yarn does at best, told from all that stands of it in the index: how far
//! it departs exactly, and a verdict that it does not beat.

use super::{AtBest, Bounds, KindBound, Range, WIDER, kind::Glimpse, ratio};
use crate::{
    matching::{
        Criterion, Verdict,
        criterion::is_within,
        expected_gauge::label_reference,
        grist::{as_thick_as, grist_departure},
        judge::with_severity,
        judgement::overall,
        known_gauge::of_label_gauge,
        prediction::{gauge_ratio, is_predictable},
        settings::widest_around,
    },
    record::StatedGauge,
};

impl Bounds<'_> {
    /// What a yarn of this kind, length per mass, m/g, and label gauge does at best,
    /// of which there is no swatch.
    pub fn at_best(
        &self,
        kind: &KindBound,
        grist: Option<f64>,
        gauge: Option<&StatedGauge>,
    ) -> AtBest {
        let glimpses = self.glimpses(kind, grist, gauge);
        let grist = grist.filter(|_| kind.is_comparable);
        AtBest {
            verdict: self.verdict(kind, &glimpses, grist),
            least: self.overall(&glimpses),
        }
    }

    /// In the order of [`Criterion::ALL`].
    fn glimpses(
        &self,
        kind: &KindBound,
        grist: Option<f64>,
        gauge: Option<&StatedGauge>,
    ) -> [Glimpse; 6] {
        [
            self.by_grist(kind, grist),
            self.by_gauge(kind, grist.filter(|_| kind.is_comparable), gauge),
            kind.class,
            kind.fibre,
            kind.construction,
            kind.care,
        ]
    }

    fn by_grist(&self, kind: &KindBound, grist: Option<f64>) -> Glimpse {
        match self.grist.zip(grist) {
            None => Glimpse::NotJudged,
            Some(_) if !kind.is_comparable => Glimpse::NotComparable,
            Some(((g, tolerance), grist)) => {
                let grists = (grist, g);
                Glimpse::Departs(grist_departure(grists, self.densities(kind), tolerance))
            }
        }
    }

    fn by_gauge(
        &self,
        kind: &KindBound,
        grist: Option<f64>,
        gauge: Option<&StatedGauge>,
    ) -> Glimpse {
        if !self.knows_gauge() {
            return Glimpse::NotJudged;
        }
        if !self.gauge_is_on_label {
            return Glimpse::NotTold;
        }
        let ratio = gauge.and_then(|gauge| {
            let own = of_label_gauge(gauge, 1);
            let reference = label_reference(&own, self.pattern.as_ref(), self.label.as_ref())?;
            let is_predicted = own.is_predicted || reference.is_predicted;
            Some((
                ratio(own.found.per_10_cm, reference.found.per_10_cm),
                is_predicted,
            ))
        });
        let ratio = ratio.or_else(|| {
            let grists = (grist?, self.grist?.0);
            let densities = self.densities(kind).unwrap_or((1.0, 1.0));
            is_predictable(grists).then(|| (gauge_ratio(grists, densities), true))
        });
        ratio.map_or(Glimpse::NotJudged, |(ratio, is_predicted)| {
            Glimpse::Departs(self.gauge_departure(ratio, is_predicted))
        })
    }

    fn overall(&self, glimpses: &[Glimpse; 6]) -> f64 {
        let each = Criterion::ALL.into_iter().zip(glimpses);
        let counted = each.filter_map(|(criterion, glimpse)| Some((criterion, glimpse.counted()?)));
        overall(counted, &self.settings.weights).unwrap_or(0.0)
    }

    /// Densities of a kind and of what is wanted, where both are known.
    pub(super) fn densities(&self, kind: &KindBound) -> Option<(f64, f64)> {
        kind.density.zip(self.density)
    }

    /// Conditions are looked at only so far that they never speak better of a yarn
    /// than it deserves, not of what a rule or a remedy makes of it.
    fn verdict(&self, kind: &KindBound, glimpses: &[Glimpse; 6], grist: Option<f64>) -> Verdict {
        let [by_grist, gauge, class, ..] = *glimpses;
        let is_outside = kind.is_held_back || glimpses.iter().any(Glimpse::is_beyond);
        let is_enough = gauge != Glimpse::NotJudged || class != Glimpse::NotJudged;
        let verdict = match by_grist.departure() {
            None if gauge == Glimpse::NotJudged => Verdict::CannotSay,
            None => Verdict::CouldWork,
            Some(departure) if is_within(departure) => {
                if is_outside || !is_enough {
                    Verdict::CouldWork
                } else {
                    Verdict::ShouldWork
                }
            }
            Some(_) if grist.is_some_and(|g| self.may_be_liked(g, self.densities(kind))) => {
                Verdict::CouldWork
            }
            Some(_) if grist.is_some_and(|g| self.strands_meet(self.reach(g, kind))) => {
                Verdict::CouldWork
            }
            Some(_) => Verdict::WillNotWork,
        };
        with_severity(verdict, kind.severity)
    }

    /// Whether a length per mass beyond the tolerance lies within the widest that is
    /// published, by what counts.
    fn may_be_liked(&self, grist: f64, densities: Option<(f64, f64)>) -> bool {
        self.grist.is_some_and(|(wanted, _)| {
            let widest = widest_around(wanted) * (1.0 + WIDER);
            is_within(grist_departure((grist, wanted), densities, widest))
        })
    }

    /// From one to the other of a length per mass and that at equal thickness.
    fn reach(&self, grist: f64, kind: &KindBound) -> Range {
        let thick = as_thick_as(grist, self.densities(kind)).unwrap_or(grist);
        (grist.min(thick), grist.max(thick))
    }
}
