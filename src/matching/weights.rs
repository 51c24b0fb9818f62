//! What each criterion counts in the overall departure, and what it counts where
//! nobody says otherwise.

use super::Criterion;

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
