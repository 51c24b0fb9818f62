//! Where a label contradicts itself.
//!
//! The tables it compares with are guidelines, so that only what lies more than
//! one class, or more than a tenth, apart is worth a question.

use super::{Classes, YarnFacts};
use crate::{
    measure::{Grist, Interval, units::INCH_M},
    trade::{Construction, WeightClass, classes_by_gauge, classes_by_grist, classes_by_needle},
};

/// How far put-up and yarn count may lie apart. Common practice, no source:
/// twist take-up and lawful short measure explain less than a tenth.
const COUNT_APART: f64 = 0.10;

/// Four inches in metres, over which the classes state their stitches.
const FOUR_INCHES_M: f64 = 4.0 * INCH_M;

/// Two values of one label that cannot both be true.
#[derive(Debug, Clone, PartialEq)]
pub enum Contradiction {
    /// Two lengths of one skein, or two masses.
    PutUp {
        /// As printed, both.
        text: String,
        /// Length per mass by the value that is used, where known.
        used: Option<Grist>,
        /// The same by the other one.
        other: Option<Grist>,
    },
    /// Length and mass, and the yarn count.
    PutUpAndCount {
        /// By length and mass.
        put_up: Grist,
        /// The count as printed.
        count: String,
        /// By the count.
        counted: Grist,
    },
    /// Class, and length per mass.
    ClassAndGrist {
        /// As printed.
        classes: Classes,
        /// Length per mass.
        grist: Grist,
        /// Classes of that.
        by_grist: Vec<WeightClass>,
    },
    /// Class and gauge.
    ClassAndGauge {
        /// As printed.
        classes: Classes,
        /// The gauge as printed.
        gauge: String,
        /// Classes of that.
        by_gauge: Vec<WeightClass>,
    },
    /// Needles and gauge.
    NeedlesAndGauge {
        /// The needles as printed.
        needles: String,
        /// Classes of those.
        by_needle: Vec<WeightClass>,
        /// The gauge as printed.
        gauge: String,
        /// Classes of that.
        by_gauge: Vec<WeightClass>,
    },
}

/// What of these facts cannot all be true.
pub fn contradictions(facts: &YarnFacts) -> Vec<Contradiction> {
    [
        put_up_against_count(facts),
        class_against_grist(facts),
        class_against_gauge(facts),
        gauge_against_needles(facts),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn put_up_against_count(facts: &YarnFacts) -> Option<Contradiction> {
    let (length, mass) = facts.length.as_ref().zip(facts.mass.as_ref())?;
    let put_up = Grist::of(length.value, mass.value).ok()?;
    let count = facts.count.as_ref()?;
    let counted = count.value.grist();
    let apart = put_up.as_metres_per_gram() / counted.as_metres_per_gram() - 1.0;
    (apart.abs() > COUNT_APART + 1e-9).then(|| Contradiction::PutUpAndCount {
        put_up,
        count: count.text.clone(),
        counted,
    })
}

fn class_against_grist(facts: &YarnFacts) -> Option<Contradiction> {
    let classes = &facts.class.as_ref()?.value;
    let grist = facts.grist().filter(|_| !has_uneven_build(facts))?;
    let by_grist = classes_by_grist(grist);
    far_apart(classes.as_slice(), &by_grist).then(|| Contradiction::ClassAndGrist {
        classes: classes.clone(),
        grist,
        by_grist,
    })
}

/// Halo, loops, slubs and tubes have a length per mass of their own.
fn has_uneven_build(facts: &YarnFacts) -> bool {
    let construction = facts.construction.as_ref().map(|printed| printed.value);
    construction.is_some_and(|built| !built.comparable_by_grist(Construction::Plied))
}

fn class_against_gauge(facts: &YarnFacts) -> Option<Contradiction> {
    let classes = &facts.class.as_ref()?.value;
    let (gauge, stitches) = plain_gauge(facts)?;
    let by_gauge = classes_by_gauge(stitches);
    let apart = !may_be_lace(classes) && far_apart(classes.as_slice(), &by_gauge);
    apart.then(|| Contradiction::ClassAndGauge {
        classes: classes.clone(),
        gauge: gauge.to_owned(),
        by_gauge,
    })
}

fn gauge_against_needles(facts: &YarnFacts) -> Option<Contradiction> {
    let needles = facts.needles.as_ref()?;
    let (gauge, stitches) = plain_gauge(facts)?;
    let by_gauge = classes_by_gauge(stitches);
    let by_needle = classes_by_needle(needles.value);
    let lace = by_gauge.iter().any(|class| class.number() == 0);
    (!lace && far_apart(&by_gauge, &by_needle)).then(|| Contradiction::NeedlesAndGauge {
        needles: needles.text.clone(),
        by_needle,
        gauge: gauge.to_owned(),
        by_gauge,
    })
}

/// The label's gauge as text and as stitches over 4 in, where it is one strand
/// in stockinette. A gauge without a length counts as over 4 in: for a class
/// the 1.6 % to 10 cm do not matter.
fn plain_gauge(facts: &YarnFacts) -> Option<(&str, Interval<f64>)> {
    let printed = facts.gauge.as_ref()?;
    let stated = &printed.value;
    let plain = stated.is_stockinette() && stated.strands.unwrap_or(1) == 1;
    let per_metre = stated.gauge.stitches_per_metre();
    let over_four = per_metre.map(|range| range.map(|stitches| stitches * FOUR_INCHES_M));
    let stitches = over_four.unwrap_or(stated.gauge.stitches());
    plain.then_some((printed.text.as_str(), stitches))
}

/// A class that is often knitted on larger needles, so that gauge tells little.
fn may_be_lace(class: &Classes) -> bool {
    class.as_slice().iter().any(|class| class.number() == 0)
}

fn far_apart(some: &[WeightClass], others: &[WeightClass]) -> bool {
    WeightClass::nearest(some, others).is_some_and(|(_, _, steps)| steps > 1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        measure::{Gauge, Length, Mass, NeedleSize, Over, YarnCount, units::CountSystem},
        record::{Printed, StatedGauge},
    };

    fn dk() -> YarnFacts {
        let gauge = Gauge::new(Interval::one(22.0), None, Over::centimetres(10.0).ok()).unwrap();
        let needle = NeedleSize::millimetres(4.0).unwrap();
        YarnFacts {
            length: Some(Printed::new("125 m", Length::metres(125.0).unwrap())),
            mass: Some(Printed::new("50 g", Mass::grams(50.0).unwrap())),
            class: class(3),
            gauge: Some(Printed::new("22 sts / 10 cm", StatedGauge::bare(gauge))),
            needles: Some(Printed::new("4 mm", Interval::one(needle))),
            ..YarnFacts::default()
        }
    }

    fn class(number: u8) -> Option<Printed<Classes>> {
        let class = WeightClass::new(number).unwrap();
        Some(Printed::new(
            class.name(),
            Classes::new(vec![class]).unwrap(),
        ))
    }

    fn count(number: f64) -> Option<Printed<YarnCount>> {
        let count = YarnCount::new(number, 1, CountSystem::Metric).unwrap();
        Some(Printed::new(format!("Nm {number}"), count))
    }

    #[test]
    fn a_label_that_agrees_with_itself_raises_no_question() {
        assert_eq!(contradictions(&dk()), []);
        assert!(contradictions(&YarnFacts::default()).is_empty());
    }

    #[test]
    fn a_put_up_and_a_count_more_than_a_tenth_apart_are_asked_about() {
        let near = YarnFacts {
            count: count(2.3),
            ..dk()
        };
        assert!(contradictions(&near).is_empty());
        let far = YarnFacts {
            count: count(4.0),
            ..dk()
        };
        let found = contradictions(&far);
        let [
            Contradiction::PutUpAndCount {
                put_up, counted, ..
            },
        ] = found.as_slice()
        else {
            panic!("{found:?}")
        };
        assert_eq!(
            (put_up.as_metres_per_gram(), counted.as_metres_per_gram()),
            (2.5, 4.0)
        );
    }

    #[test]
    fn a_class_two_away_from_length_per_mass_and_gauge_is_asked_about() {
        let facts = YarnFacts {
            class: class(5),
            ..dk()
        };
        let of = |number| vec![WeightClass::new(number).unwrap()];
        let classes = Classes::new(of(5)).unwrap();
        assert_eq!(
            contradictions(&facts),
            [
                Contradiction::ClassAndGrist {
                    classes: classes.clone(),
                    grist: facts.grist().unwrap(),
                    by_grist: of(2),
                },
                Contradiction::ClassAndGauge {
                    classes,
                    gauge: "22 sts / 10 cm".to_owned(),
                    by_gauge: of(3),
                },
            ]
        );
    }

    #[test]
    fn a_brushed_yarn_may_be_long_for_its_class() {
        let facts = YarnFacts {
            class: class(4),
            construction: Some(Printed::new("brushed", Construction::Brushed)),
            gauge: None,
            needles: None,
            ..dk()
        };
        assert!(contradictions(&facts).is_empty());
    }

    #[test]
    fn needles_two_classes_from_the_gauge_are_asked_about() {
        let needle = NeedleSize::millimetres(8.0).unwrap();
        let facts = YarnFacts {
            needles: Some(Printed::new("8 mm", Interval::one(needle))),
            ..dk()
        };
        assert_eq!(contradictions(&facts).len(), 1);
    }
}
