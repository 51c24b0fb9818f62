//! Which sizes the yarn in hand makes, and what is left over or lacks for each.

use super::{Page, Role, Style, Table, cover::ONE_SIZE, judgement::each_once, per_size::role_name};
use crate::{
    app::{EnoughInHand, InHand, SizeInHand},
    measure::units::YARD_M,
    words::{and_list, joined, number},
};
use serde_json::{Value, json};

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

/// `in_hand` of `check` and `gauge`.
pub(super) fn in_hand_fields(in_hand: &InHand) -> Value {
    let size = |size: &SizeInHand| {
        json!({
            "size": size.size,
            "yarn": size.yarn,
            "need_m": size.need.as_metres(),
            "enough": match size.enough {
                EnoughInHand::WithSpare => "with spare",
                EnoughInHand::Just => "just",
                EnoughInHand::TooLittle => "no",
            },
            "left_over_m": (size.left_m >= 0.0).then_some(size.left_m),
            "missing_m": (size.left_m < 0.0).then_some(-size.left_m),
        })
    };
    json!({
        "amount": in_hand.text,
        "length_m": in_hand.length.as_metres(),
        "sizes": in_hand.sizes.iter().map(size).collect::<Vec<_>>(),
    })
}
