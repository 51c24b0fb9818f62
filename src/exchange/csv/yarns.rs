//! `yarns.csv` read.

use super::{
    YARN_COLUMNS,
    row::Cells,
    rows::{Rows, Sheet},
    shades::read_shades,
};
use crate::{
    exchange::{ExchangeError, cells},
    measure::YarnCount,
    record::{Printed, Yarn, YarnFacts, contradictions},
    trade::{Construction, Gtin},
};
use std::io::Read;

/// Opens a table of yarns. `file` is what messages call it; `progress` is told
/// the bytes read so far.
pub fn read_yarns<'a>(
    file: &str,
    source: impl Read + 'a,
    progress: impl FnMut(u64) + 'a,
) -> Result<Rows<'a, Yarn>, ExchangeError> {
    let sheet = Sheet {
        columns: YARN_COLUMNS,
        read: read_yarn,
    };
    Rows::open(file, Box::new(source), Box::new(progress), &sheet)
}

fn read_yarn(cells: &mut Cells<'_>) -> Option<Yarn> {
    let (maker, name) = (cells.name("maker"), cells.name("name"));
    let facts = read_facts(cells);
    let gtin = read_gtin(cells);
    let discontinued = cells.value("discontinued", cells::yes_no);
    for sentence in contradictions(&facts) {
        cells.note("", sentence);
    }
    Some(Yarn {
        maker: maker?,
        name: name?,
        facts,
        gtin,
        shades: read_shades(cells.text("shades")),
        discontinued: discontinued.is_some_and(|cell| cell.value),
        notes: cells.text("notes").to_owned(),
    })
}

fn read_facts(cells: &mut Cells<'_>) -> YarnFacts {
    let count = read_count(cells);
    let counted = count.is_some() || !cells.errors.is_empty();
    let (construction, plies) = read_construction(cells);
    YarnFacts {
        length: put_up(cells, "length", cells::length, counted),
        mass: put_up(cells, "mass", cells::mass, counted),
        count,
        class: cells.value("class", cells::class),
        blend: cells.value("fibre", cells::blend),
        construction,
        plies,
        gauge: cells.value("gauge", cells::gauge),
        needles: cells.value("needle", cells::needles),
        care: cells.value("care", cells::care),
        price: cells.value("price", cells::price),
    }
}

/// The yarn count, from its own column or from where length or mass stand.
fn read_count(cells: &mut Cells<'_>) -> Option<Printed<YarnCount>> {
    let mut found: Vec<(&str, Printed<YarnCount>)> = Vec::new();
    if let Some(count) = cells.value("count", cells::count) {
        found.push(("count", count));
    }
    for column in ["length", "mass"] {
        if holds_count(cells, column) {
            found.extend(cells.value(column, cells::count).map(|c| (column, c)));
        }
    }
    let mut found = found.into_iter();
    let (_, first) = found.next()?;
    for (column, other) in found {
        if other.value != first.value {
            let why = format!("the row has another yarn count, `{}`", first.text);
            cells.refuse(column, why, "give one yarn count for a yarn");
        }
    }
    Some(first)
}

/// Whether a count stands in a cell for a length or a mass.
fn holds_count(cells: &Cells<'_>, column: &str) -> bool {
    !cells.is_empty(column)
        && !cells.would_read(column, cells::length)
        && !cells.would_read(column, cells::mass)
        && cells.would_read(column, cells::count)
}

/// A length or mass that must be given, said to be unknown, or told by a count.
fn put_up<T>(
    cells: &mut Cells<'_>,
    column: &str,
    read: fn(&str) -> cells::Cell<T>,
    counted: bool,
) -> Option<Printed<T>> {
    if cells.is_empty(column) && !counted {
        let allowed = format!(
            "write the {column} of one skein with its unit, `unknown` where the label does not give it, or a yarn count in `count`"
        );
        cells.refuse(
            column,
            format!("no {column} and no yarn count stand here"),
            allowed,
        );
    }
    match holds_count(cells, column) {
        true => None,
        false => cells.value(column, read),
    }
}

/// Construction and plies; the cell of the construction may say both.
fn read_construction(cells: &mut Cells<'_>) -> (Option<Printed<Construction>>, Option<u8>) {
    let built = cells.value("construction", cells::construction);
    let told = built.as_ref().and_then(|cell| cell.value.1);
    let plies = read_plies(cells);
    if let (Some(told), Some(plies)) = (told, plies)
        && told != plies
    {
        let why = format!("the construction says {told}");
        cells.refuse(
            "plies",
            why,
            "give the same number in both, or in one of them",
        );
    }
    let construction = built.map(|cell| Printed::new(cell.text, cell.value.0));
    (construction, plies.or(told))
}

fn read_plies(cells: &mut Cells<'_>) -> Option<u8> {
    if cells.is_empty("plies") || cells.is_unknown("plies") {
        return None;
    }
    let plies = cells.text("plies").parse().ok().filter(|plies| *plies > 0);
    if plies.is_none() {
        cells.refuse(
            "plies",
            "this is no number of plies",
            "write a whole number from 1 to 255",
        );
    }
    plies
}

fn read_gtin(cells: &mut Cells<'_>) -> Option<Gtin> {
    if cells.is_empty("gtin") || cells.is_unknown("gtin") {
        return None;
    }
    match Gtin::read(cells.text("gtin")) {
        Ok(gtin) => Some(gtin),
        Err(error) => {
            let allowed = "leave it empty where it is not known; in a spreadsheet format the column as text, or digits are lost";
            cells.refuse("gtin", error.to_string(), allowed);
            None
        }
    }
}
