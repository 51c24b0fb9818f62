//! A page as text for a terminal, with colour by role. Whoever prints it takes
//! the colour out where it is not wanted.

use super::{
    Answer, Bars, Block, Page, Picture, Rail, Reason, Role, Side, chip, terminal_table::tabulated,
};
use crate::{
    trade::Colour,
    words::{joined, safe, with_units_held},
};
use anstyle::{AnsiColor, RgbColor, Style};

/// The page as text of at most `width` columns; with `details` what is left out else.
pub fn terminal(page: &Page, width: usize, details: bool) -> String {
    let mut out = blocks(&page.blocks, width, details);
    let is_folded = |block: &Block| matches!(block, Block::Details(..));
    if !details && page.blocks.iter().any(is_folded) {
        let shown = page.blocks.iter().rev().find(|block| !is_folded(block));
        let is_apart = matches!(shown, Some(Block::Table(_) | Block::Picture(_)));
        add_more(&mut out, if is_apart { 0 } else { width });
    }
    chip::drawn(&out, block)
}

/// The colour of a shade, two columns wide.
fn block(colour: Colour) -> String {
    let [red, green, blue] = colour.parts();
    let style = Style::new().fg_color(Some(RgbColor(red, green, blue).into()));
    format!("{style}██{style:#}")
}

/// Says how to see the rest, on the last line where there is room.
fn add_more(out: &mut String, width: usize) {
    const MORE: &str = "More: --details";
    let last = out.lines().next_back().unwrap_or("");
    let shown = anstream::adapter::strip_str(last).to_string();
    if shown.starts_with(' ') && shown.chars().count() + 1 + MORE.len() <= width {
        out.truncate(out.trim_end().len());
        out.push(' ');
    } else {
        out.push_str("  ");
    }
    out.push_str(MORE);
    out.push('\n');
}

/// All of it without colour, to keep or to send.
pub fn plain_text(page: &Page, width: usize) -> String {
    anstream::adapter::strip_str(&terminal(page, width, true)).to_string()
}

fn blocks(blocks: &[Block], width: usize, details: bool) -> String {
    let mut out = String::new();
    for (place, block) in blocks.iter().enumerate() {
        let is_left_out = match block {
            Block::Details(..) => !details,
            Block::Picture(picture) => bars_of(picture).is_none(),
            _ => false,
        };
        let apart = match block {
            Block::Section(_) | Block::Details(..) | Block::Reasons(_) => true,
            // The head of its part says what it shows.
            Block::Picture(_) => false,
            _ => place == 1,
        };
        if apart && place > 0 && !is_left_out {
            out.push('\n');
        }
        if !is_left_out {
            out.push_str(&written(block, width));
        }
    }
    out
}

fn written(block: &Block, width: usize) -> String {
    match block {
        Block::Title(text) | Block::Section(text) => wrapped(text, width, "", Style::new().bold()),
        Block::Text(role, text) => wrapped(text, width, "  ", style(*role)),
        Block::Items(role, items) => items
            .iter()
            .map(|item| point(item, width, style(*role)))
            .collect(),
        Block::Table(table) => tabulated(table, width),
        Block::Answer(answer) => card(answer, width),
        Block::Reasons(reasons) => reasons_below(reasons, width),
        Block::Picture(picture) => {
            bars_of(picture).map_or(String::new(), |bars| bars_below(bars, width))
        }
        Block::Details(head, folded) => {
            let head = wrapped(head, width, "", Style::new().bold());
            head + &blocks(folded, width, true)
        }
    }
}

/// Bars that characters can draw: those of one part.
fn bars_of(picture: &Picture) -> Option<&Bars> {
    match picture {
        Picture::Bars(bars) if bars.parts.len() == 1 => Some(bars),
        Picture::Bars(_) | Picture::Map(_) => None,
    }
}

/// Characters of a bar of full length.
const FULL: i32 = 30;

/// `5 balls  40 %  ############`, a line each below what they show.
fn bars_below(bars: &Bars, width: usize) -> String {
    let widest = |text: fn(&super::Bar) -> &str| {
        let widths = bars.bars.iter().map(|bar| text(bar).chars().count());
        widths.max().unwrap_or(0)
    };
    let (labels, amounts) = (widest(|bar| &bar.label), widest(|bar| &bar.shown));
    let [group, _] = &bars.heads;
    let mut out = wrapped(&bars.title, width, "  ", Style::new());
    for alike in bars.bars.chunk_by(|a, b| a.group == b.group) {
        let named = alike.first().filter(|bar| !bar.group.is_empty());
        let named = named.map(|bar| format!("{group} {}", bar.group));
        out += &named.map_or(String::new(), |name| {
            wrapped(&name, width, "  ", Style::new())
        });
        for bar in alike {
            let share = bar.parts.iter().sum::<f64>() / bars.most * f64::from(FULL);
            let drawn = (0..FULL).filter(|at| f64::from(*at) + 0.5 < share);
            let drawn = drawn.map(|_| '#').collect::<String>();
            let line = format!(
                "    {:labels$}  {:>amounts$}  {drawn}",
                safe(&bar.label),
                bar.shown
            );
            out += line.trim_end();
            out.push('\n');
        }
    }
    out
}

fn card(answer: &Answer, width: usize) -> String {
    let verdict = wrapped(&answer.verdict, width, "  ", style(answer.role));
    match answer.amounts() {
        none if none.is_empty() => verdict,
        amounts => verdict + &wrapped(&amounts, width, "  ", Style::new()),
    }
}

/// A row for each reason, numbers below each other, a rail under those that have one.
fn reasons_below(reasons: &[Reason], width: usize) -> String {
    let widest = |text: fn(&Reason) -> &str| {
        let texts = reasons.iter().filter(|reason| reason.rail.is_some());
        texts
            .map(|reason| text(reason).chars().count())
            .max()
            .unwrap_or(0)
    };
    let (offered, wanted) = (widest(|it| &it.offered), widest(|it| &it.wanted));
    let criterion = reasons.iter().map(|it| it.criterion.len()).max();
    let criterion = criterion.unwrap_or(0);
    let rows = reasons.iter().map(|reason| {
        let said = match reason.rail {
            Some(_) => format!(
                "{:>offered$}  {:wanted$}  {}",
                reason.offered, reason.wanted, reason.meaning
            ),
            None => in_words(reason),
        };
        let first = format!("  {} {:criterion$}  ", mark(reason.side), reason.criterion);
        let rest = " ".repeat(first.len());
        let row = fill(said.trim_end(), width, &first, &rest, style_of(reason.side));
        let rail = reason.rail.as_ref();
        row + &rail.map_or(String::new(), |rail| format!("{rest}{}\n", drawn(rail)))
    });
    rows.collect()
}

/// `100% cotton, wanted 100% wool: ribs lie flat`.
fn in_words(reason: &Reason) -> String {
    let values = [reason.offered.as_str(), reason.wanted.as_str()];
    let values = joined(values.iter().filter(|text| !text.is_empty()), ", ");
    let parts = [values.as_str(), reason.meaning.as_str()];
    let between = if reason.wanted.is_empty() { ", " } else { ": " };
    joined(parts.iter().filter(|text| !text.is_empty()), between)
}

fn mark(side: Side) -> char {
    match side {
        Side::For => '=',
        Side::Against => 'x',
        Side::Unknown => '?',
    }
}

fn style_of(side: Side) -> Style {
    match side {
        Side::For => Style::new(),
        Side::Against => style(Role::Bad),
        Side::Unknown => style(Role::Doubtful),
    }
}

/// Characters from the middle of a rail to a limit.
const BAND: i32 = 7;

/// `thicker  ---o---[======|======]-------  thinner`: `o` is the yarn, `x` where it
/// lies outside the limits, before or behind the line where it lies beyond the end.
pub(super) fn drawn(rail: &Rail) -> String {
    let [left, right] = rail.ends;
    let end = 2 * BAND;
    let clamped = (rail.place() * f64::from(BAND)).clamp(-30.0, 30.0).round();
    let place = (-30..=30).find(|at| (f64::from(*at) - clamped).abs() < 0.5);
    let mark = if rail.is_within() { 'o' } else { 'x' };
    let symbol = |at: i32| match (place, at) {
        (Some(place), at) if place == at => mark,
        (Some(place), at) if place < -end && at == -end => '<',
        (Some(place), at) if place > end && at == end => '>',
        (_, 0) => '|',
        (_, at) if at == -BAND => '[',
        (_, at) if at == BAND => ']',
        (_, at) if at.abs() < BAND => '=',
        _ => '-',
    };
    let line: String = (-end..=end).map(symbol).collect();
    let beyond = |is_beyond: bool| if is_beyond { mark } else { ' ' };
    let [before, behind] = [
        beyond(place.is_some_and(|place| place < -end)),
        beyond(place.is_some_and(|place| place > end)),
    ];
    format!("{left} {before}{line}{behind} {right}")
}

fn style(role: Role) -> Style {
    let colour = |colour: AnsiColor| Style::new().fg_color(Some(colour.into()));
    match role {
        Role::Plain => Style::new(),
        Role::Good => colour(AnsiColor::Green).bold(),
        Role::Doubtful => colour(AnsiColor::Yellow).bold(),
        Role::Bad => colour(AnsiColor::Red).bold(),
        Role::Caution => colour(AnsiColor::Magenta),
        Role::Aside => Style::new().dimmed(),
    }
}

fn wrapped(text: &str, width: usize, indent: &str, style: Style) -> String {
    fill(text, width, indent, indent, style)
}

fn point(text: &str, width: usize, style: Style) -> String {
    fill(text, width, "  - ", "    ", style)
}

fn fill(text: &str, width: usize, first: &str, rest: &str, style: Style) -> String {
    let options = textwrap::Options::new(width)
        .initial_indent(first)
        .subsequent_indent(rest);
    let shown = with_units_held(&safe(text));
    let lines = textwrap::wrap(&shown, options);
    lines
        .iter()
        .map(|line| format!("{style}{}{style:#}\n", line.replace('\u{a0}', " ")))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::{Align, Table};

    #[test]
    fn long_text_is_wrapped_and_escapes_from_names_are_not_sent() {
        let mut page = Page::titled("A page");
        page.text(
            Role::Plain,
            format!("evil \u{1b}[2J name {}", "word ".repeat(40)),
        );
        let text = terminal(&page, 40, false);
        assert!(text.contains("\\u{1b}[2J"));
        assert!(
            text.lines()
                .all(|line| anstream::adapter::strip_str(line).to_string().len() <= 40)
        );
    }

    #[test]
    fn numbers_keep_to_the_right() {
        let mut page = Page::default();
        let mut table = Table::new(&[("size", Align::Left), ("skeins", Align::Right)]);
        table.rows.push(["S", "7"].map(str::to_owned).to_vec());
        page.table(table);
        assert_eq!(
            terminal(&page, 80, false),
            "  size  skeins\n  S          7\n"
        );
    }

    fn rail(offered: f64) -> String {
        drawn(&Rail {
            wanted: 200.0,
            offered,
            tolerance: 20.0,
            ends: ["thicker", "thinner"],
        })
    }

    #[test]
    fn the_mark_of_a_rail_falls_where_the_yarn_lies() {
        assert_eq!(
            rail(210.0),
            "thicker  -------[======|===o==]-------  thinner"
        );
        assert_eq!(
            rail(180.0),
            "thicker  -------o======|======]-------  thinner"
        );
        assert_eq!(
            rail(170.0),
            "thicker  ---x---[======|======]-------  thinner"
        );
        assert_eq!(
            rail(100.0),
            "thicker x<------[======|======]-------  thinner"
        );
        assert!(rail(900.0).ends_with("------>x thinner"));
    }

    #[test]
    fn details_are_left_out_unless_they_are_asked_for() {
        let mut page = Page::titled("A page");
        let mut folded = Page::default();
        folded.text(Role::Aside, "the sum");
        page.details("How this was worked out", folded);
        assert!(!terminal(&page, 80, false).contains("sum"));
        assert!(terminal(&page, 80, false).ends_with("More: --details\n"));
        let all = plain_text(&page, 80);
        assert_eq!(all, "A page\n\nHow this was worked out\n  the sum\n");
    }
}
