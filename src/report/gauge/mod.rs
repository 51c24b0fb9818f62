//! A pattern at a gauge that is not its own.

mod fields;
mod words;

pub(super) use words::gauge_fault_words;

use super::{
    Answer, Block, Columns, Page, Render, Role, SWATCH_IN_SHORT, Style, Table, gauge_words,
    in_hand::add_in_hand, judgement::each_once, per_size::counts_in_short,
};
use crate::{
    app::{GaugeAnswer, HeldYarn, Keep, NeedAtGauge, SizeAtGauge},
    measure::{Length, units::INCH_M},
    quantity::{FinishedSize, Purchase},
    words::{and_list, capitalized, joined, number, signed},
};

impl Render for GaugeAnswer {
    type Fields = fields::GaugeFields;

    fn fields(&self) -> Self::Fields {
        fields::GaugeFields::of(self, &Style::default())
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled(format!("{} at your gauge", self.pattern));
        page.blocks.push(Block::Answer(card(self, style)));
        let (pattern, own) = (
            gauge_words(&self.pattern_gauge),
            gauge_words(&self.own.gauge),
        );
        page.text(Role::Plain, format!("The pattern's gauge: {pattern}"));
        let source = words::source(&self.own.source);
        page.text(Role::Plain, format!("Your gauge: {own}; {source}"));
        if let Some(growth) = &self.own.growth {
            page.text(Role::Plain, words::growth(growth));
        }
        if let Some(in_hand) = &self.in_hand {
            add_in_hand(&mut page, in_hand, style);
        }
        sizes(self, &mut page, style);
        if !self.needs.is_empty() {
            page.section(needs_head(self));
            page.table(each_way(self, |bought| bought.skeins.to_string()));
        }
        let mut working = words::working(self, style);
        if self.own.source.is_expected() {
            page.section("Your tendency against labels");
            page.text(Role::Plain, words::tendency(self, style));
        } else {
            working.push(words::tendency(self, style));
        }
        folded(self, &mut page, style);
        page.working(&working, &words::warnings(self, style));
        page.text(Role::Aside, SWATCH_IN_SHORT);
        page
    }
}

/// What the sizes come out at, then what to buy.
fn card(answer: &GaugeAnswer, style: &Style) -> Answer {
    let [count, length] = to_buy(answer, style);
    let unknown = "What the sizes come out at is not known.".to_owned();
    let verdict = comes_out(answer, style).unwrap_or(unknown);
    Answer {
        count,
        length,
        ..Answer::alone(verdict)
    }
}

/// What only some ask for: the size to knit instead with its measures, lengths for
/// each way, sizes before washing.
fn folded(answer: &GaugeAnswer, page: &mut Page, style: &Style) {
    let mut parts = Vec::new();
    parts.push(("Which size to knit instead", instead(&answer.sizes, style)));
    let lengths = each_way(answer, |bought| {
        let need = bought.need.buy_for;
        style.pair(
            format!("{} m", number(need.as_metres(), 0)),
            format!("{} yd", number(need.as_yards(), 0)),
        )
    });
    parts.push(("Yarn for each way of knitting it, without spare", lengths));
    let before = before_washing(&answer.sizes, style);
    parts.push(("To measure before washing", before));
    for (head, table) in parts {
        let says = |row: &Vec<String>| row.iter().skip(1).any(|cell| !cell.is_empty());
        if table.rows.iter().any(says) {
            let mut part = Page::default();
            part.table(table);
            page.details(head, part);
        }
    }
}

/// `6 skeins of Hathrel DK`, and what that is for: `1194 m (1306 yd) and 10 % spare`.
fn to_buy(answer: &GaugeAnswer, style: &Style) -> [Option<String>; 2] {
    let keys = each_once(answer.needs.iter().map(|need| need.yarn.clone()));
    let yarn = answer.yarn.as_deref().unwrap_or("the pattern's yarn");
    let yarns = yarns_of(answer);
    let bought = |yarn: &NeededYarn<'_>| -> Vec<&Purchase> {
        let needs = answer.needs.iter().filter(|need| needed(need) == *yarn);
        needs.map(|need| need.kept(answer.reading.keep)).collect()
    };
    let counts = |of: &NeededYarn<'_>| {
        let counts: Vec<u32> = bought(of).iter().map(|bought| bought.skeins).collect();
        let word = of.1.map_or(answer.counted_in, |held| held.counted_in);
        let counts = match counts_in_short(&counts).as_str() {
            "1" => format!("1 {word}"),
            counts => format!("{counts} {word}s"),
        };
        match (of, keys.as_slice()) {
            ((_, Some(held)), [_]) => format!("{counts} of {}", held.title),
            ((key, Some(held)), _) => format!("{counts} of {} for {key}", held.title),
            (_, [_]) => format!("{counts} of {yarn}"),
            ((key, None), _) => format!("{counts} for {key}"),
        }
    };
    let lengths = |yarn: &NeededYarn<'_>| {
        let bought = bought(yarn);
        let ends = [bought.first(), bought.last()];
        let lengths = ends.into_iter().flatten();
        let lengths = lengths.map(|bought| style.length_alone(bought.need.buy_for));
        joined(each_once(lengths), " to ")
    };
    let each = each_once(yarns.iter().map(lengths));
    let lengths = match (each.as_slice(), yarns.as_slice()) {
        ([one], [_, _, ..]) => format!("{one} of each"),
        _ => joined(yarns.iter().map(lengths), ", "),
    };
    let spare = match number(answer.margin.as_percent(), 1).as_str() {
        "0" => String::new(),
        percent => format!(" and {percent} % spare"),
    };
    let said = |each: String, rest: &str| (!each.is_empty()).then(|| format!("{each}{rest}"));
    [
        said(and_list(yarns.iter().map(counts)), ""),
        said(lengths, &spare),
    ]
}

/// Which yarn a need is of: the key of the pattern's, and which of those held together.
type NeededYarn<'a> = (&'a str, Option<&'a HeldYarn>);

fn needed(need: &NeedAtGauge) -> NeededYarn<'_> {
    (&need.yarn, need.held.as_ref())
}

/// Each yarn that something is needed of, in order.
fn yarns_of(answer: &GaugeAnswer) -> Vec<NeededYarn<'_>> {
    let mut yarns = Vec::new();
    for yarn in answer.needs.iter().map(needed) {
        if !yarns.contains(&yarn) {
            yarns.push(yarn);
        }
    }
    yarns
}

/// `Size M comes out 10 cm (3.9 in) wider than wanted: knit S instead.`
fn comes_out(answer: &GaugeAnswer, style: &Style) -> Option<String> {
    if answer.reading.keep == Keep::Size {
        return Some("The stitch counts below keep every size as it is.".to_owned());
    }
    let off = |size: &SizeAtGauge| {
        let widths = widths_kept(answer, size).zip(size.intended.size.width);
        widths.map(|(kept, wanted)| kept.as_metres() - wanted.as_metres())
    };
    let all: Vec<f64> = answer.sizes.iter().filter_map(off).collect();
    let least = all
        .iter()
        .copied()
        .min_by(|a, b| a.abs().total_cmp(&b.abs()))?;
    let most = all
        .iter()
        .copied()
        .max_by(|a, b| a.abs().total_cmp(&b.abs()))?;
    let length = |metres: f64| {
        let metres = metres.abs();
        style.pair(
            format!("{} cm", number(metres * 100.0, 1)),
            format!("{} in", number(metres / INCH_M, 1)),
        )
    };
    if most.abs() < 0.0005 {
        return Some("Every size comes out as wide as wanted.".to_owned());
    }
    let way = if most > 0.0 { "wider" } else { "narrower" };
    Some(match answer.sizes.as_slice() {
        [one] => {
            let instead = one.instead.as_ref().map(|(name, _)| name);
            let instead = instead.filter(|name| **name != one.name);
            let instead = instead.map_or(String::new(), |name| format!(": knit {name} instead"));
            format!(
                "Size {} comes out {} {way} than wanted{instead}.",
                one.name,
                length(most)
            )
        }
        sizes => format!(
            "The sizes come out {} to {} {way} than wanted{}.",
            length(least),
            length(most),
            instead_below(sizes)
        ),
    })
}

/// Says which size to knit instead, if it is another one for any.
fn instead_below(sizes: &[SizeAtGauge]) -> &'static str {
    let is_other = |size: &SizeAtGauge| {
        let instead = size.instead.as_ref();
        instead.is_some_and(|(name, _)| *name != size.name)
    };
    match sizes.iter().any(is_other) {
        true => ": the table says which one to knit instead",
        false => "",
    }
}

fn widths_kept(answer: &GaugeAnswer, size: &SizeAtGauge) -> Option<Length> {
    match answer.reading.keep {
        Keep::Counts => size.counts_kept.width,
        Keep::Size | Keep::Stitches => size.stitches_kept.width,
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
    page.section("To keep the size: your counts instead of the pattern's");
    page.table(reworked(&answer.sizes, style));
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
        let widths = widths_kept(answer, size).zip(size.intended.size.width);
        widths.map(|(kept, wanted)| signed((kept.as_metres() - wanted.as_metres()) * 100.0, 1))
    };
    let columns = Table::of(&answer.sizes).left("size", |size| size.name.as_str());
    let columns = measured(columns, style, "wanted", |size| size.intended.size);
    let columns = measured(columns, style, "comes out", comes_out);
    let columns = columns.right("off cm", off);
    let columns = columns.left("nearest size", |size| {
        let instead = size.instead.as_ref()?;
        Some(match instead.0 == size.name {
            true => "this one".to_owned(),
            false => instead.0.clone(),
        })
    });
    columns.into()
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
        .right("yours", |size| size.reworked.stitches)
        .right("rows", |size| size.intended.counts.rows)
        .right("yours", |size| size.reworked.rows);
    measured(columns, style, "measures", |size| size.size_kept).into()
}

fn before_washing(sizes: &[SizeAtGauge], style: &Style) -> Table {
    let known = sizes
        .iter()
        .filter_map(|size| Some((size, size.before_washing?)));
    let columns = Table::of(known).left("size", |(size, _)| size.name.as_str());
    measured(columns, style, "before washing", |(_, before)| before).into()
}

/// `Skeins of Hathrel DK, 10 % spare counted in`.
fn needs_head(answer: &GaugeAnswer) -> String {
    let yarn = answer.yarn.as_deref().unwrap_or("the pattern's yarn");
    let spare = match number(answer.margin.as_percent(), 1).as_str() {
        "0" => String::new(),
        spare => format!(", {spare} % spare counted in"),
    };
    let held = answer.needs.iter().filter_map(|need| need.held.as_ref());
    let words = each_once(held.map(|held| format!("{}s", held.counted_in)));
    let words = match words.is_empty() {
        true => format!("{}s", answer.counted_in),
        false => and_list(words),
    };
    format!("{} of {yarn}{spare}", capitalized(&words))
}

/// What each size and yarn takes, one column for each way to knit it.
fn each_way(answer: &GaugeAnswer, words: impl Fn(&Purchase) -> String) -> Table {
    let all_counts = answer.reading.keep == Keep::Counts;
    let kept = if all_counts {
        "all as written"
    } else {
        "stitches as written"
    };
    let keys = each_once(answer.needs.iter().map(|need| need.yarn.clone()));
    let yarn = |need: &NeedAtGauge| {
        let key = (keys.len() > 1).then(|| need.yarn.clone());
        let held = need.held.as_ref().map(|held| held.title.clone());
        joined(key.into_iter().chain(held), ": ")
    };
    let columns = Table::of(&answer.needs)
        .left("size", |need| need.size.as_str())
        .left("yarn", yarn)
        .right("pattern's gauge", |need| words(&need.at_pattern_gauge))
        .right(kept, |need| {
            words(if all_counts {
                &need.counts_kept
            } else {
                &need.stitches_kept
            })
        })
        .right("nearest size", |need| need.instead.as_ref().map(&words))
        .right("counts reworked", |need| words(&need.size_kept));
    columns.into()
}
