//! Where a label contradicts itself: what was found of its values, and two lengths
//! or two masses in the text that one was read from. In words too, since files tell
//! it of the texts they read.

use super::{
    length_mass::{DualMeasure, dual},
    token::{Tokens, lex},
};
use crate::{
    measure::{Grist, Length, Mass, units::Dimension},
    record::{self, Contradiction, YarnFacts},
    trade::WeightClass,
    words::{number, or_list},
};

/// What of a label cannot all be true: first of its put-up, then of the rest.
pub fn contradictions(facts: &YarnFacts) -> Vec<Contradiction> {
    let of_put_up = [two_lengths(facts), two_masses(facts)];
    let of_values = record::contradictions(facts);
    of_put_up.into_iter().flatten().chain(of_values).collect()
}

fn two_lengths(facts: &YarnFacts) -> Option<Contradiction> {
    let text = &facts.length.as_ref()?.text;
    let other = other_value(text, Dimension::Length)?;
    let length = Length::metres(other).ok()?;
    let mass = facts.mass.as_ref().map(|mass| mass.value);
    Some(Contradiction::PutUp {
        text: text.clone(),
        used: facts.grist(),
        other: mass.and_then(|mass| Grist::of(length, mass).ok()),
    })
}

fn two_masses(facts: &YarnFacts) -> Option<Contradiction> {
    let text = &facts.mass.as_ref()?.text;
    let other = other_value(text, Dimension::Mass)?;
    let mass = Mass::grams(other).ok()?;
    let length = facts.length.as_ref().map(|length| length.value);
    Some(Contradiction::PutUp {
        text: text.clone(),
        used: facts.grist(),
        other: length.and_then(|length| Grist::of(length, mass).ok()),
    })
}

/// The second statement of a quantity, where it disagrees with the first; m or g.
fn other_value(text: &str, dimension: Dimension) -> Option<f64> {
    let tokens = lex(text);
    let from = |start| {
        let rest = tokens.get(start..)?;
        dual(&mut Tokens::new(rest)).ok()
    };
    let both = |dual: &DualMeasure| dual.second.is_some() && dual.dimension() == dimension;
    let found = (0..tokens.len()).filter_map(from).find(both)?;
    found.other_value()
}

/// What is wrong, which reading is used and what the other would give.
pub fn contradiction_text(found: &Contradiction) -> String {
    match found {
        Contradiction::PutUp { text, used, other } => {
            let gives = |grist: &Option<Grist>| grist.map(per_100_g);
            match gives(used).zip(gives(other)) {
                Some((used, other)) => format!(
                    "`{text}` disagree: used the metric reading, {used}; the other would give {other}"
                ),
                None => format!("`{text}` disagree: used the metric reading"),
            }
        }
        Contradiction::PutUpAndCount {
            put_up,
            count,
            counted,
        } => format!(
            "length and mass give {}, the yarn count {count} gives {}: used length and mass; check which of the three was misread",
            per_100_g(*put_up),
            per_100_g(*counted),
        ),
        Contradiction::ClassAndGrist {
            classes,
            grist,
            by_grist,
        } => format!(
            "class {} does not go with {}, which is that of class {}: check class, length and mass",
            named(classes.as_slice()),
            per_100_g(*grist),
            named(by_grist),
        ),
        Contradiction::ClassAndGauge {
            classes,
            gauge,
            by_gauge,
        } => format!(
            "class {} does not go with the gauge {gauge}, which is that of class {}: check both",
            named(classes.as_slice()),
            named(by_gauge),
        ),
        Contradiction::NeedlesAndGauge {
            needles,
            by_needle,
            gauge,
            by_gauge,
        } => format!(
            "needles {needles} go with class {}, the gauge {gauge} with class {}: check both",
            named(by_needle),
            named(by_gauge),
        ),
    }
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
    use crate::label::band::read_band;

    fn told(text: &str) -> Vec<String> {
        let found = contradictions(&read_band(text).facts);
        found.iter().map(contradiction_text).collect()
    }

    /// By hand: 120 yd are 109.7 m, 219 m in 100 g; 3 oz are 85 g, and 120 m of them
    /// 141 m in 100 g; 131 yd are 119.8 m.
    #[test]
    fn two_lengths_or_masses_that_disagree_are_told_with_both_readings() {
        for text in [
            "DK, 120 m/50 g, 120 yd, 100% wool",
            "DK, 120 m (120 yd), 50 g",
            "120 m = 120 yd, 50 g, 22 sts / 10 cm",
        ] {
            let told = told(text);
            assert_eq!(told.len(), 1, "{text}: {told:?}");
            for word in ["120 yd", "240 m/100 g", "219 m/100 g"] {
                assert!(told[0].contains(word), "{text}: {told:?}");
            }
        }
        for text in ["120 m, 50 g (3 oz)", "120 m/50 g, 3 oz"] {
            let told = told(text);
            assert_eq!(told.len(), 1, "{text}: {told:?}");
            assert!(told[0].contains("3 oz") && told[0].contains("141 m/100 g"));
        }
    }

    #[test]
    fn two_statements_that_agree_are_one_and_a_need_is_none() {
        for text in [
            "120 m (131 yd), 50 g (1.75 oz)",
            "120 m/50 g, 131 yd",
            "120 m/50 g, 600 m",
            "120 m/50 g, needs 130 yd",
            "120 m/50 g, 500 g",
        ] {
            assert_eq!(told(text), Vec::<String>::new(), "{text}");
        }
    }

    #[test]
    fn every_contradiction_says_what_does_not_go_together() {
        for (text, words) in [
            ("250 m/100 g, Nm 4/1", ["250 m/100 g", "Nm 4/1"]),
            ("bulky, 250 m/100 g", ["5 bulky", "2 fine"]),
            ("bulky, 22 sts / 10 cm", ["5 bulky", "3 light"]),
            ("22 sts / 10 cm, 8 mm", ["8 mm", "3 light"]),
        ] {
            let told = told(text);
            assert_eq!(told.len(), 1, "{text}: {told:?}");
            assert!(words.iter().all(|word| told[0].contains(word)), "{told:?}");
        }
    }
}
