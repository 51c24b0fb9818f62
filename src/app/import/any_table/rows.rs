//! Rows of anybody's table as records: a row about a yarn in the records changes what it
//! says and leaves the rest; rows of one yarn in several shades are one yarn.

use crate::{
    app::{AppError, ImportNote},
    files::{
        CellFault, CellNote, Place,
        csv::{Row, StockRow, TableRecord, read_record, record_texts},
        layout::OurRow,
    },
    record::Yarn,
    store::Reader,
    trade::Gtin,
    words::lower_name,
};
use std::collections::{BTreeMap, HashMap};

/// Columns of a yarn that a row may change.
const CHANGED: [&str; 14] = [
    "length",
    "mass",
    "class",
    "fibre",
    "construction",
    "gauge",
    "needle",
    "care",
    "price",
    "gtin",
    "notes",
    "count",
    "plies",
    "discontinued",
];

/// What the rows of a table are.
#[derive(Default)]
pub(super) struct Records {
    /// Its yarns, each once.
    pub(super) yarns: Vec<Row<Yarn>>,
    /// Its lots, where it tells amounts.
    pub(super) stock: Vec<Row<StockRow>>,
    /// Lines about an article number that no yarn has.
    pub(super) unknown: Vec<(u64, String)>,
    /// What was noticed.
    pub(super) notes: Vec<ImportNote>,
}

impl Records {
    /// Whether the maker of a new yarn is nowhere.
    pub(super) fn lacks_maker(&self) -> bool {
        let mut faults = self
            .yarns
            .iter()
            .filter_map(|row| row.record.as_ref().err())
            .flatten();
        faults.any(|fault| fault.field == "maker" && fault.given.is_empty())
    }
}

/// A yarn as its rows say it.
struct Group {
    line: u64,
    texts: BTreeMap<&'static str, String>,
    shades: Vec<String>,
}

/// The records of the rows; `has_amounts` where the table tells what there is.
pub(super) fn records(
    rows: &[OurRow],
    has_amounts: bool,
    kept: &Reader<'_>,
) -> Result<Records, AppError> {
    let mut found = Records::default();
    let mut groups: Vec<Group> = Vec::new();
    let mut places: HashMap<[String; 2], usize> = HashMap::new();
    let mut stock = Vec::new();
    for row in rows {
        let Some(base) = base(row, kept)? else {
            found.unknown.push((row.line, row.text("gtin").to_owned()));
            continue;
        };
        let key = ["maker", "name"].map(|column| lower_name(text(&base, column)));
        let place = *places.entry(key).or_insert_with(|| {
            let shades = text(&base, "shades").split('|').map(str::to_owned);
            groups.push(Group {
                line: row.line,
                shades: shades.filter(|shade| !shade.is_empty()).collect(),
                texts: base,
            });
            groups.len() - 1
        });
        let Some(group) = groups.get_mut(place) else {
            continue;
        };
        found.notes.extend(overlay(group, row, has_amounts));
        if has_amounts && !row.text("amount").is_empty() {
            stock.push((place, row));
        }
    }
    found.yarns = groups.iter().map(yarn_row).collect();
    for (place, row) in stock {
        let (Some(group), Some(yarn)) = (groups.get(place), found.yarns.get(place)) else {
            continue;
        };
        if yarn.record.is_ok() {
            found.stock.push(stock_row(group, row));
        }
    }
    Ok(found)
}

fn text<'t>(texts: &'t BTreeMap<&'static str, String>, column: &str) -> &'t str {
    texts.get(column).map_or("", String::as_str)
}

/// What is kept of the yarn of a row, or its names alone; nothing where it has no name
/// and no yarn has its article number.
fn base(
    row: &OurRow,
    kept: &Reader<'_>,
) -> Result<Option<BTreeMap<&'static str, String>>, AppError> {
    let (maker, name) = (row.text("maker"), row.text("name"));
    let mut found = None;
    if let Ok(gtin) = Gtin::read(row.text("gtin")) {
        let mut with_number = kept.yarns_by_gtin(&gtin)?;
        let only = with_number.pop().filter(|_| with_number.is_empty());
        let is_same = |yarn: &Yarn| {
            let same =
                |said: &str, kept: &str| said.is_empty() || lower_name(said) == lower_name(kept);
            same(maker, yarn.maker.as_str()) && same(name, yarn.name.as_str())
        };
        found = only.filter(|yarn| is_same(&yarn.record));
    }
    if found.is_none() && !name.is_empty() {
        found = kept.yarn_named(maker, name)?;
    }
    Ok(match found {
        Some(yarn) => Some(record_texts(&yarn.record).into_iter().collect()),
        None if name.is_empty() => None,
        None => {
            let unknown = ["length", "mass"].map(|column| (column, "unknown".to_owned()));
            let names = [("maker", maker.to_owned()), ("name", name.to_owned())];
            Some(names.into_iter().chain(unknown).collect())
        }
    })
}

/// Puts what a row says of its yarn over what is known; what a later row says otherwise
/// is noted and not used.
fn overlay(group: &mut Group, row: &OurRow, has_amounts: bool) -> Vec<ImportNote> {
    let mut notes = Vec::new();
    let is_first = group.line == row.line;
    for column in CHANGED {
        let said = row.text(column);
        // The notes of a row with an amount are about that lot.
        if said.is_empty() || column == "notes" && has_amounts {
            continue;
        }
        let known = text(&group.texts, column);
        // Of several numbers of a yarn a row has one.
        if column == "gtin" && known.split('|').any(|number| number == said) {
            continue;
        }
        let is_open = matches!(known, "" | "unknown");
        if is_first || is_open {
            group.texts.insert(column, said.to_owned());
        } else if known != said && column != "gtin" {
            notes.push(ImportNote::OtherRow {
                line: row.line,
                counts: group.line,
                field: column,
                texts: [known.to_owned(), said.to_owned()],
            });
        }
    }
    let shade = row.text("shade").to_owned();
    if !has_amounts && !shade.is_empty() && !group.shades.contains(&shade) {
        group.shades.push(shade);
    }
    notes
}

fn yarn_row(group: &Group) -> Row<Yarn> {
    let shades: Vec<String> = group
        .shades
        .iter()
        .map(|shade| shade.replace('|', "\\|"))
        .collect();
    let shades = shades.join("|");
    row_of(group.line, |column| match column {
        "shades" => &shades,
        column => text(&group.texts, column),
    })
}

fn stock_row(group: &Group, row: &OurRow) -> Row<StockRow> {
    row_of(row.line, |column| match column {
        "maker" | "name" => text(&group.texts, column),
        "price" => "",
        column => row.text(column),
    })
}

fn row_of<'t, T: TableRecord>(line: u64, text: impl Fn(&'static str) -> &'t str) -> Row<T> {
    let place = Place::line(line);
    match read_record(text) {
        Ok((record, notes)) => Row {
            line,
            record: Ok(record),
            warnings: notes
                .into_iter()
                .map(|note| CellNote {
                    place: Some(place),
                    ..note
                })
                .collect(),
        },
        Err(faults) => Row {
            line,
            record: Err(faults
                .into_iter()
                .map(|fault: CellFault| fault.at(place))
                .collect()),
            warnings: Vec::new(),
        },
    }
}
