//! A need stated as a mass alone, of a yarn whose length per mass nobody knows.

use crate::{
    measure::{
        Grist, Interval, Length, Mass,
        units::{POUND_G, YARD_M},
    },
    trade::{CLASS_GRISTS, WeightClass},
};

/// How the name of a weight class is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ClassReading {
    /// As the name is used today.
    Today,
    /// One class finer, as old yarn often is (common practice, no source).
    OneFiner,
}

/// What a mass may be in metres, by one reading of its class. An end that the
/// table leaves open is `None`.
#[derive(Debug, Clone, PartialEq)]
pub struct MassEstimate {
    /// The class that it rests on.
    pub class: WeightClass,
    /// How that class follows from the name that was given.
    pub reading: ClassReading,
    /// The least, m.
    pub at_least: Option<Length>,
    /// The most, m.
    pub at_most: Option<Length>,
}

/// Metres of a mass through the published length per mass of each class that is
/// possible, and of the class one step finer: the wool of old patterns runs
/// thinner than today's name (common practice, no source). Several estimates
/// with their spread, never one number: mass x grist of the ends of each class.
pub fn mass_estimates(mass: Interval<Mass>, classes: &[WeightClass]) -> Vec<MassEstimate> {
    let today = classes
        .iter()
        .map(|class| of_class(mass, *class, ClassReading::Today));
    let finer = classes
        .iter()
        .filter_map(|class| WeightClass::new(class.number().checked_sub(1)?));
    let old = finer
        .filter(|class| !classes.contains(class))
        .map(|class| of_class(mass, class, ClassReading::OneFiner));
    today.chain(old).collect()
}

fn of_class(mass: Interval<Mass>, class: WeightClass, reading: ClassReading) -> MassEstimate {
    let row = CLASS_GRISTS.iter().find(|row| row.class == class.number());
    let metres = |mass: Mass, yards: Option<f64>| {
        mass.length_at(Grist::metres_per_gram(yards? * YARD_M / POUND_G).ok()?)
            .ok()
    };
    MassEstimate {
        class,
        reading,
        at_least: row.and_then(|row| metres(mass.low(), row.fewest)),
        at_most: row.and_then(|row| metres(mass.high(), row.most)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::units::OUNCE_G;

    /// Spin-Off magazine, `Yarn Standards` sheet: class 4 is 601 to 900 yd/lb,
    /// class 3 901 to 1200, so 12 oz are 450.75 to 675, or 675.75 to 900 yd.
    #[test]
    fn ounces_alone_give_several_estimates() {
        let twelve = Interval::one(Mass::grams(12.0 * OUNCE_G).unwrap());
        let found = mass_estimates(twelve, &[WeightClass::new(4).unwrap()]);
        let yards: Vec<(f64, f64)> = found
            .iter()
            .map(|e| {
                (
                    e.at_least.unwrap().as_yards(),
                    e.at_most.unwrap().as_yards(),
                )
            })
            .collect();
        for ((low, high), (expected_low, expected_high)) in
            yards.iter().zip([(450.75, 675.0), (675.75, 900.0)])
        {
            assert!((low - expected_low).abs() < 0.005 && (high - expected_high).abs() < 0.005);
        }
        assert_eq!(found.len(), 2);
    }

    #[test]
    fn an_end_that_the_table_leaves_open_stays_open() {
        let mass = Interval::one(Mass::grams(100.0).unwrap());
        let lace = mass_estimates(mass, &[WeightClass::new(0).unwrap()]);
        assert_eq!((lace.len(), lace[0].at_most), (1, None));
    }
}
