//! What the stash does for one size: lots in the order in which to use them.

use super::{Style, chip::with_chip, json::fields_of};
use crate::{
    app::{SizeCover, StockLot},
    measure::{Length, units::YARD_M},
    quantity::Cover,
    record::Printed,
    trade::Colour,
    words::{and_list, count_of, number},
};

/// What the only size of a need is called.
pub(super) const ONE_SIZE: &str = "one size";

fields_of! {
    /// What the lots of one shade are for one size.
    CoverFields(key: &str, found: &SizeCover, style: &Style)
    where cover = &found.cover, colour = colour_of(&cover.lots); {
        /// Key of the pattern's yarn.
        yarn: String = key.to_owned(),
        /// The size.
        size: String = found.size.clone(),
        /// The shade.
        shade: String = cover.shade.clone(),
        /// Colour of the shade, as typed.
        colour: Option<String> = colour.map(|colour| colour.text.clone()),
        /// The same as `#rrggbb`.
        colour_hex: Option<String> = colour.map(|colour| colour.value.to_string()),
        /// Whether they are enough, spare included.
        covers: bool = cover.covers(),
        /// Keys of the pattern's yarns that have their share of it first.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        after: Vec<String> = found.after.clone(),
        /// Lots in the order in which to use them, in words.
        lots: Vec<String> = lots(found, style),
        /// Metres left over, where they are enough.
        left_over_m: Option<f64> = cover.left_over_m,
        /// Metres missing, where they are not.
        missing_m: Option<f64> = cover.missing_m,
        /// The same in whole skeins.
        missing_skeins: Option<u32> = cover.missing_skeins,
        /// All of it in a sentence.
        text: String = cover_sentence(found, style),
    }
}

fn lots(found: &SizeCover, style: &Style) -> Vec<String> {
    let words =
        |(held, length): &(StockLot, _)| format!("{}, {}", lot_words(held), style.length(*length));
    found.cover.lots.iter().map(words).collect()
}

/// What there is of a lot, and where.
fn lot_words(held: &StockLot) -> String {
    let between = match held.lot.lot {
        Some(_) => " of ",
        None => ", ",
    };
    format!("{}{between}{}", held.usable, lot_and_place(held))
}

/// A lot as people find it: its number and where it lies.
pub(super) fn lot_and_place(held: &StockLot) -> String {
    let number = held.lot.lot.as_deref();
    let lot = number.map_or("lot not recorded".to_owned(), |lot| format!("lot {lot}"));
    match held.lot.place.as_str() {
        "" => lot,
        place => format!("{lot}, {place}"),
    }
}

/// The colour of a shade, which all its lots have.
fn colour_of(lots: &[(StockLot, Length)]) -> Option<&Printed<Colour>> {
    let (held, _) = lots.first()?;
    held.lot.colour.as_ref()
}

/// The name of the shade that these lots are of, with its chip.
pub(super) fn shade_of(shade: &str, lots: &[(StockLot, Length)], style: &Style) -> String {
    with_chip(shade, colour_of(lots), style)
}

/// ` in moss`; nothing where the shade has no name and no chip.
pub(super) fn in_shade(cover: &Cover<StockLot>, style: &Style) -> String {
    match shade_of(&cover.shade, &cover.lots, style) {
        none if none.is_empty() => none,
        shade => format!(" in {shade}"),
    }
}

/// The same as a sentence.
pub(super) fn cover_sentence(found: &SizeCover, style: &Style) -> String {
    let cover = &found.cover;
    let lots = and_list(lots(found, style));
    let size = match found.size.as_str() {
        ONE_SIZE => String::new(),
        size => format!("Size {size}: "),
    };
    let shade = in_shade(cover, style) + &after(&found.after);
    match cover.missing_m {
        Some(missing) if lots.is_empty() => {
            let short = short(missing, cover.missing_skeins, style);
            format!("{size}Nothing free{shade}. {short}.")
        }
        Some(missing) => {
            let short = short(missing, cover.missing_skeins, style);
            format!("{size}Not enough{shade}: {lots}. {short}.")
        }
        None => {
            let left = number(cover.left_over_m.unwrap_or(0.0), 0);
            let also = also(found);
            format!("{size}Enough{shade}: {lots}; {left} m left over.{also}")
        }
    }
}

/// That yarns of the pattern use the shade too, and come first.
pub(super) fn after(yarns: &[String]) -> String {
    if yarns.is_empty() {
        String::new()
    } else {
        format!(" once yarn {} has its share", and_list(yarns))
    }
}

fn short(metres: f64, skeins: Option<u32>, style: &Style) -> String {
    let metres = style.pair(
        format!("{} m", number(metres, 0)),
        format!("{} yd", number(metres / YARD_M, 0)),
    );
    let more = skeins.map(|skeins| format!(", {} more", count_of(f64::from(skeins), "skein")));
    format!("Short by {metres}{}", more.unwrap_or_default())
}

/// What to do about several lots, and whether other shades have enough.
fn also(found: &SizeCover) -> String {
    let mixed = if found.cover.is_mixed() {
        " Alternate skeins of the lots every few rows."
    } else {
        ""
    };
    match found.others {
        0 => mixed.to_owned(),
        1 => format!("{mixed} Another shade has enough too."),
        n => format!("{mixed} {n} other shades have enough too."),
    }
}
