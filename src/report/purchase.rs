//! What to buy for each size: skeins, the chance of running out with them, and what
//! a need that is a mass may come to; as fields, tables and sentences.

use super::{
    Bar, Bars, Page, Picture, Role, Style, Table, cover::ONE_SIZE, json::without_empty,
    per_size::counts_of_sizes,
};
use crate::{
    app::{SizeChance, SizeEstimate, SizePurchase},
    measure::{Length, units::YARD_M},
    quantity::{ClassReading, MassEstimate},
    record::YarnFacts,
    words::{count_of, number},
};
use serde_json::{Value, json};

/// Skeins of one size and role. Needs are strand metres without the margin;
/// `fewest_skeins` might do where the need is a range; `one_fewer_lacks_m` is 0
/// where one skein fewer is enough and only the margin would suffer.
pub(super) fn skeins_fields(key: &str, bought: &SizePurchase) -> Value {
    let purchase = &bought.purchase;
    let fields = json!({
        "size": bought.size,
        "yarn": key,
        "skeins": purchase.skeins,
        "fewest_skeins": bought.is_range().then_some(purchase.fewest),
        "need_m": purchase.need.buy_for.as_metres(),
        "need_at_least_m": purchase.need.at_least.as_metres(),
        "bought_m": purchase.bought.as_metres(),
        "left_over_m": purchase.left_over_m(),
        "left_over_skeins": purchase.left_over_skeins(),
        "one_fewer_lacks_m": purchase.one_fewer_lacks_m().max(0.0),
        "cost": bought.cost.as_ref().map(ToString::to_string),
    });
    without_empty(fields, &["fewest_skeins", "cost"])
}

/// The head of what a need in mass may come to.
pub(super) const ESTIMATED: &str = "Estimated, since the pattern gives a weight and not a length";

/// What one of this yarn is called: the word of its record, else a skein.
pub(super) fn counter(facts: &YarnFacts) -> &'static str {
    facts.counter()
}

/// `1 ball`, `14 balls`.
pub(super) fn counted(count: u32, word: &str) -> String {
    count_of(f64::from(count), word)
}

/// All that is known of what to buy for each size, as a table.
pub(super) fn add_skeins(page: &mut Page, sizes: &[SizePurchase], word: &str, style: &Style) {
    let both = |metres: f64| [metres, metres / YARD_M].map(|length| number(length, 0));
    let [unit, _] = style.ordered("m", "yd");
    let first = |metres: f64| {
        let [first, _] = style.ordered(metres, metres / YARD_M);
        number(first, 0)
    };
    let table = Table::of(sizes)
        .left("size", |bought| bought.size.as_str())
        .pair(style, "needs", ["m", "yd"], |bought| {
            both(bought.purchase.need.buy_for.as_metres())
        })
        .right(&format!("{word}s"), |bought| bought.purchase.skeins)
        .right("minimum", SizePurchase::minimum)
        .right(&format!("bought {unit}"), |bought| {
            first(bought.purchase.bought.as_metres())
        })
        .right(&format!("left over {unit}"), |bought| {
            first(bought.purchase.left_over_m())
        })
        .right(&format!("one fewer, short {unit}"), |bought| {
            first(bought.purchase.one_fewer_lacks_m().max(0.0))
        })
        .right("cost", |bought| {
            bought.cost.as_ref().map(ToString::to_string)
        });
    page.table(table);
    if sizes.iter().any(|bought| bought.minimum().is_some()) {
        page.text(Role::Aside, format!("The pattern gives a range: so many whole skeins of its own yarn, or from and to. The minimum is for its lower end, the {word}s are for its upper: buy those."));
    }
}

/// What is short with one fewer: `Short by 12 m if you buy one fewer.`
pub(super) fn one_fewer(bought: &SizePurchase, style: &Style) -> Option<String> {
    let lacks = Length::metres(bought.purchase.one_fewer_lacks_m()).ok()?;
    let is_short = bought.purchase.skeins > 1 && lacks.as_metres() > 0.0;
    is_short.then(|| {
        format!(
            "Short by {} if you buy one fewer.",
            style.length_alone(lacks)
        )
    })
}

/// Skeins that are as sure as was asked for, for one size and role, and the chance
/// of running out with counts about them.
pub(super) fn chance_fields(key: &str, found: &SizeChance) -> Value {
    let about = found.about.iter();
    let chance = |(skeins, chance): &(u32, f64)| json!({ "skeins": skeins, "chance_percent": chance * 100.0 });
    json!({
        "size": found.size,
        "yarn": key,
        "sure_percent": found.sure.as_percent(),
        "skeins": found.skeins,
        "chance_percent": found.chance * 100.0,
        "chances": about.map(chance).collect::<Vec<_>>(),
    })
}

/// The chance of running out as a part of a page, where it was asked for.
pub(super) fn add_chances(page: &mut Page, found: &[SizeChance], word: &str) {
    if let Some(first) = found.first() {
        let sure = number(first.sure.as_percent(), 2);
        page.section(format!("To be {sure} % sure of enough"));
        page.picture(chance_bars(found, word));
    }
}

/// The chance of running out with so many of this word, a bar each; nothing where it
/// was not asked for.
pub(super) fn chance_bars(found: &[SizeChance], word: &str) -> Option<Picture> {
    let groups = |size: &SizeChance| match found.len() {
        1 => String::new(),
        _ => size.size.clone(),
    };
    let bar = |size: &SizeChance, (skeins, chance): (u32, f64)| {
        let sure = match skeins == size.skeins {
            true => format!(", {} % sure", number(size.sure.as_percent(), 2)),
            false => String::new(),
        };
        Bar {
            group: groups(size),
            label: format!("{}{sure}", counted(skeins, word)),
            parts: vec![chance * 100.0],
            shown: format!("{} %", share(chance)),
        }
    };
    let bars = found
        .iter()
        .flat_map(|size| size.about.iter().map(move |about| bar(size, *about)));
    (!found.is_empty()).then(|| {
        Picture::Bars(Bars {
            title: format!("Chance of running out, by {word}s bought"),
            heads: ["size".to_owned(), "you buy".to_owned()],
            parts: vec!["chance of running out".to_owned()],
            most: 100.0,
            bars: bars.collect(),
        })
    })
}

/// The same in one sentence, sizes in order; nothing where it was not asked for.
pub(super) fn chance_sentence(found: &[SizeChance], word: &str) -> Option<String> {
    let sure = number(found.first()?.sure.as_percent(), 2);
    let most = share(found.iter().map(|size| size.chance).fold(0.0, f64::max));
    let at_most = if found.len() > 1 { "at most " } else { "" };
    let skeins = counts_of_sizes(found.iter().map(|size| size.skeins), word);
    Some(format!(
        "To be {sure} % sure of enough: {skeins}; chance of running out then {at_most}{most} %"
    ))
}

/// A chance in percent; never a bare 0 or 100: a chance is not a promise.
fn share(chance: f64) -> String {
    match chance * 100.0 {
        percent if percent < 0.1 => "under 0.1".to_owned(),
        percent if percent > 99.9 => "over 99.9".to_owned(),
        percent => number(percent, 1),
    }
}

/// What a need stated as a mass alone may be, by one reading of its class; an end
/// that the table leaves open is `null`. Skeins include the margin.
pub(super) fn estimate_fields(key: &str, estimate: &SizeEstimate) -> Value {
    json!({
        "yarn": key,
        "size": estimate.size,
        "basis": basis(&estimate.estimate),
        "at_least_m": estimate.estimate.at_least.map(Length::as_metres),
        "at_most_m": estimate.estimate.at_most.map(Length::as_metres),
        "fewest_skeins": estimate.fewest,
        "most_skeins": estimate.most,
    })
}

/// The same as sentences.
pub(super) fn estimate_sentences(
    estimates: &[SizeEstimate],
    word: &str,
    style: &Style,
) -> Vec<String> {
    let metres = |end: Option<Length>| end.map_or("an open end".to_owned(), |m| style.length(m));
    let skeins = |end: Option<u32>| end.map_or("no limit".to_owned(), |n| n.to_string());
    let sentence = |estimate: &SizeEstimate| {
        let SizeEstimate {
            size, fewest, most, ..
        } = estimate;
        let size = match size.as_str() {
            ONE_SIZE => String::new(),
            size => format!("Size {size}: "),
        };
        format!(
            "{size}{} to {} {word}s, {} to {}, if its yarn was {}.",
            skeins(*fewest),
            skeins(*most),
            metres(estimate.estimate.at_least),
            metres(estimate.estimate.at_most),
            basis(&estimate.estimate),
        )
    };
    estimates.iter().map(sentence).collect()
}

/// The class that an estimate rests on.
fn basis(estimate: &MassEstimate) -> String {
    let reading = match estimate.reading {
        ClassReading::Today => "as the name is used today",
        ClassReading::OneFiner => "one class finer, as old yarn often is (common practice)",
    };
    format!("class {}, {reading}", estimate.class)
}
