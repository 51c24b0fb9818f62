//! Skeins of one size and role: fields, table and sentences.

use super::super::{Align, Style, Table};
use crate::{app::SizePurchase, measure::units::YARD_M, words::number};
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

impl SkeinsLine {
    /// What to buy for one role.
    pub fn new(key: &str, bought: &SizePurchase) -> Self {
        let purchase = &bought.purchase;
        Self {
            size: bought.size.clone(),
            yarn: key.to_owned(),
            skeins: purchase.skeins,
            fewest_skeins: bought.is_range().then_some(purchase.fewest),
            need_m: purchase.need.buy_for.as_metres(),
            need_at_least_m: purchase.need.at_least.as_metres(),
            bought_m: purchase.bought.as_metres(),
            left_over_m: purchase.left_over_m(),
            left_over_skeins: purchase.left_over_skeins(),
            one_fewer_lacks_m: purchase.one_fewer_lacks_m().max(0.0),
            cost: bought.cost.as_ref().map(ToString::to_string),
        }
    }
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
pub(in crate::report) fn skeins_table(lines: &[SkeinsLine], style: &Style) -> Table {
    let [unit, other] = style.ordered("m", "yd");
    let mut table = Table::new(&[
        ("size", Align::Left),
        (&format!("need {unit}"), Align::Right),
        (other, Align::Right),
        ("skeins", Align::Right),
        ("perhaps", Align::Right),
        ("bought m", Align::Right),
        (&format!("left {unit}"), Align::Right),
        (other, Align::Right),
        ("1 fewer lacks m", Align::Right),
        ("cost", Align::Right),
    ]);
    table.rows = lines.iter().map(|line| skeins_row(line, style)).collect();
    table
}

fn skeins_row(line: &SkeinsLine, style: &Style) -> Vec<String> {
    let both = |metres: f64| style.ordered(number(metres, 0), number(metres / YARD_M, 0));
    let ([need, need_too], [left, left_too]) = (both(line.need_m), both(line.left_over_m));
    let fewest = line.fewest_skeins.filter(|fewest| *fewest < line.skeins);
    vec![
        line.size.clone(),
        need,
        need_too,
        line.skeins.to_string(),
        fewest.map_or(String::new(), |fewest| fewest.to_string()),
        number(line.bought_m, 0),
        left,
        left_too,
        number(line.one_fewer_lacks_m, 0),
        line.cost.clone().unwrap_or_default(),
    ]
}
