//! What to buy for each size: skeins, the chance of running out with them, and what
//! a need that is a mass may come to; as fields, tables and sentences.

use super::{
    Bar, Bars, Page, Picture, Role, Style, Table,
    cover::ONE_SIZE,
    json::{fields_of, list},
    per_size::counts_of_sizes,
};
use crate::{
    app::{SizeChance, SizeEstimate, SizePurchase},
    measure::{Length, units::YARD_M},
    quantity::{ClassReading, MassEstimate},
    record::YarnFacts,
    words::{count_of, number},
};

fields_of! {
    /// What to buy for one size.
    SkeinsFields(key: &str, bought: &SizePurchase) where purchase = &bought.purchase; {
        /// The size.
        size: String = bought.size.clone(),
        /// Key of the pattern's yarn; of yarns held together the name of this one.
        yarn: String = key.to_owned(),
        /// Whole skeins to buy, spare included.
        skeins: u32 = purchase.skeins,
        /// Skeins that may do, where the need is a range.
        #[serde(skip_serializing_if = "Option::is_none")]
        fewest_skeins: Option<u32> = bought.is_range().then_some(purchase.fewest),
        /// Metres of yarn needed, all strands, without spare.
        need_m: f64 = purchase.need.buy_for.as_metres(),
        /// The lower end of the need in metres, where it is a range.
        need_at_least_m: f64 = purchase.need.at_least.as_metres(),
        /// Metres bought.
        bought_m: f64 = purchase.bought.as_metres(),
        /// Metres left over, where only the need is used.
        left_over_m: f64 = purchase.left_over_m(),
        /// The same in skeins.
        left_over_skeins: f64 = purchase.left_over_skeins(),
        /// Metres short with one skein fewer; 0 where only the spare would suffer.
        one_fewer_lacks_m: f64 = purchase.one_fewer_lacks_m().max(0.0),
        /// Cost with its currency, as in `12.50 EUR`, where the price is known.
        #[serde(skip_serializing_if = "Option::is_none")]
        cost: Option<String> = bought.cost.as_ref().map(ToString::to_string),
    }
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

fields_of! {
    /// Skeins that are as sure as was asked for.
    ChanceFields(key: &str, found: &SizeChance) {
        /// The size.
        size: String = found.size.clone(),
        /// Key of the pattern's yarn.
        yarn: String = key.to_owned(),
        /// How sure it was asked to be, in percent.
        sure_percent: f64 = found.sure.as_percent(),
        /// Skeins to buy for that.
        skeins: u32 = found.skeins,
        /// Chance of running out with them, in percent.
        chance_percent: f64 = found.chance * 100.0,
        /// The chance with counts about these.
        chances: Vec<CountChance> = list(&found.about, CountChance::of),
    }
}

fields_of! {
    /// The chance of running out with a count of skeins.
    CountChance(about: &(u32, f64)) {
        /// Skeins bought.
        skeins: u32 = about.0,
        /// Chance of running out, in percent.
        chance_percent: f64 = about.1 * 100.0,
    }
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

fields_of! {
    /// What a need stated as a weight may be, by one reading of its class; `null` at an
    /// end that the table leaves open.
    EstimateFields(key: &str, estimate: &SizeEstimate) {
        /// Key of the pattern's yarn.
        yarn: String = key.to_owned(),
        /// The size.
        size: String = estimate.size.clone(),
        /// The weight class, and how its name was read.
        basis: String = basis(&estimate.estimate),
        /// Metres needed at least.
        at_least_m: Option<f64> = estimate.estimate.at_least.map(Length::as_metres),
        /// Metres needed at most.
        at_most_m: Option<f64> = estimate.estimate.at_most.map(Length::as_metres),
        /// Skeins for the least, spare included.
        fewest_skeins: Option<u32> = estimate.fewest,
        /// Skeins for the most, spare included.
        most_skeins: Option<u32> = estimate.most,
    }
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
