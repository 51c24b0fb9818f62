//! Skeins of one size and role: fields, table and sentences.

use super::super::{Align, Table};
use crate::{measure::units::YARD_M, words::number};
use serde::Serialize;

/// Skeins of one size and role.
#[derive(Debug, Clone, Serialize)]
pub struct SkeinsLine {
    /// The size.
    pub size: String,
    /// Key of the role.
    pub yarn: String,
    /// Skeins to buy.
    pub skeins: u32,
    /// Skeins that might do, where the need is a range or was given in skeins.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fewest_skeins: Option<u32>,
    /// Strand metres needed, without the margin.
    pub need_m: f64,
    /// The lower end of the need, m.
    pub need_at_least_m: f64,
    /// Length bought, m.
    pub bought_m: f64,
    /// Left over, m: bought - need.
    pub left_over_m: f64,
    /// Left over, in skeins.
    pub left_over_skeins: f64,
    /// What one skein fewer would lack of the need, m; 0 where it would do and
    /// only the margin would suffer.
    pub one_fewer_lacks_m: f64,
    /// Cost, where the price is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cost: Option<String>,
}

/// What the column of the fewest skeins means; nothing where there is none.
pub(in crate::report) fn about_fewest(lines: &[SkeinsLine]) -> Option<String> {
    let differ = |line: &SkeinsLine| {
        line.fewest_skeins
            .is_some_and(|fewest| fewest < line.skeins)
    };
    lines.iter().any(differ).then(|| {
        "The need is known as a range only (whole skeins of the pattern's yarn, or from and to): `perhaps` is the count at its lower end. Buy for the upper."
            .to_owned()
    })
}

/// The skeins of several sizes as a table.
pub(in crate::report) fn skeins_table(lines: &[SkeinsLine]) -> Table {
    let mut table = Table::new(&[
        ("size", Align::Left),
        ("need m", Align::Right),
        ("yd", Align::Right),
        ("skeins", Align::Right),
        ("perhaps", Align::Right),
        ("bought m", Align::Right),
        ("left m", Align::Right),
        ("yd", Align::Right),
        ("1 fewer lacks m", Align::Right),
        ("cost", Align::Right),
    ]);
    table.rows = lines.iter().map(skeins_row).collect();
    table
}

fn skeins_row(line: &SkeinsLine) -> Vec<String> {
    vec![
        line.size.clone(),
        number(line.need_m, 0),
        number(line.need_m / YARD_M, 0),
        line.skeins.to_string(),
        line.fewest_skeins
            .filter(|fewest| *fewest < line.skeins)
            .map(|fewest| fewest.to_string())
            .unwrap_or_default(),
        number(line.bought_m, 0),
        number(line.left_over_m, 0),
        number(line.left_over_m / YARD_M, 0),
        number(line.one_fewer_lacks_m, 0),
        line.cost.clone().unwrap_or_default(),
    ]
}
