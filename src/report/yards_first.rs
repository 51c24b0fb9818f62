//! The same page with yards and ounces before metres and grams. Values are
//! given in both in every report: only their order changes.

use super::{Block, Page, Table};

/// Units that stand for the same value, metric first.
const PAIRS: [(&str, &str); 3] = [("m/100 g", "yd/lb"), ("m", "yd"), ("g", "oz")];

/// The page with each pair of values turned round. The title stays as it is: it
/// may hold what was typed.
pub fn yards_first(page: Page) -> Page {
    let blocks = page.blocks.into_iter().map(|block| match block {
        Block::Text(role, text) => Block::Text(role, turned(&text)),
        Block::Items(role, items) => {
            Block::Items(role, items.iter().map(|item| turned(item)).collect())
        }
        Block::Rail(words, rail) => Block::Rail(turned(&words), rail),
        Block::Table(table) => Block::Table(columns_turned(table)),
        other => other,
    });
    Page {
        blocks: blocks.collect(),
    }
}

/// `100 m (109 yd)` as `109 yd (100 m)`, everywhere in a text.
pub fn turned(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((before, after)) = rest.split_once(" (") {
        match pair(before, after) {
            Some((kept, metric, yards, left)) => {
                out.push_str(&format!("{kept}{yards} ({metric})"));
                rest = left;
            }
            None => {
                out.push_str(before);
                out.push_str(" (");
                rest = after;
            }
        }
    }
    out.push_str(rest);
    out
}

/// What stands before a pair, the pair, and what stands after it.
fn pair<'t>(before: &'t str, after: &'t str) -> Option<(&'t str, &'t str, &'t str, &'t str)> {
    let (second, left) = after.split_once(')')?;
    PAIRS.iter().find_map(|(metric, yards)| {
        is_number(second.strip_suffix(yards)?.strip_suffix(' ')?).then_some(())?;
        let value = before.strip_suffix(metric)?.strip_suffix(' ')?;
        let start = value.rfind(|c: char| !is_part(c)).map_or(0, |at| {
            at + value
                .get(at..)
                .and_then(|v| v.chars().next())
                .map_or(1, char::len_utf8)
        });
        let number = value.get(start..)?;
        is_number(number).then_some((value.get(..start)?, before.get(start..)?, second, left))
    })
}

fn is_part(c: char) -> bool {
    c.is_ascii_digit() || c == '.'
}

fn is_number(text: &str) -> bool {
    !text.is_empty() && text.chars().all(is_part)
}

/// The heads of two columns the other way round, where they are of one value.
fn heads_turned(metric: &str, other: &str) -> Option<[String; 2]> {
    if (metric, other) == ("m/100 g", "yd/lb") {
        return Some([other.to_owned(), metric.to_owned()]);
    }
    let (unit, per) = metric.split_once('/').map_or((metric, ""), |(unit, _)| {
        (unit, metric.strip_prefix(unit).unwrap_or_default())
    });
    let (what, unit) = unit.rsplit_once(' ').unwrap_or(("", unit));
    match (unit, other) {
        ("m", "yd") | ("cm", "in") => {
            let first = format!("{what} {other}{per}");
            Some([first.trim_start().to_owned(), unit.to_owned()])
        }
        _ => None,
    }
}

/// A column of yards or inches goes before the metric one that it stands after,
/// and takes over what that one is of: `need m`, `yd` become `need yd`, `m`.
fn columns_turned(mut table: Table) -> Table {
    for at in 1..table.columns.len() {
        let head = |place: usize| table.columns.get(place).map_or("", |(head, _)| head);
        let Some(heads) = heads_turned(head(at - 1), head(at)) else {
            continue;
        };
        for (place, head) in [at - 1, at].into_iter().zip(heads) {
            if let Some((old, _)) = table.columns.get_mut(place) {
                *old = head;
            }
        }
        for row in &mut table.rows {
            row.swap(at - 1, at);
        }
    }
    for cell in table.rows.iter_mut().flatten() {
        *cell = turned(cell);
    }
    table
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::Align;

    #[test]
    fn pairs_are_turned_and_nothing_else() {
        assert_eq!(
            turned("skein of 100 m (109 yd), 50 g; 230 m/100 g (1141 yd/lb) (rough)"),
            "skein of 109 yd (100 m), 50 g; 1141 yd/lb (230 m/100 g) (rough)"
        );
        for same in ["size 12 m (9)", "about m (3 yd)", "x (", "ö m (y yd)", ""] {
            assert_eq!(turned(same), same);
        }
    }

    #[test]
    fn heads_keep_what_they_are_of() {
        for (metric, other, turned) in [
            ("need m", "yd", ["need yd", "m"]),
            ("m", "yd", ["yd", "m"]),
            ("m/50 g", "yd", ["yd/50 g", "m"]),
            ("m/100 g", "yd/lb", ["yd/lb", "m/100 g"]),
            ("comes out cm", "in", ["comes out in", "cm"]),
        ] {
            let turned = turned.map(str::to_owned);
            assert_eq!(heads_turned(metric, other), Some(turned), "{metric}");
        }
        for (metric, other) in [
            ("yd", "m"),
            ("edges m", "growth"),
            ("g", "edges m"),
            ("", "yd"),
        ] {
            assert_eq!(heads_turned(metric, other), None, "{metric}");
        }
    }

    #[test]
    fn columns_of_yards_go_first() {
        let mut table = Table::new(&[("need m", Align::Right), ("yd", Align::Right)]);
        table.rows.push(vec!["100".to_owned(), "109".to_owned()]);
        let turned = columns_turned(table);
        assert_eq!(turned.columns[0].0, "need yd");
        assert_eq!(turned.rows[0], ["109", "100"]);
    }
}
