//! How strictly is judged where nobody says: the default tolerance on length per mass and
//! the widest that is published, and what each criterion counts in the overall departure.

use super::Criterion;

/// Tolerance where none is stated, %. A rule of common practice allows 5.6 to 8.5 %
/// either way on a worsted yarn (no source).
pub const DEFAULT_TOLERANCE: u8 = 8;

/// As a share of what is wanted (common practice, no source: 20 %, of bulky yarn
/// 15 %).
const WIDEST: f64 = 0.20;

/// Whether a difference, as a share of what is wanted, lies within it.
pub(super) fn is_within_widest(off: f64) -> bool {
    off.abs() <= WIDEST * (1.0 + 1e-9)
}

/// The same around a length per mass, m/g.
pub(super) fn widest_around(wanted: f64) -> f64 {
    WIDEST * wanted
}

/// What each criterion counts in the overall departure; not negative.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weights {
    grist: f64,
    gauge: f64,
    weight_class: f64,
    fibre: f64,
    construction: f64,
    care: f64,
}

/// Length per mass says most about how much alike two yarns are, then gauge, then
/// fibre: common practice, no source.
impl Default for Weights {
    fn default() -> Self {
        Self {
            grist: 4.0,
            gauge: 3.0,
            weight_class: 1.0,
            fibre: 2.0,
            construction: 1.0,
            care: 1.0,
        }
    }
}

impl Weights {
    /// The weight of a criterion.
    pub fn of(&self, criterion: Criterion) -> f64 {
        match criterion {
            Criterion::Grist => self.grist,
            Criterion::Gauge => self.gauge,
            Criterion::WeightClass => self.weight_class,
            Criterion::Fibre => self.fibre,
            Criterion::Construction => self.construction,
            Criterion::Care => self.care,
        }
    }

    /// The same weights with another one for `criterion`; none unless it is from 0,
    /// which leaves the criterion out of the order, to 1000.
    pub fn with(mut self, criterion: Criterion, weight: f64) -> Option<Self> {
        if !(0.0..=1000.0).contains(&weight) {
            return None;
        }
        let weighed = match criterion {
            Criterion::Grist => &mut self.grist,
            Criterion::Gauge => &mut self.gauge,
            Criterion::WeightClass => &mut self.weight_class,
            Criterion::Fibre => &mut self.fibre,
            Criterion::Construction => &mut self.construction,
            Criterion::Care => &mut self.care,
        };
        *weighed = weight;
        Some(self)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fifth_either_way_is_within_and_a_step_more_is_not() {
        for (off, within) in [(0.2, true), (-0.2, true), (0.2001, false), (-0.2001, false)] {
            assert_eq!(is_within_widest(off), within, "{off}");
        }
        assert_eq!(widest_around(2.0), 0.4);
    }
}
