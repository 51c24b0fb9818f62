//! What one yarn does at best, told from all that stands of it in the index: how far
//! it departs exactly, and a verdict that it does not beat.

use super::{
    super::{
        Criterion, Severity, Verdict,
        expected_gauge::label_reference,
        judgement::overall,
        known_gauge::of_label_gauge,
        prediction::{gauge_ratio, is_predictable},
        terms::{in_tolerances, is_within},
        verdict::is_soft,
    },
    AtBest, Bounds, KindBound,
    kind::Glimpse,
    ratio,
};
use crate::record::StatedGauge;

impl Bounds<'_> {
    /// What a yarn of this kind, length per mass, m/g, and label gauge does at best,
    /// of which there is no swatch.
    pub fn at_best(
        &self,
        kind: &KindBound,
        grist: Option<f64>,
        gauge: Option<&StatedGauge>,
    ) -> AtBest {
        let grist = grist.filter(|_| kind.is_comparable);
        let glimpses = self.glimpses(kind, grist, gauge);
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
        let by_grist = self.grist.zip(grist);
        let by_grist = by_grist.map(|((g, tolerance), grist)| in_tolerances(grist - g, tolerance));
        [
            by_grist.map_or(Glimpse::NotJudged, Glimpse::Departs),
            self.by_gauge(kind, grist, gauge),
            kind.class,
            kind.fibre,
            kind.construction,
            kind.care,
        ]
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
            Some(ratio(own.found.per_10_cm, reference.found.per_10_cm))
        });
        let ratio = ratio.or_else(|| {
            let grists = (grist?, self.grist?.0);
            let densities = kind.density.zip(self.density).unwrap_or((1.0, 1.0));
            is_predictable(grists).then(|| gauge_ratio(grists, densities))
        });
        ratio.map_or(Glimpse::NotJudged, |ratio| {
            Glimpse::Departs(self.gauge_departure(ratio))
        })
    }

    fn overall(&self, glimpses: &[Glimpse; 6]) -> f64 {
        let weights = &self.settings.weights;
        let each = || Criterion::ALL.into_iter().zip(glimpses);
        let not_told = each().filter(|(_, glimpse)| **glimpse == Glimpse::NotTold);
        let departures = each().filter_map(|(criterion, glimpse)| {
            let departure = glimpse.departure()?;
            Some((criterion, departure))
        });
        let unseen = not_told.map(|(criterion, _)| weights.of(criterion)).sum();
        overall(departures, weights, unseen).unwrap_or(f64::INFINITY)
    }

    fn verdict(&self, kind: &KindBound, glimpses: &[Glimpse; 6], grist: Option<f64>) -> Verdict {
        let [by_grist, gauge, class, soft @ ..] = *glimpses;
        let mut others = soft.into_iter().chain([class]);
        let is_far = others
            .clone()
            .filter_map(Glimpse::departure)
            .any(|departure| !is_soft(departure));
        let is_outside = others.any(Glimpse::is_beyond) || gauge.is_beyond();
        let says_nothing = gauge == Glimpse::NotJudged;
        let is_enough = !says_nothing || class != Glimpse::NotJudged;
        let verdict = match by_grist.departure() {
            None if says_nothing || is_far => Verdict::CannotSay,
            None => Verdict::CouldWork,
            Some(departure) if is_within(departure) && !is_far => {
                if is_outside || !is_enough {
                    Verdict::CouldWork
                } else {
                    Verdict::ShouldWork
                }
            }
            Some(_) if grist.is_some_and(|g| self.strands_meet((g, g))) => Verdict::CouldWork,
            Some(_) => Verdict::WillNotWork,
        };
        match kind.severity {
            Severity::Beside => verdict,
            Severity::Withholds => verdict.max(Verdict::CannotSay),
            Severity::Forbids => Verdict::WillNotWork,
        }
    }
}
