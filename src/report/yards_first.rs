//! The same page with yards and ounces before metres and grams. Most values are
//! given in both in every report: only their order changes. A length per mass
//! that is given in metres alone is given in yards instead, but not where it is
//! quoted as it was typed.

use super::{Block, Page, Rail, Table};
use crate::{measure::Grist, words::number};

/// Units that stand for the same value, metric first.
const PAIRS: [(&str, &str); 3] = [(PER_100_G, PER_POUND), ("m", "yd"), ("g", "oz")];

/// The units of a length per mass.
const PER_100_G: &str = "m/100 g";
const PER_POUND: &str = "yd/lb";

/// The page with each pair of values turned round. The title stays as it is: it
/// may hold what was typed.
pub fn yards_first(page: Page) -> Page {
    let blocks = page.blocks.into_iter().map(|block| match block {
        Block::Text(role, text) => Block::Text(role, turned(&text)),
        Block::Items(role, items) => {
            Block::Items(role, items.iter().map(|item| turned(item)).collect())
        }
        Block::Rail(words, rail) => Block::Rail(turned(&words), rail_turned(rail)),
        Block::Table(table) => Block::Table(columns_turned(table)),
        other => other,
    });
    Page {
        blocks: blocks.collect(),
    }
}

/// The numbers of a rail in yards, whole ones as in the words beside it.
fn rail_turned(rail: Rail) -> Rail {
    let whole = |value| per_pound(value).map(f64::round);
    let numbers = [rail.wanted, rail.offered, rail.tolerance].map(whole);
    match (rail.unit, numbers) {
        (PER_100_G, [Some(wanted), Some(offered), Some(tolerance)]) => Rail {
            wanted,
            offered,
            tolerance,
            unit: PER_POUND,
        },
        _ => rail,
    }
}

/// Yards in a pound of what has so many metres in 100 g.
fn per_pound(per_100_g: f64) -> Option<f64> {
    let grist = Grist::metres_per_gram(per_100_g / 100.0).ok()?;
    Some(grist.as_yards_per_pound())
}

/// `100 m (109 yd)` as `109 yd (100 m)`, and `240 m/100 g` as `1191 yd/lb`,
/// everywhere in a text.
pub fn turned(text: &str) -> String {
    alone_turned(&pairs_turned(text))
}

/// Lengths per mass that stand in metres alone, outside of quotes.
fn alone_turned(text: &str) -> String {
    let unit = format!(" {PER_100_G}");
    let mut parts = text.split(unit.as_str());
    let mut out = parts.next().unwrap_or_default().to_owned();
    for after in parts {
        match alone(&out) {
            Some((kept, yards)) => out = format!("{kept}{yards} {PER_POUND}"),
            None => out.push_str(&unit),
        }
        out.push_str(after);
    }
    out
}

/// What stands before the number that `text` ends with, and that number in
/// yards. One of a range, of a pair or of a quotation stays as it is.
fn alone(text: &str) -> Option<(&str, String)> {
    let kept = text.trim_end_matches(is_part);
    let given = text.get(kept.len()..)?.parse().ok()?;
    let belongs = [
        "-",
        "\u{2013}",
        &format!("{PER_POUND} ("),
        " to ",
        "to within ",
    ];
    let quoted = text.matches('`').count() % 2 == 1 || text.matches('"').count() % 2 == 1;
    let stays = quoted || belongs.iter().any(|before| kept.ends_with(before));
    (!stays).then_some((kept, number(per_pound(given)?, 0)))
}

/// `100 m (109 yd)` as `109 yd (100 m)`.
fn pairs_turned(text: &str) -> String {
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
    let (what, unit) = metric.rsplit_once(' ').unwrap_or(("", metric));
    match (unit, other) {
        ("m", "yd") | ("cm", "in") => {
            let first = format!("{what} {other}");
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
    alone_column_turned(&mut table);
    table
}

/// A column of lengths per mass in metres alone.
fn alone_column_turned(table: &mut Table) {
    let heads: Vec<&str> = table
        .columns
        .iter()
        .map(|(head, _)| head.as_str())
        .collect();
    let found = heads.iter().position(|head| *head == PER_100_G);
    let (Some(at), false) = (found, heads.contains(&PER_POUND)) else {
        return;
    };
    let yards = |cell: &String| match cell.parse() {
        Ok(value) => per_pound(value).map(|yards| number(yards, 0)),
        Err(_) => cell.is_empty().then(String::new),
    };
    let cells: Option<Vec<String>> = table.rows.iter().map(|row| yards(row.get(at)?)).collect();
    let (Some(cells), Some((head, _))) = (cells, table.columns.get_mut(at)) else {
        return;
    };
    *head = PER_POUND.to_owned();
    for (row, yards) in table.rows.iter_mut().zip(cells) {
        if let Some(cell) = row.get_mut(at) {
            *cell = yards;
        }
    }
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

    /// 240 m/100 g x 4.5359237 / 0.9144 = 1190.5 yd/lb; 480 twice as much.
    #[test]
    fn a_length_per_mass_in_metres_alone_is_given_in_yards() {
        assert_eq!(
            turned("480 m/100 g is 100 % above the 240 m/100 g wanted (240 m/100 g)"),
            "2381 yd/lb is 100 % above the 1191 yd/lb wanted (1191 yd/lb)"
        );
        for same in [
            "1141 yd/lb (230 m/100 g)",
            "`15 m/100 g` is not read",
            "200-240 m/100 g",
            "from 200 to 240 m/100 g",
            "some m/100 g",
        ] {
            assert_eq!(turned(same), same);
        }
    }

    #[test]
    fn a_rail_and_a_column_of_lengths_per_mass_follow() {
        let rail = Rail {
            wanted: 240.0,
            offered: 480.0,
            tolerance: 24.0,
            unit: PER_100_G,
        };
        let turned = rail_turned(rail);
        let numbers = (turned.wanted, turned.offered, turned.tolerance);
        assert_eq!((numbers, turned.unit), ((1191.0, 2381.0, 119.0), PER_POUND));
        let gauge = Rail {
            unit: "sts per 10 cm",
            ..rail
        };
        assert_eq!(rail_turned(gauge), gauge);
        let mut table = Table::new(&[(PER_100_G, Align::Right)]);
        table.rows = vec![vec!["240".to_owned()], vec![String::new()]];
        let turned = columns_turned(table);
        assert_eq!(turned.columns[0].0, PER_POUND);
        assert_eq!(turned.rows, [["1191"], [""]]);
    }

    #[test]
    fn heads_keep_what_they_are_of() {
        for (metric, other, turned) in [
            ("need m", "yd", ["need yd", "m"]),
            ("m", "yd", ["yd", "m"]),
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
