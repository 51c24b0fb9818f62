//! A reading in words.

use super::{
    AmountFields, AmountPartFields, BlendFields, CountFields, GaugeFields, PriceFields, ReadReport,
};
use crate::{
    measure::{
        Grist, Length,
        units::{OUNCE_G, YARD_M},
    },
    report::{
        Align, Page, Report, Role, Table, facts_words::over_words, metres_and_yards,
        per_100_g_and_pound, per_size::skeins_of_sizes,
    },
    words::{and_list, count_of, number, or_list},
};

impl Report for ReadReport {
    fn page(&self) -> Page {
        let mut page = Page::titled(format!("Read: {}", self.text));
        let mut table = Table::new(&[("understood", Align::Left), ("value", Align::Left)]);
        let rows = self.understood();
        table.rows = rows
            .into_iter()
            .filter_map(|(what, value)| Some(vec![what.to_owned(), value?]))
            .collect();
        if table.rows.is_empty() {
            page.text(Role::Doubtful, "Nothing was understood.");
        }
        page.table(table);
        page.part("To know", Role::Caution, &self.warnings);
        let left: Vec<String> = self
            .not_read
            .iter()
            .map(|part| format!("`{}`: {}", part.text, part.why))
            .collect();
        page.part("Not understood, or not taken", Role::Doubtful, &left);
        page
    }
}

impl ReadReport {
    fn understood(&self) -> Vec<(&'static str, Option<String>)> {
        let put_up = self.put_up.as_ref();
        let classes: Vec<String> = self.weight_classes.iter().map(u8::to_string).collect();
        vec![
            (
                "length of one skein",
                put_up
                    .and_then(|p| p.length_m)
                    .and_then(|m| Length::metres(m).ok())
                    .map(metres_and_yards),
            ),
            (
                "mass of one skein",
                put_up.and_then(|p| p.mass_g).map(grams_and_ounces),
            ),
            ("yarn count", self.yarn_count.as_ref().map(count_words)),
            (
                "length per mass",
                self.grist_m_per_g
                    .and_then(|g| Grist::metres_per_gram(g).ok())
                    .map(per_100_g_and_pound),
            ),
            ("fibre", self.blend.as_ref().map(|parts| blend_words(parts))),
            ("gauge", self.gauge.as_ref().map(gauge_words)),
            (
                "needle",
                self.needles_mm
                    .map(|range| format!("{} mm", range_words(range))),
            ),
            (
                "weight class",
                (!classes.is_empty()).then(|| or_list(&classes)),
            ),
            ("wraps per inch", self.wraps_per_inch.map(range_words)),
            ("price", self.price.as_ref().map(price_words)),
            ("amount", self.amount.as_ref().map(|amount| amount.words())),
            ("construction", self.construction.map(str::to_owned)),
            ("plies", self.plies.map(|n| n.to_string())),
            ("care", self.care.map(str::to_owned)),
            (
                "strands held together",
                self.strands_held.map(|n| n.to_string()),
            ),
            ("article number", self.gtin.clone()),
            ("shade", self.shade.clone()),
            ("dye lot", self.lot.clone()),
            ("for", self.purpose.map(str::to_owned)),
            ("fit", self.fit.map(str::to_owned)),
        ]
    }
}

fn grams_and_ounces(grams: f64) -> String {
    format!("{} g ({} oz)", number(grams, 1), number(grams / OUNCE_G, 2))
}

/// A range in a metric unit and in its fellow: of so many of the one, with so many
/// decimals of the other.
fn both(
    [low, high]: [f64; 2],
    (metric, (factor, fellow, places)): (&str, (f64, &str, usize)),
) -> String {
    let ends = |factor: f64, places| {
        let [low, high] = [low, high].map(|end| number(end / factor, places));
        match low == high {
            true => low,
            false => format!("{low} to {high}"),
        }
    };
    format!(
        "{} {metric} ({} {fellow})",
        ends(1.0, 1),
        ends(factor, places)
    )
}

fn count_words(count: &CountFields) -> String {
    let singles = count_of(f64::from(count.plies), "single");
    format!("{singles} of {} {}", number(count.number, 3), count.system)
}

fn price_words(price: &PriceFields) -> String {
    let amount = price.amount.map(|a| format!("{a:.2}")).unwrap_or_default();
    let per = match price.per.as_str() {
        "skein" => "one skein",
        quantity => quantity,
    };
    format!("{amount} {} for {per}", price.currency)
}

fn blend_words(parts: &[BlendFields]) -> String {
    let words: Vec<String> = parts
        .iter()
        .map(|part| format!("{} % {}", number(part.percent, 1), part.fibre))
        .collect();
    words.join(", ")
}

fn range_words([low, high]: [f64; 2]) -> String {
    match low == high {
        true => number(low, 2),
        false => format!("{} to {}", number(low, 2), number(high, 2)),
    }
}

fn gauge_words(gauge: &GaugeFields) -> String {
    let rows = gauge
        .rows
        .map(|rows| format!(" x {} rows", range_words(rows)))
        .unwrap_or_default();
    let over = match gauge.over_m {
        Some(metres) => format!("over {}", over_words(metres)),
        None => "over a length that is not stated".to_owned(),
    };
    let said = [
        gauge.stitch.clone(),
        gauge.worked.map(str::to_owned),
        gauge
            .washed
            .map(|washed| if washed { "washed" } else { "not washed" }.to_owned()),
        gauge.strands.map(|n| count_of(f64::from(n), "strand")),
    ];
    let said: String = said
        .into_iter()
        .flatten()
        .map(|word| format!(", {word}"))
        .collect();
    format!(
        "{} stitches{rows} {over}{said}",
        range_words(gauge.stitches)
    )
}

impl AmountFields {
    fn words(&self) -> String {
        let parts: Vec<String> = self.parts.iter().map(AmountPartFields::words).collect();
        let about = if self.about { "about " } else { "" };
        let plus = self
            .plus_g
            .map(|g| format!(" and {} g", number(g, 1)))
            .unwrap_or_default();
        let each = match self.each_of.is_empty() {
            true => String::new(),
            false => format!(", each of {}", and_list(&self.each_of)),
        };
        format!("{about}{}{plus}{each}", parts.join("; "))
    }
}

impl AmountPartFields {
    fn words(&self) -> String {
        let size = self
            .size
            .as_ref()
            .map(|size| format!("size {size}: "))
            .unwrap_or_default();
        let quantity = [
            self.skeins
                .map(|range| skeins_of_sizes(&[range_words(range)])),
            self.length_m
                .map(|range| both(range, ("m", (YARD_M, "yd", 0)))),
            self.mass_g
                .map(|range| both(range, ("g", (OUNCE_G, "oz", 1)))),
        ];
        format!(
            "{size}{}",
            quantity.into_iter().flatten().collect::<String>()
        )
    }
}
