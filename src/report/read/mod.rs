//! What was understood of a piece of text.

mod fields;

use super::{
    Align, Page, Render, Role, Style, Table,
    facts_words::{over_words, range_words},
    per_size::skeins_of_sizes,
};
use crate::{
    app::ReadAnswer,
    label::{
        band::{Amount, AmountPart, BandReading, Quantity},
        reading::Note,
    },
    measure::{
        Interval, Length, Mass, YarnCount,
        units::{OUNCE_G, YARD_M},
    },
    record::{Blend, Price, StatedGauge},
    words::{and_list, count_of, number, or_list},
};
use fields::{ReadFields, price_fields};
use serde::Serialize;

impl Render for ReadAnswer {
    fn fields(&self) -> impl Serialize {
        ReadFields::new(self)
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled(format!("Read: {}", self.text));
        let mut table = Table::new(&[("understood", Align::Left), ("value", Align::Left)]);
        let rows = understood(&self.band, style).into_iter();
        table.rows = rows
            .filter_map(|(what, value)| Some(vec![what.to_owned(), value?]))
            .collect();
        if table.rows.is_empty() {
            page.text(Role::Doubtful, "Nothing was understood.");
        }
        page.table(table);
        let texts = |notes: Vec<Note>| -> Vec<String> {
            notes.into_iter().map(|note| note.message).collect()
        };
        page.part("To know", Role::Caution, &texts(self.band.noticed()));
        let left = texts(self.band.not_taken());
        page.part("Not understood, or not taken", Role::Doubtful, &left);
        page
    }
}

/// Each thing that a band can say, and what it says, in order.
fn understood(band: &BandReading, style: &Style) -> Vec<(&'static str, Option<String>)> {
    [of_yarn(band, style), of_use(band, style)].concat()
}

fn of_yarn(band: &BandReading, style: &Style) -> Vec<(&'static str, Option<String>)> {
    let facts = &band.facts;
    let length = facts.length.as_ref().map(|it| style.length(it.value));
    let classes = facts.class.iter().flat_map(|it| it.value.as_slice());
    let classes: Vec<String> = classes.map(|class| class.number().to_string()).collect();
    let needles = facts.needles.as_ref().map(|it| it.value);
    let needles = needles.map(|it| range_words(it.map(|needle| needle.as_millimetres())));
    vec![
        ("length of one skein", length),
        (
            "mass of one skein",
            facts.mass.as_ref().map(|it| grams_and_ounces(it.value)),
        ),
        (
            "yarn count",
            facts.count.as_ref().map(|it| count_words(&it.value)),
        ),
        (
            "length per mass",
            facts.grist().map(|grist| style.grist(grist)),
        ),
        (
            "fibre",
            facts.blend.as_ref().map(|it| blend_words(&it.value)),
        ),
        (
            "gauge",
            facts.gauge.as_ref().map(|it| gauge_words(&it.value)),
        ),
        ("needle", needles.map(|range| format!("{range} mm"))),
        (
            "weight class",
            (!classes.is_empty()).then(|| or_list(&classes)),
        ),
        ("wraps per inch", band.wraps_per_inch.map(range_words)),
        (
            "price",
            facts.price.as_ref().map(|it| price_words(&it.value)),
        ),
    ]
}

fn of_use(band: &BandReading, style: &Style) -> Vec<(&'static str, Option<String>)> {
    let facts = &band.facts;
    let named = |name: Option<&'static str>| name.map(str::to_owned);
    vec![
        ("amount", amounts_words(band, style)),
        (
            "construction",
            named(facts.construction.as_ref().map(|it| it.value.name())),
        ),
        ("plies", facts.plies.map(|n| n.to_string())),
        (
            "care",
            named(facts.care.as_ref().map(|care| care.value.name())),
        ),
        (
            "strands held together",
            band.strands_held.map(|n| n.to_string()),
        ),
        (
            "article number",
            band.gtin.as_ref().map(ToString::to_string),
        ),
        ("shade", band.shade.clone()),
        ("dye lot", band.lot.clone()),
        ("for", named(band.purpose.map(|purpose| purpose.name()))),
        ("fit", named(band.fit.map(|fit| fit.name()))),
    ]
}

fn grams_and_ounces(mass: Mass) -> String {
    let grams = mass.as_grams();
    format!("{} g ({} oz)", number(grams, 1), number(grams / OUNCE_G, 2))
}

fn count_words(count: &YarnCount) -> String {
    let singles = count_of(f64::from(count.plies()), "single");
    let system = count.system().symbol();
    format!("{singles} of {} {system}", number(count.single(), 3))
}

fn price_words(price: &Price) -> String {
    let fields = price_fields(price);
    let per = match fields.per.as_str() {
        "skein" => "one skein",
        quantity => quantity,
    };
    let amount = fields.amount.map(|amount| format!("{amount:.2} "));
    format!(
        "{}{} for {per}",
        amount.unwrap_or_default(),
        fields.currency
    )
}

fn blend_words(blend: &Blend) -> String {
    let parts = blend.parts().iter();
    let words: Vec<String> = parts
        .map(|part| format!("{} % {}", number(part.percent, 1), part.fibre))
        .collect();
    words.join(", ")
}

fn gauge_words(stated: &StatedGauge) -> String {
    let rows = stated.gauge.rows();
    let rows = rows.map(|rows| format!(" x {} rows", range_words(rows)));
    let over = match stated.gauge.over() {
        Some(over) => over_words(over.as_metres()),
        None => "a length that is not stated".to_owned(),
    };
    let washed = |washed| if washed { "washed" } else { "not washed" };
    let said = [
        stated.stitch.as_ref().map(|it| it.name().to_owned()),
        stated.worked.map(|worked| worked.name().to_owned()),
        stated.washed.map(|it| washed(it).to_owned()),
        stated.strands.map(|n| count_of(f64::from(n), "strand")),
    ];
    let said: String = said
        .into_iter()
        .flatten()
        .map(|it| format!(", {it}"))
        .collect();
    format!(
        "{} stitches{} over {over}{said}",
        range_words(stated.gauge.stitches()),
        rows.unwrap_or_default()
    )
}

/// The amounts of all colours.
fn amounts_words(band: &BandReading, style: &Style) -> Option<String> {
    let amounts = band.amount.iter().chain(&band.other_colours);
    let words: Vec<String> = amounts.map(|amount| amount_words(amount, style)).collect();
    (!words.is_empty()).then(|| words.join("; "))
}

fn amount_words(amount: &Amount, style: &Style) -> String {
    let parts = amount.parts.iter();
    let parts: Vec<String> = parts.map(|part| part_words(part, style)).collect();
    let about = if amount.about { "about " } else { "" };
    let plus = amount
        .plus
        .map(|mass| format!(" and {} g", number(mass.as_grams(), 1)));
    let each = if amount.each_of.is_empty() {
        String::new()
    } else {
        format!(", each of {}", and_list(&amount.each_of))
    };
    format!(
        "{about}{}{}{each}",
        parts.join("; "),
        plus.unwrap_or_default()
    )
}

fn part_words(part: &AmountPart, style: &Style) -> String {
    let quantity = match part.quantity {
        Quantity::Skeins(range) => skeins_of_sizes(&[range_words(range)]),
        Quantity::Length(range) => both(
            range.map(Length::as_metres),
            ("m", "yd"),
            (YARD_M, 0),
            style,
        ),
        Quantity::Mass(range) => both(
            range.map(|mass| mass.as_grams()),
            ("g", "oz"),
            (OUNCE_G, 1),
            style,
        ),
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
        let (low, high) = (range.low() / factor, range.high() / factor);
        let [low, high] = [low, high].map(|end| number(end, places));
        if low == high {
            low
        } else {
            format!("{low} to {high}")
        }
    };
    let [first, second] = style.ordered(
        format!("{} {metric}", ends(1.0, 1)),
        format!("{} {fellow}", ends(factor, places)),
    );
    format!("{first} ({second})")
}
