//! Amounts in both unit systems, as patterns give them.

use crate::{
    measure::{Grist, Length, Mass},
    words::number,
};

/// `1646 m (1800 yd)`.
pub fn metres_and_yards(length: Length) -> String {
    let places = if length.as_metres() < 10.0 { 1 } else { 0 };
    format!(
        "{} m ({} yd)",
        number(length.as_metres(), places),
        number(length.as_yards(), places)
    )
}

/// `230 m/100 g (1141 yd/lb)`.
pub fn per_100_g_and_pound(grist: Grist) -> String {
    format!(
        "{} m/100 g ({} yd/lb)",
        number(grist.as_metres_per_100_g(), 1),
        number(grist.as_yards_per_pound(), 0)
    )
}

/// `100 m (109 yd), 50 g`, of a skein; what is not known is left out.
pub fn skein_words(length: Option<Length>, mass: Option<Mass>) -> String {
    let length = length.map(metres_and_yards);
    let mass = mass.map(|mass| format!("{} g", number(mass.as_grams(), 1)));
    length
        .into_iter()
        .chain(mass)
        .collect::<Vec<String>>()
        .join(", ")
}
