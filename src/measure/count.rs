//! Yarn counts as cones and mills print them.

use super::{
    Grist, MeasureError,
    units::{CountSystem, Counts},
};

/// A yarn count as printed: the number of one single in a numbering system, and
/// how many singles are plied.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct YarnCount {
    single: f64,
    plies: u8,
    system: CountSystem,
    grist: Grist,
}

impl YarnCount {
    /// A count of `plies` singles of number `single`. Grist of the plied yarn:
    /// indirect systems m/g = definition x N / plies, direct systems
    /// m/g = 1 / (definition x N x plies). Twist take-up is not known and not
    /// taken off. Refused where the grist would be out of range.
    pub fn new(single: f64, plies: u8, system: CountSystem) -> Result<Self, MeasureError> {
        let plied = f64::from(plies);
        let metres_per_gram = match system.counts() {
            Counts::MetresPerGram(one) => one * single / plied,
            Counts::GramsPerMetre(one) => 1.0 / (one * single * plied),
        };
        let grist = Grist::metres_per_gram(metres_per_gram)?;
        Ok(Self {
            single,
            plies,
            system,
            grist,
        })
    }

    /// The number of one single.
    pub fn single(&self) -> f64 {
        self.single
    }

    /// How many singles are plied.
    pub fn plies(&self) -> u8 {
        self.plies
    }

    /// The numbering system.
    pub fn system(&self) -> CountSystem {
        self.system
    }

    /// Length per mass of the plied yarn.
    pub fn grist(&self) -> Grist {
        self.grist
    }
}

impl Grist {
    /// The number of a yarn of this grist in `system`, as one single: indirect
    /// N = (m/g) / definition, direct N = 1 / ((m/g) x definition).
    pub fn as_count(self, system: CountSystem) -> f64 {
        match system.counts() {
            Counts::MetresPerGram(one) => self.as_metres_per_gram() / one,
            Counts::GramsPerMetre(one) => 1.0 / (self.as_metres_per_gram() * one),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn grist(single: f64, plies: u8, system: CountSystem) -> f64 {
        YarnCount::new(single, plies, system)
            .unwrap()
            .grist()
            .as_yards_per_pound()
    }

    /// FlatOrRound counts of common practice (cases C37 and C39), recomputed: worsted
    /// 2/24 is 6720 yd/lb; tex 100/2 is 200 g per 1000 m.
    #[test]
    fn plied_counts_give_the_length_in_a_pound() {
        assert!((grist(24.0, 2, CountSystem::Worsted) - 6720.0).abs() < 1e-6);
        assert!((grist(15.0, 3, CountSystem::Worsted) - 2800.0).abs() < 1e-6);
        let tex = YarnCount::new(100.0, 2, CountSystem::Tex).unwrap();
        assert!((tex.grist().as_tex() - 200.0).abs() < 1e-9);
        // 9000 m of 1 den weigh 1 g, by definition.
        let denier = YarnCount::new(90.0, 1, CountSystem::Denier).unwrap();
        assert!((denier.grist().as_tex() - 10.0).abs() < 1e-9);
    }

    #[test]
    fn a_count_read_back_from_its_grist_is_that_count() {
        for unit in crate::measure::units::COUNT_SYSTEMS {
            let count = YarnCount::new(14.5, 1, unit.system).unwrap();
            let again = count.grist().as_count(unit.system);
            assert!((again - 14.5).abs() < 1e-9, "{}: {again}", unit.symbol);
        }
    }

    #[test]
    fn impossible_counts_are_refused() {
        for single in [0.0, -3.0, f64::NAN, f64::INFINITY] {
            assert!(YarnCount::new(single, 1, CountSystem::Metric).is_err());
        }
        assert!(YarnCount::new(10.0, 0, CountSystem::Metric).is_err());
    }
}
