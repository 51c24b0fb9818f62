//! In words, what of a label cannot all be true.

use super::Style;
use crate::{
    measure::Grist,
    record::Contradiction,
    trade::WeightClass,
    words::{number, or_list},
};

/// What is wrong, which reading is used and what the other would give.
pub(super) fn contradiction_words(found: &Contradiction, style: &Style) -> String {
    let per_mass = |grist: Grist| whole_grist(grist, style);
    match found {
        Contradiction::PutUp { text, used, other } => {
            let gives = |grist: &Option<Grist>| grist.map(per_mass);
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
            per_mass(*put_up),
            per_mass(*counted),
        ),
        Contradiction::ClassAndGrist {
            classes,
            grist,
            by_grist,
        } => format!(
            "class {} does not go with {}, which is that of class {}: check class, length and mass",
            named(classes.as_slice()),
            per_mass(*grist),
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

/// Length per mass in whole numbers of the preferred unit.
fn whole_grist(grist: Grist, style: &Style) -> String {
    let [preferred, _] = style.ordered(
        format!("{} m/100 g", number(grist.as_metres_per_100_g(), 0)),
        format!("{} yd/lb", number(grist.as_yards_per_pound(), 0)),
    );
    preferred
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        label::{band::read_band, contradiction::contradictions},
        report::UnitOrder,
    };

    fn told_in(text: &str, units: UnitOrder) -> Vec<String> {
        let style = Style {
            units,
            ..Style::default()
        };
        let found = contradictions(&read_band(text).facts);
        let words = found.iter().map(|found| contradiction_words(found, &style));
        words.collect()
    }

    fn told(text: &str) -> Vec<String> {
        told_in(text, UnitOrder::MetricFirst)
    }

    /// By hand: 240 m/100 g are 240 / 0.9144 * 4.5359237 = 1190.5 yd/lb.
    #[test]
    fn who_prefers_yards_reads_yards() {
        let told = told_in("DK, 120 m/50 g, 120 yd", UnitOrder::YardsFirst);
        assert!(told[0].contains("1191 yd/lb"), "{told:?}");
        assert!(!told[0].contains("m/100 g"), "{told:?}");
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
