//! What was understood of a text: one list of facts, from which fields and page are
//! made.

use super::{
    Page, Render, Role, Style, Table,
    facts_words::{over_words, range_words, value},
    json::list,
    per_size::counts_of_sizes,
};
use crate::{
    app::ReadAnswer,
    label::{
        band::{Amount, AmountPart, BandReading, Quantity},
        reading::{NotRead, Note},
    },
    measure::{
        Interval, Length, Mass, YarnCount,
        units::{OUNCE_G, YARD_M},
    },
    record::{Blend, BlendPart, Price, PriceBasis, StatedGauge, YarnFacts, counter_in},
    trade::WeightClass,
    words::{and_list, count_of, joined, number, or_list},
};
use rust_decimal::prelude::ToPrimitive;
use serde::Serialize;
use serde_json::{Map, Value, json};
use std::fmt::Display;

/// A fact for programs, and in words where it is known.
type Said = (Value, Option<String>);

impl Render for ReadAnswer {
    fn fields(&self) -> impl Serialize {
        let mut fields = Map::new();
        let mut put = |name: &str, value: Value| fields.insert(name.to_owned(), value);
        put("text", json!(self.text));
        let title = self.title.as_ref();
        put("maker", json!(title.and_then(|title| title.maker.as_ref())));
        put("name", json!(title.map(|title| &title.name)));
        let facts = facts(&self.band, &Style::default()).into_iter();
        for (name, _, (value, _)) in facts.filter(|(name, ..)| !name.is_empty()) {
            put(name, value);
        }
        put("warnings", json!(warnings(&self.band)));
        put(
            "denied",
            self.band
                .denied
                .iter()
                .map(|group| Value::from(group.name()))
                .collect(),
        );
        put("not_read", list(&self.band.not_read, not_read));
        fields
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled(format!("Read: {}", self.text));
        let facts = facts(&self.band, style);
        let facts = facts.into_iter();
        let word = counter_in(&self.text).unwrap_or("skein");
        let facts = facts.filter_map(|(_, label, (_, words))| {
            let words = words?;
            Some(match label {
                "amount" => (label, words.replace("skein", word)),
                _ => (label, words),
            })
        });
        let known: Vec<_> = self.named().into_iter().chain(facts).collect();
        let table = Table::from(
            Table::of(&known)
                .left("understood", |(label, _)| *label)
                .left("value", |(_, words)| words.as_str()),
        );
        if table.rows.is_empty() {
            let said = match self.text.trim().is_empty() {
                true => {
                    "There is no text to read: write what a label says, as in `50 g = 125 m, 100% wool`."
                }
                false => "Nothing was understood.",
            };
            page.text(Role::Doubtful, said);
        }
        page.table(table);
        let texts = |notes: Vec<Note>| -> Vec<String> {
            notes.into_iter().map(|note| note.message).collect()
        };
        page.part("Notes", Role::Caution, &texts(self.band.noticed()));
        let unnamed = self.band.clone().without_name(self.title.as_ref());
        let left = texts(unnamed.not_taken());
        page.part("Not understood, or not used", Role::Doubtful, &left);
        page
    }
}

impl ReadAnswer {
    /// What the yarn is called.
    fn named(&self) -> Vec<(&'static str, String)> {
        let Some(title) = &self.title else {
            return Vec::new();
        };
        let maker = title.maker.iter().map(|maker| ("maker", maker.clone()));
        maker.chain([("name", title.name.clone())]).collect()
    }
}

/// Each thing that a text can say, in order: its name for programs, what people
/// call it, and what is said. Length and mass are one field and two lines.
#[rustfmt::skip] // A row for each fact.
fn facts(band: &BandReading, style: &Style) -> Vec<(&'static str, &'static str, Said)> {
    let facts = &band.facts;
    let for_people = |words: Option<String>| (Value::Null, words);
    let length = value(&facts.length).map(|length| style.length(*length));
    let mass = value(&facts.mass).map(|mass| grams_and_ounces(*mass));
    let grist = facts.grist();
    let per_gram = grist.map(|grist| grist.as_metres_per_gram());
    let needles = value(&facts.needles).map(|it| it.map(|needle| needle.as_millimetres()));
    let millimetres = |range: &_| format!("{} mm", range_words(*range));
    vec![
        ("put_up", "", (put_up(facts), None)),
        ("", "length of one", for_people(length)),
        ("", "weight of one", for_people(mass)),
        ("yarn_count", "yarn count", said(value(&facts.count), count, count_words)),
        ("grist_m_per_g", "metres per 100 g", (json!(per_gram), grist.map(|it| style.grist(it)))),
        ("blend", "fibre", said(value(&facts.blend), blend, blend_words)),
        ("gauge", "gauge", said(value(&facts.gauge), gauge, gauge_words)),
        ("needles_mm", "needle", said(needles.as_ref(), ends, millimetres)),
        ("weight_classes", "weight class", classes(facts)),
        ("wraps_per_inch", "wraps per inch", said(band.wraps_per_inch.as_ref(), ends, |it| range_words(*it))),
        ("price", "price", said(value(&facts.price), price, price_words)),
        ("amount", "amount", amounts(band, style)),
        ("other_colours", "", (list(&band.other_colours, amount), None)),
        ("construction", "construction", plain(value(&facts.construction).map(|it| it.name()))),
        ("plies", "plies", plain(facts.plies)),
        ("care", "care", plain(value(&facts.care).map(|care| care.name()))),
        ("strands_held", "strands held together", plain(band.strands_held)),
        ("gtin", "article number", plain(band.gtin.as_ref().map(ToString::to_string))),
        ("shade", "shade", plain(band.shade.as_ref())),
        ("lot", "dye lot", plain(band.lot.as_ref())),
        ("purpose", "for", plain(band.purpose.map(|purpose| purpose.name()))),
        ("fit", "fit", plain(band.fit.map(|fit| fit.name()))),
    ]
}

fn said<T>(fact: Option<&T>, fields: fn(&T) -> Value, words: impl Fn(&T) -> String) -> Said {
    (fact.map(fields).unwrap_or_default(), fact.map(words))
}

/// What is the same for programs and for people.
fn plain<T: Serialize + Display>(fact: Option<T>) -> Said {
    (json!(fact), fact.map(|fact| fact.to_string()))
}

/// Every weight class that is possible.
fn classes(facts: &YarnFacts) -> Said {
    let classes = facts.class.iter().flat_map(|class| class.value.as_slice());
    let classes: Vec<WeightClass> = classes.copied().collect();
    let numbers: Vec<u8> = classes.iter().map(|class| class.number()).collect();
    let words = (!classes.is_empty()).then(|| or_list(&classes));
    (json!(numbers), words)
}

/// Notes about what was read.
fn warnings(band: &BandReading) -> Vec<String> {
    let notes = band.warnings.iter().chain(&band.lone_length);
    notes.map(|note| note.message.clone()).collect()
}

/// A part that was not taken: its first byte and the one after its last, why not,
/// and what to write instead.
fn not_read(part: &NotRead) -> Value {
    json!({
        "text": part.text,
        "from": part.span.start,
        "to": part.span.end,
        "why": part.why,
    })
}

/// `[low, high]`.
fn ends(range: &Interval<f64>) -> Value {
    json!([range.low(), range.high()])
}

/// Length and mass of one skein; `null` where neither is given.
fn put_up(facts: &YarnFacts) -> Value {
    let length = value(&facts.length).map(|length| length.as_metres());
    let mass = value(&facts.mass).map(|mass| mass.as_grams());
    match (length, mass) {
        (None, None) => Value::Null,
        _ => json!({ "length_m": length, "mass_g": mass }),
    }
}

fn grams_and_ounces(mass: Mass) -> String {
    let grams = mass.as_grams();
    format!("{} g ({} oz)", number(grams, 1), number(grams / OUNCE_G, 2))
}

/// The number of one single, how many singles, and the system as printed.
fn count(count: &YarnCount) -> Value {
    json!({
        "number": count.single(),
        "plies": count.plies(),
        "system": count.system().symbol(),
    })
}

fn count_words(count: &YarnCount) -> String {
    let singles = count_of(f64::from(count.plies()), "single");
    let system = count.system().symbol();
    format!("{singles} of {} {system}", number(count.single(), 3))
}

/// Shares of the mass.
fn blend(blend: &Blend) -> Value {
    list(
        blend.parts(),
        |part: &BlendPart| json!({ "fibre": part.fibre.to_string(), "percent": part.percent }),
    )
}

fn blend_words(blend: &Blend) -> String {
    let parts = blend.parts().iter();
    joined(
        parts.map(|part| format!("{} % {}", number(part.percent, 1), part.fibre)),
        ", ",
    )
}

/// `over_m` is `null` where the text does not say over what length.
fn gauge(stated: &StatedGauge) -> Value {
    json!({
        "stitches": ends(&stated.gauge.stitches()),
        "rows": stated.gauge.rows().as_ref().map(ends),
        "over_m": stated.gauge.over().map(|over| over.as_metres()),
        "stitch": stated.stitch.as_ref().map(|stitch| stitch.name()),
        "worked": stated.worked.map(|worked| worked.name()),
        "washed": stated.washed,
        "strands": stated.strands,
    })
}

fn gauge_words(stated: &StatedGauge) -> String {
    let rows = stated.gauge.rows();
    let rows = rows.map(|rows| format!(" x {} rows", range_words(rows)));
    let over = match stated.gauge.over() {
        Some(over) => over_words(over.as_metres()),
        None => "a length that is not given".to_owned(),
    };
    let washed = |washed| if washed { "washed" } else { "not washed" };
    let said = [
        stated.stitch.as_ref().map(|it| it.name().to_owned()),
        stated.worked.map(|worked| worked.name().to_owned()),
        stated.washed.map(|it| washed(it).to_owned()),
        stated.strands.map(|n| count_of(f64::from(n), "strand")),
    ];
    let said = said.into_iter().flatten().map(|it| format!(", {it}"));
    format!(
        "{} stitches{} over {over}{}",
        range_words(stated.gauge.stitches()),
        rows.unwrap_or_default(),
        said.collect::<String>()
    )
}

/// In units of the currency, its ISO 4217 code, and what that buys.
fn price(price: &Price) -> Value {
    json!({
        "amount": price.money.amount.to_f64(),
        "currency": price.money.currency.code(),
        "per": basis(price.per, "skein"),
    })
}

fn price_words(price: &Price) -> String {
    let amount = price.money.amount.to_f64();
    let amount = amount.map(|amount| format!("{amount:.2} "));
    format!(
        "{}{} for {}",
        amount.unwrap_or_default(),
        price.money.currency.code(),
        basis(price.per, "one skein")
    )
}

fn basis(per: PriceBasis, skein: &str) -> String {
    match per {
        PriceBasis::Skein => skein.to_owned(),
        PriceBasis::Mass(mass) => format!("{} g", number(mass.as_grams(), 3)),
        PriceBasis::Length(length) => format!("{} m", number(length.as_metres(), 3)),
    }
}

/// As it was written, one part a size, and loose grams beside counted skeins.
fn amount(amount: &Amount) -> Value {
    json!({
        "text": amount.text,
        "parts": list(&amount.parts, amount_part),
        "plus_g": amount.plus.map(|mass| mass.as_grams()),
        "about": amount.about,
        "each_of": amount.each_of,
    })
}

/// The amount of one size, where that is named: one of `skeins`, `length_m`,
/// `mass_g`.
fn amount_part(part: &AmountPart) -> Value {
    let (name, range) = match part.quantity {
        Quantity::Skeins(range) => ("skeins", range),
        Quantity::Length(range) => ("length_m", range.map(Length::as_metres)),
        Quantity::Mass(range) => ("mass_g", range.map(Mass::as_grams)),
    };
    json!({ "size": part.size, name: ends(&range) })
}

/// The amount for programs, and for people the amounts of all colours.
fn amounts(band: &BandReading, style: &Style) -> Said {
    let all = band.amount.iter().chain(&band.other_colours);
    let words = joined(all.map(|amount| amount_words(amount, style)), "; ");
    let known = (!words.is_empty()).then_some(words);
    (band.amount.as_ref().map(amount).unwrap_or_default(), known)
}

fn amount_words(amount: &Amount, style: &Style) -> String {
    let parts = joined(
        amount.parts.iter().map(|part| part_words(part, style)),
        "; ",
    );
    let about = if amount.about { "about " } else { "" };
    let plus = amount.plus;
    let plus = plus.map(|mass| format!(" and {} g", number(mass.as_grams(), 1)));
    let each = if amount.each_of.is_empty() {
        String::new()
    } else {
        format!(", each of {}", and_list(&amount.each_of))
    };
    format!("{about}{parts}{}{each}", plus.unwrap_or_default())
}

fn part_words(part: &AmountPart, style: &Style) -> String {
    let quantity = match part.quantity {
        Quantity::Skeins(range) => counts_of_sizes([range_words(range)], "skein"),
        Quantity::Length(range) => {
            let metres = range.map(Length::as_metres);
            both(metres, ("m", "yd"), (YARD_M, 0), style)
        }
        Quantity::Mass(range) => {
            let grams = range.map(Mass::as_grams);
            both(grams, ("g", "oz"), (OUNCE_G, 1), style)
        }
    };
    match &part.size {
        Some(size) => format!("size {size}: {quantity}"),
        None => quantity,
    }
}

/// A range in a metric unit and in its fellow: of so many of the one, with so many
/// decimals of the other.
fn both(
    range: Interval<f64>,
    (metric, fellow): (&str, &str),
    (factor, places): (f64, usize),
    style: &Style,
) -> String {
    let ends = |factor: f64, places| {
        let ends = [range.low(), range.high()];
        let [low, high] = ends.map(|end| number(end / factor, places));
        if low == high {
            low
        } else {
            format!("{low} to {high}")
        }
    };
    style.pair(
        format!("{} {metric}", ends(1.0, 1)),
        format!("{} {fellow}", ends(factor, places)),
    )
}
