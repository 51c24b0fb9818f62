//! Which sizes the yarn in hand makes, and what is left over or lacks for each.

use super::{
    Page, Role, Style, Table,
    cover::ONE_SIZE,
    json::{fields_of, list},
    judgement::each_once,
    per_size::role_name,
};
use crate::{
    app::{EnoughInHand, InHand, SizeInHand},
    measure::units::YARD_M,
    words::{and_list, joined, number},
};

/// What it makes, and a table of the sizes.
pub(super) fn add_in_hand(page: &mut Page, in_hand: &InHand, style: &Style) {
    page.text(Role::Plain, in_hand_sentence(in_hand, style));
    add_sizes_in_hand(page, in_hand, style);
}

/// What each size takes of it, and what is left over or lacks.
pub(super) fn add_sizes_in_hand(page: &mut Page, in_hand: &InHand, style: &Style) {
    if !in_hand.sizes.is_empty() {
        page.section(format!("With your {}", amount(in_hand, style)));
        page.table(sizes_table(in_hand, keys(in_hand).len(), style));
    }
}

/// `430 g (1054 m)`.
fn amount(in_hand: &InHand, style: &Style) -> String {
    let length = style.length_alone(in_hand.length);
    match length == in_hand.text {
        true => length,
        false => format!("{} ({length})", in_hand.text),
    }
}

fn keys(in_hand: &InHand) -> Vec<String> {
    each_once(in_hand.sizes.iter().map(|size| size.yarn.clone()))
}

/// `Your 430 g (1054 m): enough for S and M with 10 % spare; not enough for XL.`
pub(super) fn in_hand_sentence(in_hand: &InHand, style: &Style) -> String {
    let keys = keys(in_hand);
    let said = match keys.as_slice() {
        [] => "how much each size needs of it is not known".to_owned(),
        [key] => enough_sentence(in_hand, key),
        _ => {
            let each = keys.iter();
            let each =
                each.map(|key| format!("{}: {}", role_name(key), enough_sentence(in_hand, key)));
            joined(each, ". ")
        }
    };
    format!("Your {}: {said}.", amount(in_hand, style))
}

/// `enough for S and M with 10 % spare; not enough for XL`.
pub(super) fn enough_sentence(in_hand: &InHand, key: &str) -> String {
    let sizes = |enough: EnoughInHand| -> Vec<&SizeInHand> {
        let of_key = in_hand.sizes.iter().filter(|size| size.yarn == key);
        of_key.filter(|size| size.enough == enough).collect()
    };
    let of_key = in_hand.sizes.iter().filter(|size| size.yarn == key).count();
    let spare = match number(in_hand.margin.as_percent(), 1).as_str() {
        "0" => String::new(),
        percent => format!(" with {percent} % spare"),
    };
    let said = [
        ("enough", EnoughInHand::WithSpare, spare.as_str()),
        ("just enough", EnoughInHand::Just, " without that spare"),
        ("not enough", EnoughInHand::TooLittle, ""),
    ]
    .into_iter()
    .filter_map(|(word, enough, rest)| {
        let names = sizes(enough);
        let named = match (names.len(), enough) {
            (n, EnoughInHand::TooLittle) if n > 1 && n == of_key => "any size".to_owned(),
            (n, _) if n > 1 && n == of_key => "every size".to_owned(),
            _ => and_list(names.iter().map(|size| size.size.as_str())),
        };
        let rest = match (enough, rest) {
            (EnoughInHand::Just, _) if sizes(EnoughInHand::WithSpare).is_empty() => {
                " without spare"
            }
            (_, rest) => rest,
        };
        let named = match named.as_str() {
            ONE_SIZE => String::new(),
            named => format!(" for {named}"),
        };
        (!names.is_empty()).then(|| format!("{word}{named}{rest}"))
    });
    said.collect::<Vec<_>>().join("; ")
}

/// What each size takes, and what is left over or lacks.
pub(super) fn sizes_table(in_hand: &InHand, keys: usize, style: &Style) -> Table {
    let length = |metres: f64| {
        style.pair(
            format!("{} m", number(metres, 0)),
            format!("{} yd", number(metres / YARD_M, 0)),
        )
    };
    let left = |size: &SizeInHand| (size.left_m >= -1e-9).then(|| length(size.left_m.max(0.0)));
    let lacks = |size: &SizeInHand| (size.left_m < -1e-9).then(|| length(-size.left_m));
    let columns = Table::of(&in_hand.sizes)
        .left("size", |size| size.size.as_str())
        .left("yarn", |size| (keys > 1).then_some(size.yarn.as_str()))
        .right("needed", |size| length(size.need.as_metres()))
        .right("left over", left)
        .right("short by", lacks);
    columns.into()
}

fields_of! {
    /// What the yarn in hand is enough for.
    InHandFields(in_hand: &InHand) {
        /// What is in hand, as typed.
        amount: String = in_hand.text.clone(),
        /// Its length in metres.
        length_m: f64 = in_hand.length.as_metres(),
        /// What it is enough for, each size.
        sizes: Vec<SizeInHandFields> = list(&in_hand.sizes, SizeInHandFields::of),
    }
}

fields_of! {
    /// What the yarn in hand is for one size.
    SizeInHandFields(size: &SizeInHand) {
        /// The size.
        size: String = size.size.clone(),
        /// Key of the pattern's yarn.
        yarn: String = size.yarn.clone(),
        /// Metres needed, without spare.
        need_m: f64 = size.need.as_metres(),
        /// `with spare`, `just` (without spare) or `no`.
        enough: &'static str = match size.enough {
            EnoughInHand::WithSpare => "with spare",
            EnoughInHand::Just => "just",
            EnoughInHand::TooLittle => "no",
        },
        /// Metres left over, where it is enough.
        left_over_m: Option<f64> = (size.left_m >= 0.0).then_some(size.left_m),
        /// Metres missing, where it is not.
        missing_m: Option<f64> = (size.left_m < 0.0).then_some(-size.left_m),
    }
}
