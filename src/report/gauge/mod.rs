//! A pattern at a gauge that is not its own.

mod fields;
mod words;

use super::{Align, Page, Render, Role, SWATCH_LINE, Style, Table, gauge_words};
use crate::{
    app::{GaugeAnswer, Keep, NeedAtGauge, SizeAtGauge},
    measure::Length,
    quantity::{FinishedSize, Purchase},
    words::{number, signed},
};
use fields::GaugeFields;
use serde::Serialize;

impl Render for GaugeAnswer {
    fn fields(&self) -> impl Serialize {
        GaugeFields::new(self)
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled(format!("{} at your gauge", self.pattern));
        let (pattern, own) = (
            gauge_words(&self.pattern_gauge),
            gauge_words(&self.own.gauge),
        );
        page.text(Role::Plain, format!("The pattern's gauge: {pattern}"));
        let source = words::source(&self.own.source);
        page.text(Role::Plain, format!("Your gauge: {own}; {source}"));
        page.section(counts_head(self.reading.keep));
        page.table(counts_kept(self, style));
        page.section("Which size to knit instead");
        page.table(instead(&self.sizes, style));
        page.section("To keep the size");
        page.table(reworked(&self.sizes, style));
        needs(self, &mut page, style);
        if let Some(growth) = &self.own.growth {
            page.section("In the wash");
            page.text(Role::Plain, words::growth(growth));
            page.table(before_washing(&self.sizes, style));
        }
        page.section("Your tendency against labels");
        page.text(Role::Aside, words::tendency(self, style));
        page.part("Working", Role::Aside, &words::working(self, style));
        page.part("To know", Role::Caution, &words::warnings(self, style));
        page.section("Before you buy");
        page.text(Role::Plain, SWATCH_LINE);
        page
    }
}

/// A table whose cells for measures come in pairs, `None` among the heads.
fn sized(heads: &[(&str, Align)], style: &Style) -> Table {
    let mut columns = Vec::new();
    for (head, align) in heads {
        match head.strip_suffix(" cm") {
            Some(what) => columns.extend(style.heads(what, "cm", "in").map(|head| (head, *align))),
            None => columns.push(((*head).to_owned(), *align)),
        }
    }
    let columns: Vec<(&str, Align)> = columns
        .iter()
        .map(|(head, align)| (head.as_str(), *align))
        .collect();
    Table::new(&columns)
}

/// Width and height in centimetres and in inches, in the order preferred.
fn measures(size: &FinishedSize, style: &Style) -> [String; 2] {
    let each = |in_unit: fn(Length) -> f64| {
        let known = [size.width, size.height].into_iter().flatten();
        let known: Vec<String> = known.map(|length| number(in_unit(length), 1)).collect();
        known.join(" x ")
    };
    style.ordered(each(centimetres), each(Length::as_inches))
}

fn centimetres(length: Length) -> f64 {
    length.as_metres() * 100.0
}

/// What is kept where the size is not.
fn counts_head(keep: Keep) -> &'static str {
    match keep {
        Keep::Counts => "The pattern's stitches and rows at your gauge",
        Keep::Size | Keep::Stitches => "The pattern's stitches at your gauge, its lengths by tape",
    }
}

fn counts_kept(answer: &GaugeAnswer, style: &Style) -> Table {
    let heads = [
        ("size", Align::Left),
        ("wanted cm", Align::Right),
        ("comes out cm", Align::Right),
    ];
    let mut table = sized(&heads, style);
    table.columns.push(("off cm".to_owned(), Align::Right));
    let row = |size: &SizeAtGauge| {
        let comes_out = match answer.reading.keep {
            Keep::Counts => &size.counts_kept,
            Keep::Size | Keep::Stitches => &size.stitches_kept,
        };
        let widths = comes_out.width.zip(size.intended.size.width);
        let off = widths.map(|(kept, wanted)| (kept.as_metres() - wanted.as_metres()) * 100.0);
        let [wanted, other_wanted] = measures(&size.intended.size, style);
        let [kept, other_kept] = measures(comes_out, style);
        let off = off.map_or_else(String::new, |off| signed(off, 1));
        vec![
            size.name.clone(),
            wanted,
            other_wanted,
            kept,
            other_kept,
            off,
        ]
    };
    table.rows = answer.sizes.iter().map(row).collect();
    table
}

/// The size whose counts come nearest; nothing where no width is known.
fn instead(sizes: &[SizeAtGauge], style: &Style) -> Table {
    let heads = [
        ("wanted", Align::Left),
        ("knit", Align::Left),
        ("comes out cm", Align::Right),
    ];
    let mut table = sized(&heads, style);
    let row = |size: &SizeAtGauge| {
        let (other, comes_out) = size.instead.as_ref()?;
        let knit = if *other == size.name {
            "this size"
        } else {
            other
        };
        let [first, second] = measures(comes_out, style);
        Some(vec![size.name.clone(), knit.to_owned(), first, second])
    };
    table.rows = sizes.iter().filter_map(row).collect();
    table
}

fn reworked(sizes: &[SizeAtGauge], style: &Style) -> Table {
    let heads = [
        ("size", Align::Left),
        ("stitches", Align::Right),
        ("become", Align::Right),
        ("rows", Align::Right),
        ("become", Align::Right),
        ("measures cm", Align::Right),
    ];
    let mut table = sized(&heads, style);
    let count = |count: Option<u32>| count.map_or_else(String::new, |count| count.to_string());
    let row = |size: &SizeAtGauge| {
        let (from, to) = (size.intended.counts, size.reworked);
        let [first, second] = measures(&size.size_kept, style);
        vec![
            size.name.clone(),
            count(from.stitches),
            count(to.stitches),
            count(from.rows),
            count(to.rows),
            first,
            second,
        ]
    };
    table.rows = sizes.iter().map(row).collect();
    table
}

fn before_washing(sizes: &[SizeAtGauge], style: &Style) -> Table {
    let heads = [("size", Align::Left), ("before washing cm", Align::Right)];
    let mut table = sized(&heads, style);
    let row = |size: &SizeAtGauge| {
        let [first, second] = measures(size.before_washing.as_ref()?, style);
        Some(vec![size.name.clone(), first, second])
    };
    table.rows = sizes.iter().filter_map(row).collect();
    table
}

fn needs(answer: &GaugeAnswer, page: &mut Page, style: &Style) {
    if answer.needs.is_empty() {
        return;
    }
    let yarn = answer.yarn.as_deref().unwrap_or("the pattern's yarn");
    let margin = number(answer.margin.as_percent(), 1);
    page.section(format!("Skeins of {yarn}, margin {margin} %"));
    page.table(each_way(answer, |bought| bought.skeins.to_string()));
    page.text(Role::Plain, "That is, without the margin:");
    page.table(each_way(answer, |bought| {
        let need = bought.need.buy_for;
        let [first, second] = style.ordered(
            format!("{} m", number(need.as_metres(), 0)),
            format!("{} yd", number(need.as_yards(), 0)),
        );
        format!("{first} ({second})")
    }));
}

/// What each size and yarn takes, one column for each way to knit it.
fn each_way(answer: &GaugeAnswer, words: impl Fn(&Purchase) -> String) -> Table {
    let keep = answer.reading.keep;
    let kept = if keep == Keep::Counts {
        "counts kept"
    } else {
        "stitches kept"
    };
    let mut table = Table::new(&[
        ("size", Align::Left),
        ("yarn", Align::Left),
        ("pattern's gauge", Align::Right),
        (kept, Align::Right),
        ("other size", Align::Right),
        ("size kept", Align::Right),
    ]);
    let row = |need: &NeedAtGauge| {
        vec![
            need.size.clone(),
            need.yarn.clone(),
            words(&need.at_pattern_gauge),
            words(if keep == Keep::Counts {
                &need.counts_kept
            } else {
                &need.stitches_kept
            }),
            need.instead.as_ref().map_or_else(String::new, &words),
            words(&need.size_kept),
        ]
    };
    table.rows = answer.needs.iter().map(row).collect();
    table
}
