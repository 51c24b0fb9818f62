//! A yarn as the materials list of a pattern prints it.

use crate::{
    measure::{Length, Mass},
    record::YarnFacts,
    report::{class_words, metres_and_yards},
    words::number,
};

/// `100% wool; 120 m (131 yd) per 50 g (1.76 oz); class 3 light`.
pub fn material_words(facts: &YarnFacts) -> String {
    let parts = [
        facts.blend.as_ref().map(|blend| blend.value.to_string()),
        put_up(facts.skein_length(), facts.skein_mass()),
        facts.class.as_ref().map(|class| class_words(&class.value)),
    ];
    let known: Vec<String> = parts.into_iter().flatten().collect();
    match known.is_empty() {
        true => "nothing is known of it".to_owned(),
        false => known.join("; "),
    }
}

fn put_up(length: Option<Length>, mass: Option<Mass>) -> Option<String> {
    let length = length.map(metres_and_yards);
    let mass = mass.map(|mass| {
        format!(
            "{} g ({} oz)",
            number(mass.as_grams(), 1),
            number(mass.as_ounces(), 2)
        )
    });
    match (length, mass) {
        (Some(length), Some(mass)) => Some(format!("{length} per {mass}")),
        (length, mass) => length.or(mass),
    }
}
