//! Where a label contradicts itself.
//!
//! The tables it compares with are guidelines, so that only what lies more than
//! one class, or more than a tenth, apart is worth a question.

use super::{Classes, YarnFacts};
use crate::{
    measure::{Grist, Interval, units::INCH_M},
    trade::{Construction, WeightClass, classes_by_gauge, classes_by_grist, classes_by_needle},
    words::{number, or_list},
};

/// How far put-up and yarn count may lie apart. Common practice, no source:
/// twist take-up and lawful short measure explain less than a tenth.
const COUNT_APART: f64 = 0.10;

/// Four inches in metres, over which the classes state their stitches.
const FOUR_INCHES_M: f64 = 4.0 * INCH_M;

/// What of these facts cannot all be true, a sentence each.
pub fn contradictions(facts: &YarnFacts) -> Vec<String> {
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

fn put_up_against_count(facts: &YarnFacts) -> Option<String> {
    let (length, mass) = facts.length.as_ref().zip(facts.mass.as_ref())?;
    let put_up = Grist::of(length.value, mass.value).ok()?;
    let count = facts.count.as_ref()?;
    let counted = count.value.grist();
    let apart = put_up.as_metres_per_gram() / counted.as_metres_per_gram() - 1.0;
    (apart.abs() > COUNT_APART + 1e-9).then(|| {
        format!(
            "length and mass give {}, the yarn count {} gives {}: check which of the three was misread",
            per_100_g(put_up),
            count.text,
            per_100_g(counted),
        )
    })
}

fn class_against_grist(facts: &YarnFacts) -> Option<String> {
    let class = &facts.class.as_ref()?.value;
    let grist = facts.grist().filter(|_| !has_uneven_build(facts))?;
    let by_grist = classes_by_grist(grist);
    far_apart(class.as_slice(), &by_grist).then(|| {
        format!(
            "class {} does not go with {}, which is that of class {}: check class, length and mass",
            named(class.as_slice()),
            per_100_g(grist),
            named(&by_grist),
        )
    })
}

/// Halo, loops, slubs and tubes have a length per mass of their own.
fn has_uneven_build(facts: &YarnFacts) -> bool {
    let construction = facts.construction.as_ref().map(|printed| printed.value);
    construction.is_some_and(|built| !built.comparable_by_grist(Construction::Plied))
}

fn class_against_gauge(facts: &YarnFacts) -> Option<String> {
    let class = &facts.class.as_ref()?.value;
    let (text, stitches) = plain_gauge(facts)?;
    let by_gauge = classes_by_gauge(stitches);
    (!may_be_lace(class) && far_apart(class.as_slice(), &by_gauge)).then(|| {
        format!(
            "class {} does not go with the gauge {text}, which is that of class {}: check both",
            named(class.as_slice()),
            named(&by_gauge),
        )
    })
}

fn gauge_against_needles(facts: &YarnFacts) -> Option<String> {
    let needles = facts.needles.as_ref()?;
    let (text, stitches) = plain_gauge(facts)?;
    let by_gauge = classes_by_gauge(stitches);
    let by_needle = classes_by_needle(needles.value);
    let lace = by_gauge.iter().any(|class| class.number() == 0);
    (!lace && far_apart(&by_gauge, &by_needle)).then(|| {
        format!(
            "needles {} go with class {}, the gauge {text} with class {}: check both",
            needles.text,
            named(&by_needle),
            named(&by_gauge),
        )
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

fn named(classes: &[WeightClass]) -> String {
    let names: Vec<String> = classes.iter().map(ToString::to_string).collect();
    or_list(&names)
}

fn per_100_g(grist: Grist) -> String {
    format!("{} m/100 g", number(grist.as_metres_per_100_g(), 0))
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
        assert_eq!(contradictions(&dk()), Vec::<String>::new());
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
        assert_eq!(
            contradictions(&far),
            [
                "length and mass give 250 m/100 g, the yarn count Nm 4 gives 400 m/100 g: check which of the three was misread"
            ]
        );
    }

    #[test]
    fn a_class_two_away_from_length_per_mass_and_gauge_is_asked_about() {
        let facts = YarnFacts {
            class: class(5),
            ..dk()
        };
        assert_eq!(
            contradictions(&facts),
            [
                "class 5 bulky does not go with 250 m/100 g, which is that of class 2 fine: check class, length and mass",
                "class 5 bulky does not go with the gauge 22 sts / 10 cm, which is that of class 3 light: check both",
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
