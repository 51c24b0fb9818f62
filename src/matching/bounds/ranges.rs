//! Ranges of length per mass and of gauge, and what the yarns in each, and those in
//! none, do at best.

use super::{AtBest, Bounds, KindBound, WIDER, band, meets, ratio};
use crate::{
    matching::{
        Criterion, Verdict,
        criterion::{SEVERAL_STRANDS, in_tolerances, is_within},
        fibre::is_asked as is_fibre_asked,
        gauge::tolerance_on,
        grist::{DENSER, as_thick_as},
        judgement::{NOT_JUDGED, overall},
        known_gauge::KnownGauge,
        settings::widest_around,
    },
    measure::Interval,
    trade::FIBRES,
};

/// Yarns from one length per mass, m/g, or gauge, stitches over 10 cm, to another,
/// which is not among them.
pub type Range = (f64, f64);

/// The least and the most that yarns are denser than what is wanted, as ratios.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thickness {
    least: f64,
    most: f64,
}

impl Thickness {
    /// Of yarns that are as dense.
    pub const EQUAL: Self = Self::of_ratio(1.0);

    const fn of_ratio(ratio: f64) -> Self {
        Self {
            least: ratio,
            most: ratio,
        }
    }

    /// Of yarns of a kind; equal where their density does not count.
    pub fn of(kind: &KindBound, bounds: &Bounds<'_>) -> Self {
        let densities = bounds.densities(kind).filter(|_| bounds.grist.is_some());
        as_thick_as(1.0, densities).map_or(Self::EQUAL, Self::of_ratio)
    }

    /// Of these yarns and others.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self {
            least: self.least.min(other.least),
            most: self.most.max(other.most),
        }
    }

    /// At which of the steps, each `DENSER` times the one before, the least is.
    pub fn step(self) -> i64 {
        let mut step = 0;
        let mut ratio = self.least.max(1.0 / self.least);
        while ratio > DENSER && step < MOST_STEPS {
            ratio /= DENSER;
            step += 1;
        }
        if self.least < 1.0 { -step } else { step }
    }

    /// Length per mass at equal thickness.
    fn reach(self, (low, high): Range) -> Range {
        (low * self.least, high * self.most)
    }
}

/// More steps than lie between any two fibres.
const MOST_STEPS: i64 = 100;

/// How many times farther each further range reaches.
const FARTHER: f64 = 1.5;

/// Ranges get no wider than this: hardly any length per mass or gauge is farther off.
const FARTHEST: f64 = 1e3;

/// More than any length per mass or gauge.
const END: f64 = 1e9;

impl Bounds<'_> {
    /// The thickness of any yarn.
    pub fn any_thickness(&self) -> Thickness {
        let densities = FIBRES.iter().map(|fibre| fibre.density.value);
        let ratios = densities.filter_map(|density| Some(density / self.density?));
        let each = ratios.map(Thickness::of_ratio);
        each.fold(Thickness::EQUAL, Thickness::and)
    }

    /// Ranges of length per mass that hold all yarns, and what those that can be
    /// compared and are so thick do in each at best, departing on fibre by `fibre` or
    /// more; none where no length per mass is wanted.
    pub fn grist_ranges(&self, fibre: f64, thickness: Thickness) -> Vec<(AtBest, Range)> {
        let Some((wanted, tolerance)) = self.grist else {
            return Vec::new();
        };
        let width = (tolerance / 64.0).max(wanted * 1e-4);
        let mut cuts = cuts_around((wanted, wanted), width);
        if thickness != Thickness::EQUAL {
            let ends = (wanted / thickness.most, wanted / thickness.least);
            cuts.extend(cuts_around(ends, width));
        }
        let strands = std::iter::once(1).chain(SEVERAL_STRANDS);
        let bands = strands.map(|strands| band((wanted, tolerance), strands));
        let widest = band((wanted, widest_around(wanted)), 1);
        cuts.extend(bands.chain([widest]).flat_map(|(low, high)| {
            let thick = [low / thickness.most, high / thickness.least];
            thick.into_iter().chain([low, high])
        }));
        ranges(cuts, |range| self.at_grist(range, thickness, fibre))
    }

    /// Plain length per mass counts, or that at equal thickness, whichever is nearer.
    pub(super) fn at_grist(&self, range: Range, thickness: Thickness, fibre: f64) -> AtBest {
        let (wanted, tolerance) = self.grist.unwrap_or((0.0, f64::INFINITY));
        let both = [range, thickness.reach(range)];
        let distances = both.map(|(low, high)| (low - wanted).max(wanted - high).max(0.0));
        let distance = distances.into_iter().fold(f64::INFINITY, f64::min);
        let is_in = |band| both.iter().any(|range| meets(*range, band));
        let verdict = if is_in(band((wanted, tolerance), 1)) {
            self.best_within(fibre)
        } else if is_in(band((wanted, widest_around(wanted)), 1))
            || both.iter().any(|range| self.strands_meet(*range))
        {
            Verdict::CouldWork
        } else {
            Verdict::WillNotWork
        };
        let departure = in_tolerances(distance, tolerance);
        let least = self.least(departure, 0.0, fibre);
        AtBest { verdict, least }
    }

    /// The best verdict on yarns whose length per mass is within its tolerance.
    fn best_within(&self, fibre: f64) -> Verdict {
        let is_enough = self.knows_gauge() || !self.is_never_judged(Criterion::WeightClass);
        if is_enough && is_within(fibre) {
            Verdict::ShouldWork
        } else {
            Verdict::CouldWork
        }
    }

    /// Ranges of the lower end of a label gauge, whose higher end is at most `widest`
    /// times as much, that hold all yarns, and what those whose length per mass is
    /// not judged do in each at best, departing on fibre by `fibre` or more; of other
    /// strands than one only where `widest` is not finite; none where the label's gauge
    /// says nothing.
    pub fn gauge_ranges(&self, widest: f64, fibre: f64) -> Vec<(AtBest, Range)> {
        if !self.knows_gauge() || !self.gauge_is_on_label {
            return Vec::new();
        }
        let tolerance = tolerance_on(self.wanted.fit, false);
        let cuts = self.references().flat_map(|known| {
            let wanted = known.found.per_10_cm;
            let width = wanted.low() * tolerance / 4.0;
            cuts_around((wanted.low() / widest, wanted.high()), width)
        });
        ranges(cuts.collect(), |(low, high)| {
            if widest.is_finite() {
                self.at_gauge((low, high * widest), false, fibre)
            } else {
                self.at_gauge((low, END), true, fibre)
            }
        })
    }

    /// How many stitches over 10 cm a label gauge of one strand reaches at least where a
    /// yarn whose length per mass is not judged, departing on fibre by `fibre` or more,
    /// has a place beside `worst`; none where any does.
    pub fn least_reach(&self, worst: AtBest, fibre: f64) -> Option<f64> {
        if worst.verdict > Verdict::CouldWork {
            return None;
        }
        // D^2 of `least` is a + b s^2, s the departure on gauge
        let square = |gauge| self.least(NOT_JUDGED, gauge, fibre).powi(2);
        let (a, b) = (square(0.0), square(1.0) - square(0.0));
        let farthest = ((worst.least.powi(2) - a).max(0.0) / b).sqrt() + WIDER;
        let ends = self.references().map(|known| {
            let tolerance = tolerance_on(self.wanted.fit, known.is_predicted);
            known.found.per_10_cm.low() * (1.0 - farthest * tolerance) * (1.0 - WIDER)
        });
        ends.min_by(f64::total_cmp).filter(|_| b > WIDER)
    }

    fn references(&self) -> impl Iterator<Item = &KnownGauge> {
        [&self.pattern, &self.label].into_iter().flatten()
    }

    /// A label's gauge of other strands than one, where there may be some, is a
    /// prediction.
    fn at_gauge(&self, (low, high): Range, of_other_strands: bool, fibre: f64) -> AtBest {
        let of = |wanted: &KnownGauge| {
            let range = Interval::between(low * (1.0 - WIDER), high * (1.0 + WIDER));
            let is_predicted = of_other_strands || wanted.is_predicted;
            range.map_or(0.0, |range| {
                self.gauge_departure(ratio(range, wanted.found.per_10_cm), is_predicted)
            })
        };
        let departure = self.references().map(of).fold(f64::INFINITY, f64::min);
        AtBest {
            verdict: Verdict::CouldWork,
            least: self.least(NOT_JUDGED, departure, fibre),
        }
    }

    /// What a yarn without a label gauge, whose length per mass is not judged, does
    /// at best, departing on fibre by `fibre` or more; any such yarn where the
    /// label's gauge does not count.
    pub fn with_neither(&self, fibre: f64) -> AtBest {
        let (verdict, gauge) = if self.knows_gauge() && !self.gauge_is_on_label {
            (Verdict::CouldWork, 0.0)
        } else {
            (Verdict::CannotSay, NOT_JUDGED)
        };
        let least = self.least(NOT_JUDGED, gauge, fibre);
        AtBest { verdict, least }
    }

    #[inline]
    pub(super) fn is_asked(&self, criterion: Criterion) -> bool {
        match criterion {
            Criterion::Care => self.wanted.care.is_some(),
            Criterion::Fibre => is_fibre_asked(self.wanted.purpose),
            Criterion::Grist
            | Criterion::Gauge
            | Criterion::WeightClass
            | Criterion::Construction => true,
        }
    }

    /// Whether what is wanted lacks what every yarn would be compared with.
    pub(super) fn is_never_judged(&self, criterion: Criterion) -> bool {
        match criterion {
            Criterion::Grist => self.grist.is_none(),
            Criterion::Gauge => !self.knows_gauge(),
            Criterion::Fibre => self.wanted.facts.blend.is_none(),
            Criterion::WeightClass => self.wanted.facts.class.is_none() || self.wanted.strands != 1,
            Criterion::Construction | Criterion::Care => false,
        }
    }

    /// D >= sqrt((w_g g^2 + w_s s^2 + w_f f^2) / sum of w), g the departure on length
    /// per mass, s that on gauge, f that on fibre, the sum over all criteria that are
    /// asked; what is not judged counts as it does in the order of candidates.
    fn least(&self, grist: f64, gauge: f64, fibre: f64) -> f64 {
        let asked = Criterion::ALL.into_iter();
        let asked = asked.filter(|each| self.is_asked(*each));
        let departures = asked.map(|each| match each {
            _ if self.is_never_judged(each) => (each, NOT_JUDGED),
            Criterion::Grist => (each, grist),
            Criterion::Gauge => (each, gauge),
            Criterion::Fibre => (each, fibre),
            Criterion::WeightClass | Criterion::Construction | Criterion::Care => (each, 0.0),
        });
        overall(departures, &self.settings.weights).unwrap_or(0.0)
    }
}

/// Both ends, and ever farther from them on both sides, first by `width`.
fn cuts_around((low, high): (f64, f64), width: f64) -> Vec<f64> {
    // So that what is exactly the higher end comes with what is wanted.
    let high = high * (1.0 + 1e-12);
    let steps = std::iter::successors(Some(width), |width| Some(width * FARTHER));
    let steps = steps.take_while(|width| *width < FARTHEST);
    let around = steps.flat_map(|width| [low - width, high + width]);
    around.chain([low, high]).collect()
}

/// From 0 to the end, cut so, with what is done in each at best; neighbours that are as
/// good are one.
fn ranges(mut cuts: Vec<f64>, at_best: impl Fn(Range) -> AtBest) -> Vec<(AtBest, Range)> {
    cuts.retain(|cut| (0.0..END).contains(cut));
    cuts.extend([0.0, END]);
    cuts.sort_by(f64::total_cmp);
    cuts.dedup();
    let mut ranges: Vec<(AtBest, Range)> = Vec::new();
    for (from, to) in cuts.iter().copied().zip(cuts.iter().copied().skip(1)) {
        let at_best = at_best((from, to));
        match ranges.last_mut() {
            Some((last, (_, end))) if *last == at_best => *end = to,
            _ => ranges.push((at_best, (from, to))),
        }
    }
    ranges
}
