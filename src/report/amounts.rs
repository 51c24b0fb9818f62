//! Amounts in both unit systems, as patterns give them.

use crate::{
    measure::{Grist, Length, Mass},
    words::{count_of, number},
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

/// `9 skeins of 100 m (109 yd), 50 g`.
pub fn skeins_of(count: f64, length: Option<Length>, mass: Option<Mass>) -> String {
    let length = length.map(|length| format!(" of {}", metres_and_yards(length)));
    let mass = mass.map(|mass| format!(", {} g", number(mass.as_grams(), 1)));
    format!(
        "{}{}{}",
        count_of(count, "skein"),
        length.unwrap_or_default(),
        mass.unwrap_or_default()
    )
}
