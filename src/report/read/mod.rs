//! What was understood of a text.

mod fields;

use super::{
    Page, Render, Role, Style, Table,
    facts_words::{over_words, range_words, value},
    per_size::counts_of_sizes,
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
    record::{Blend, Price, PriceBasis, StatedGauge, YarnFacts, counter_in},
    trade::WeightClass,
    words::{and_list, count_of, joined, number, or_list},
};
use fields::ReadFields;
use rust_decimal::prelude::ToPrimitive;

impl Render for ReadAnswer {
    type Fields = ReadFields;

    fn fields(&self) -> Self::Fields {
        ReadFields::of(self)
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled(format!("Read: {}", self.text));
        let word = counter_in(&self.text).unwrap_or("skein");
        let facts = facts(&self.band, style).into_iter();
        let facts = facts.filter_map(|(label, words)| {
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

/// Each thing that a text can say, in order: what people call it, and what is said.
#[rustfmt::skip] // A row for each fact.
fn facts(band: &BandReading, style: &Style) -> Vec<(&'static str, Option<String>)> {
    let facts = &band.facts;
    let needles = value(&facts.needles).map(|it| it.map(|needle| needle.as_millimetres()));
    let classes = classes(facts);
    vec![
        ("length of one", value(&facts.length).map(|length| style.length(*length))),
        ("weight of one", value(&facts.mass).map(|mass| grams_and_ounces(*mass))),
        ("yarn count", value(&facts.count).map(count_words)),
        ("metres per 100 g", facts.grist().map(|it| style.grist(it))),
        ("fibre", value(&facts.blend).map(blend_words)),
        ("gauge", value(&facts.gauge).map(gauge_words)),
        ("needle", needles.map(|range| format!("{} mm", range_words(range)))),
        ("weight class", (!classes.is_empty()).then(|| or_list(&classes))),
        ("wraps per inch", band.wraps_per_inch.map(range_words)),
        ("price", value(&facts.price).map(price_words)),
        ("amount", amounts(band, style)),
        ("construction", value(&facts.construction).map(|it| it.name().to_owned())),
        ("plies", facts.plies.map(|plies| plies.to_string())),
        ("care", value(&facts.care).map(|care| care.name().to_owned())),
        ("strands held together", band.strands_held.map(|strands| strands.to_string())),
        ("article number", band.gtin.as_ref().map(ToString::to_string)),
        ("shade", band.shade.clone()),
        ("dye lot", band.lot.clone()),
        ("for", band.purpose.map(|purpose| purpose.name().to_owned())),
        ("fit", band.fit.map(|fit| fit.name().to_owned())),
    ]
}

/// Every weight class that is possible.
fn classes(facts: &YarnFacts) -> Vec<WeightClass> {
    let classes = facts.class.iter().flat_map(|class| class.value.as_slice());
    classes.copied().collect()
}

/// Notes about what was read.
fn warnings(band: &BandReading) -> Vec<String> {
    let notes = band.warnings.iter().chain(&band.lone_length);
    notes.map(|note| note.message.clone()).collect()
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

fn blend_words(blend: &Blend) -> String {
    let parts = blend.parts().iter();
    joined(
        parts.map(|part| format!("{} % {}", number(part.percent, 1), part.fibre)),
        ", ",
    )
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

/// The amounts of all colours.
fn amounts(band: &BandReading, style: &Style) -> Option<String> {
    let all = band.amount.iter().chain(&band.other_colours);
    let words = joined(all.map(|amount| amount_words(amount, style)), "; ");
    (!words.is_empty()).then_some(words)
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
