//! What the stash does for one size: fields and a sentence.

use super::super::Style;
use crate::{
    app::{SizeCover, StockLot},
    measure::units::YARD_M,
    quantity::Cover,
    words::{and_list, count_of, number},
};
use serde::Serialize;

/// What the lots of one shade do for one size and role.
#[derive(Debug, Clone, Serialize)]
pub struct CoverLine {
    /// Key of the role.
    pub yarn: String,
    /// The size.
    pub size: String,
    /// The shade.
    pub shade: String,
    /// Whether what is free covers need and margin.
    pub covers: bool,
    /// Lots to use.
    pub lots: Vec<String>,
    /// Left over, m.
    pub left_over_m: Option<f64>,
    /// Missing, m.
    pub missing_m: Option<f64>,
    /// Skeins that would fill the gap.
    pub missing_skeins: Option<u32>,
    /// The same as a sentence.
    pub text: String,
}

/// What the only size of a need is called.
const ONE_SIZE: &str = "one size";

impl CoverLine {
    /// What the lots of one shade do for one role.
    pub fn new(key: &str, found: &SizeCover, style: &Style) -> Self {
        let cover = &found.cover;
        let lots = cover.lots.iter();
        let lots: Vec<String> = lots
            .map(|(held, length)| format!("{}, {}", lot_words(held), style.length(*length)))
            .collect();
        Self {
            yarn: key.to_owned(),
            size: found.size.clone(),
            shade: cover.shade.clone(),
            covers: cover.covers(),
            left_over_m: cover.left_over_m,
            missing_m: cover.missing_m,
            missing_skeins: cover.missing_skeins,
            text: sentence(found, &lots, style),
            lots,
        }
    }
}

/// A lot as people find it: its number and where it lies.
fn lot_words(held: &StockLot) -> String {
    let number = held.lot.lot.as_deref();
    let lot = number.map_or("an unnumbered lot".to_owned(), |lot| format!("lot {lot}"));
    let place = match held.lot.place.as_str() {
        "" => String::new(),
        place => format!(", {place}"),
    };
    format!("{} of {lot}{place}", held.usable)
}

fn sentence(found: &SizeCover, lots: &[String], style: &Style) -> String {
    let (size, cover) = (of_size(&found.size), &found.cover);
    let shade = match cover.shade.as_str() {
        "" => String::new(),
        shade => format!(" in {shade}"),
    };
    match cover.missing_m {
        Some(_) if lots.is_empty() => format!("{size}Nothing free{shade}."),
        Some(missing) => format!(
            "{size}Not enough{shade}: {}. {}.",
            and_list(lots),
            short(missing, cover.missing_skeins, style)
        ),
        None => format!(
            "{size}Enough{shade}: {}; {} m left over.{}{}",
            and_list(lots),
            number(cover.left_over_m.unwrap_or(0.0), 0),
            mixed(cover),
            also(found.others)
        ),
    }
}

/// `Size M: `, or nothing where there is one size only.
fn of_size(size: &str) -> String {
    match size {
        ONE_SIZE => String::new(),
        size => format!("Size {size}: "),
    }
}

fn short(metres: f64, skeins: Option<u32>, style: &Style) -> String {
    let [first, second] = style.ordered(
        format!("{} m", number(metres, 0)),
        format!("{} yd", number(metres / YARD_M, 0)),
    );
    let more = skeins.map(|skeins| format!(", {} more", count_of(f64::from(skeins), "skein")));
    format!("Short by {first} ({second}){}", more.unwrap_or_default())
}

fn mixed(cover: &Cover<StockLot>) -> &'static str {
    if cover.is_mixed() {
        " Alternate skeins of the lots every few rows."
    } else {
        ""
    }
}

fn also(others: usize) -> String {
    match others {
        0 => String::new(),
        1 => " Another shade would do too.".to_owned(),
        n => format!(" {n} other shades would do too."),
    }
}
