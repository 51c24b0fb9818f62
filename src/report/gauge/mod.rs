//! A pattern at a gauge that is not its own.

mod fields;
mod words;

use super::{Columns, Page, Render, Role, Style, Table, gauge_words};
use crate::{
    app::{GaugeAnswer, Keep, SizeAtGauge},
    measure::Length,
    quantity::{FinishedSize, Purchase},
    words::{joined, number, signed},
};
use serde::Serialize;

impl Render for GaugeAnswer {
    fn fields(&self) -> impl Serialize {
        fields::fields(self)
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
        sizes(self, &mut page, style);
        needs(self, &mut page, style);
        if let Some(growth) = &self.own.growth {
            page.section("In the wash");
            page.text(Role::Plain, words::growth(growth));
            filled(&mut page, before_washing(&self.sizes, style));
        }
        page.section("Your tendency against labels");
        page.text(Role::Aside, words::tendency(self, style));
        page.working(&words::working(self, style), &words::warnings(self, style));
        page.swatch();
        page
    }
}

/// What the sizes come out at, and how to keep them; where no size has measures or
/// counts, what is missing.
fn sizes(answer: &GaugeAnswer, page: &mut Page, style: &Style) {
    let is_known = |size: &SizeAtGauge| {
        let (meant, counts) = (&size.intended.size, size.intended.counts);
        let measures = meant.width.is_some() || meant.height.is_some();
        measures || counts.stitches.is_some() || counts.rows.is_some()
    };
    if !answer.sizes.iter().any(is_known) {
        let missing = "What the sizes come out at is not known: the pattern gives no width, height, cast-on or rows for them. Add those to its sizes.";
        page.text(Role::Caution, missing);
        return;
    }
    page.section(counts_head(answer.reading.keep));
    page.table(counts_kept(answer, style));
    let instead = instead(&answer.sizes, style);
    if !instead.rows.is_empty() {
        page.section("Which size to knit instead");
        page.table(instead);
    }
    page.section("To keep the size");
    page.table(reworked(&answer.sizes, style));
}

/// A table, where it says anything beyond the names of sizes.
fn filled(page: &mut Page, table: Table) {
    let says = |row: &Vec<String>| row.iter().skip(1).any(|cell| !cell.is_empty());
    if table.rows.iter().any(says) {
        page.table(table);
    }
}

/// A column of widths and heights in centimetres, and one in inches.
fn measured<T: Copy>(
    columns: Columns<T>,
    style: &Style,
    what: &str,
    size: impl Fn(T) -> FinishedSize,
) -> Columns<T> {
    let each = |size: FinishedSize, in_unit: fn(Length) -> f64| {
        let known = [size.width, size.height].into_iter().flatten();
        joined(known.map(|length| number(in_unit(length), 1)), " x ")
    };
    columns.pair(style, what, ["cm", "in"], |thing| {
        [centimetres, Length::as_inches].map(|in_unit| each(size(thing), in_unit))
    })
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
    let comes_out = |size: &SizeAtGauge| match answer.reading.keep {
        Keep::Counts => size.counts_kept,
        Keep::Size | Keep::Stitches => size.stitches_kept,
    };
    let off = |size: &SizeAtGauge| {
        let widths = comes_out(size).width.zip(size.intended.size.width);
        widths.map(|(kept, wanted)| signed((kept.as_metres() - wanted.as_metres()) * 100.0, 1))
    };
    let columns = Table::of(&answer.sizes).left("size", |size| size.name.as_str());
    let columns = measured(columns, style, "wanted", |size| size.intended.size);
    let columns = measured(columns, style, "comes out", comes_out);
    columns.right("off cm", off).into()
}

/// The size whose counts come nearest; nothing where no width is known.
fn instead(sizes: &[SizeAtGauge], style: &Style) -> Table {
    let known = sizes
        .iter()
        .filter_map(|size| Some((size, size.instead.as_ref()?)));
    let columns = Table::of(known)
        .left("wanted", |(size, _)| size.name.as_str())
        .left("knit", |(size, (other, _))| {
            if *other == size.name {
                "this size"
            } else {
                other
            }
        });
    measured(columns, style, "comes out", |(_, (_, size))| *size).into()
}

fn reworked(sizes: &[SizeAtGauge], style: &Style) -> Table {
    let columns = Table::of(sizes)
        .left("size", |size| size.name.as_str())
        .right("stitches", |size| size.intended.counts.stitches)
        .right("become", |size| size.reworked.stitches)
        .right("rows", |size| size.intended.counts.rows)
        .right("become", |size| size.reworked.rows);
    measured(columns, style, "measures", |size| size.size_kept).into()
}

fn before_washing(sizes: &[SizeAtGauge], style: &Style) -> Table {
    let known = sizes
        .iter()
        .filter_map(|size| Some((size, size.before_washing?)));
    let columns = Table::of(known).left("size", |(size, _)| size.name.as_str());
    measured(columns, style, "before washing", |(_, before)| before).into()
}

fn needs(answer: &GaugeAnswer, page: &mut Page, style: &Style) {
    if answer.needs.is_empty() {
        return;
    }
    let yarn = answer.yarn.as_deref().unwrap_or("the pattern's yarn");
    let margin = number(answer.margin.as_percent(), 1);
    page.section(format!("Skeins of {yarn}, with {margin} % spare"));
    page.table(each_way(answer, |bought| bought.skeins.to_string()));
    page.text(Role::Plain, "That is, without the spare:");
    page.table(each_way(answer, |bought| {
        let need = bought.need.buy_for;
        style.pair(
            format!("{} m", number(need.as_metres(), 0)),
            format!("{} yd", number(need.as_yards(), 0)),
        )
    }));
}

/// What each size and yarn takes, one column for each way to knit it.
fn each_way(answer: &GaugeAnswer, words: impl Fn(&Purchase) -> String) -> Table {
    let all_counts = answer.reading.keep == Keep::Counts;
    let kept = if all_counts {
        "all counts as written"
    } else {
        "stitches as written"
    };
    let columns = Table::of(&answer.needs)
        .left("size", |need| need.size.as_str())
        .left("yarn", |need| need.yarn.as_str())
        .right("pattern's gauge", |need| words(&need.at_pattern_gauge))
        .right(kept, |need| {
            words(if all_counts {
                &need.counts_kept
            } else {
                &need.stitches_kept
            })
        })
        .right("other size", |need| need.instead.as_ref().map(&words))
        .right("size as written", |need| words(&need.size_kept));
    columns.into()
}
