//! The header line: which column stands where, and in which unit.

use super::columns::{Column, Required};
use crate::{
    files::{CellError, CellNote},
    words::{and_list, did_you_mean, fold, or_list},
};

/// One column of a file.
#[derive(Debug, Clone)]
pub(super) struct Place {
    /// Which cell of a row it is.
    pub index: usize,
    /// Its stable name.
    pub name: &'static str,
    /// The unit that bare numbers in it take.
    pub unit: Option<String>,
}

/// The header of a file.
#[derive(Debug, Clone)]
pub(super) struct Header {
    /// Cells in it, and in every row.
    pub width: usize,
    /// The columns that are read.
    pub places: Vec<Place>,
}

impl Header {
    /// Where the column `name` stands.
    pub fn place(&self, name: &str) -> Option<&Place> {
        self.places.iter().find(|place| place.name == name)
    }
}

/// The column that a header cell names, and the unit that stands with it.
pub(super) fn named<'c>(cell: &str, columns: &'c [Column]) -> Option<(&'c Column, Option<String>)> {
    let whole = fold(cell);
    if let Some(column) = columns.iter().find(|column| column.name == whole) {
        return Some((column, None));
    }
    let cell = cell.trim();
    let cut = cell.find(['(', '[', '_', ' ', ','])?;
    let (name, rest) = cell.split_at_checked(cut)?;
    let name = fold(name);
    let column = columns.iter().find(|column| column.name == name)?;
    column.reads?;
    let unit = rest.trim_matches(|c: char| {
        matches!(c, '(' | ')' | '[' | ']' | '_' | ',') || c.is_whitespace()
    });
    let unit = unit.strip_prefix("in ").unwrap_or(unit);
    Some((column, Some(unit.to_owned())))
}

/// A number that any unit takes.
const PROBE: &str = "10";

/// Reads the cells of the header line, or says all that is wrong with it.
pub(super) fn read_header(
    line: u64,
    cells: &[String],
    columns: &'static [Column],
) -> Result<(Header, Vec<CellNote>), Vec<CellError>> {
    let mut header = Header {
        width: cells.len(),
        places: Vec::new(),
    };
    let (mut notes, mut faults) = (Vec::new(), Vec::new());
    for (index, cell) in cells.iter().enumerate() {
        match placed(line, index, cell, columns) {
            Ok(place) if header.place(place.name).is_some() => faults.push(doubled(line, cell)),
            Ok(place) => header.places.push(place),
            Err(NotPlaced::Unknown) => notes.push(unknown(line, index, cell, columns)),
            Err(NotPlaced::Unit(fault)) => faults.push(fault),
        }
    }
    faults.extend(missing(line, &header, columns, &faults));
    match faults.is_empty() {
        true => Ok((header, notes)),
        false => Err(faults),
    }
}

enum NotPlaced {
    Unknown,
    Unit(CellError),
}

fn placed(
    line: u64,
    index: usize,
    cell: &str,
    columns: &'static [Column],
) -> Result<Place, NotPlaced> {
    let (column, unit) = named(cell, columns).ok_or(NotPlaced::Unknown)?;
    let reads = |unit: &String| {
        column
            .reads
            .is_some_and(|reads| reads(&format!("{PROBE} {unit}")))
    };
    match unit {
        Some(unit) if !reads(&unit) => Err(NotPlaced::Unit(CellError::new(
            line,
            column.name,
            cell,
            format!("`{unit}` is no unit of {}", column.name),
            format!(
                "name the column `{}`, alone or with a unit, as in `{}`",
                column.name,
                with_unit(column)
            ),
        ))),
        unit => Ok(Place {
            index,
            name: column.name,
            unit,
        }),
    }
}

/// The column with the unit of its example: `length (m)`.
fn with_unit(column: &Column) -> String {
    let unit = column
        .example
        .trim_start_matches(|c: char| !c.is_alphabetic());
    format!("{} ({unit})", column.name)
}

fn doubled(line: u64, cell: &str) -> CellError {
    CellError::new(
        line,
        cell,
        cell,
        "this column stands twice",
        "leave one of them out, or give it another name",
    )
}

fn unknown(line: u64, index: usize, cell: &str, columns: &[Column]) -> CellNote {
    if cell.is_empty() {
        let message = format!("column {} has no name and is not read", index + 1);
        return CellNote::new(line, "", message);
    }
    let near: Vec<String> = did_you_mean(cell, columns.iter().map(|column| column.name))
        .iter()
        .map(|name| format!("`{name}`"))
        .collect();
    let asked = match near.is_empty() {
        true => String::new(),
        false => format!("; did you mean {}?", or_list(&near)),
    };
    CellNote::new(line, cell, format!("no such column, not read{asked}"))
}

/// The required columns that are neither there nor at fault already.
fn missing(
    line: u64,
    header: &Header,
    columns: &'static [Column],
    faults: &[CellError],
) -> Option<CellError> {
    let counted = header.place("count").is_some();
    let absent: Vec<&str> = columns
        .iter()
        .filter(|column| match column.required {
            Required::Always => true,
            Required::UnlessCount => !counted,
            Required::No => false,
        })
        .map(|column| column.name)
        .filter(|name| header.place(name).is_none())
        .filter(|name| !faults.iter().any(|fault| fault.field == *name))
        .collect();
    let word = if absent.len() == 1 {
        "column"
    } else {
        "columns"
    };
    (!absent.is_empty()).then(|| {
        CellError::new(
            line,
            "",
            "",
            format!("the header line lacks the {word} {}", and_list(&absent)),
            format!(
                "the first line names the columns, at least {}",
                least(columns)
            ),
        )
    })
}

/// The columns that are asked for, as a sentence.
pub(super) fn least(columns: &[Column]) -> String {
    let of = |required| -> Vec<&str> {
        let those = columns.iter().filter(|column| column.required == required);
        those.map(|column| column.name).collect()
    };
    match of(Required::UnlessCount) {
        unless if unless.is_empty() => and_list(&of(Required::Always)),
        unless => format!(
            "{}, and {} or a yarn `count`",
            and_list(&of(Required::Always)),
            and_list(&unless)
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::{
        super::{STOCK_COLUMNS, YARN_COLUMNS},
        *,
    };

    fn read(cells: &[&str]) -> Result<(Header, Vec<CellNote>), Vec<CellError>> {
        let cells: Vec<String> = cells.iter().map(|cell| (*cell).to_owned()).collect();
        read_header(1, &cells, YARN_COLUMNS)
    }

    fn unit(cell: &str) -> Option<String> {
        let (header, _) = read(&["maker", "name", "count", cell]).unwrap();
        header.places.last().unwrap().unit.clone()
    }

    #[test]
    fn case_and_spaces_do_not_count_and_order_is_free() {
        let (header, notes) = read(&[" MASS ", "Length", "nAmE", "Maker"]).unwrap();
        let names: Vec<&str> = header.places.iter().map(|place| place.name).collect();
        assert_eq!(names, ["mass", "length", "name", "maker"]);
        assert!(notes.is_empty());
    }

    #[test]
    fn a_unit_may_stand_with_the_name() {
        for cell in [
            "length (m)",
            "length_m",
            "Length [m]",
            "LENGTH m",
            "length, in m",
        ] {
            assert_eq!(unit(cell).as_deref(), Some("m"), "{cell}");
        }
        assert_eq!(unit("price (EUR)").as_deref(), Some("EUR"));
        assert_eq!(unit("mass [g]").as_deref(), Some("g"));
        assert_eq!(unit("length"), None);
    }

    #[test]
    fn a_unit_of_something_else_is_refused_once() {
        let faults = read(&["maker", "name", "length (kg)", "mass"]).unwrap_err();
        let [fault] = faults.as_slice() else {
            panic!("{faults:?}")
        };
        assert_eq!(fault.field, "length");
        assert!(fault.why.contains("`kg`"), "{fault}");
    }

    #[test]
    fn an_unknown_column_is_named_and_the_near_one_asked_about() {
        let (_, notes) = read(&["maker", "name", "count", "fiber", "zodiac", ""]).unwrap();
        let texts: Vec<String> = notes.iter().map(ToString::to_string).collect();
        assert_eq!(
            texts,
            [
                "line 1, fiber: no such column, not read; did you mean `fibre`?",
                "line 1, zodiac: no such column, not read",
                "line 1: column 6 has no name and is not read",
            ]
        );
    }

    #[test]
    fn missing_and_doubled_columns_are_refused_together() {
        let faults = read(&["maker", "length", "length (m)", "gauge"]).unwrap_err();
        let texts: Vec<String> = faults.iter().map(ToString::to_string).collect();
        assert!(texts[0].contains("stands twice"), "{texts:?}");
        assert!(
            texts[1].contains("lacks the columns name and mass"),
            "{texts:?}"
        );
    }

    #[test]
    fn a_count_stands_for_length_and_mass() {
        assert!(read(&["maker", "name", "count"]).is_ok());
        assert!(read(&["maker", "name", "length"]).is_err());
    }

    #[test]
    fn what_is_asked_for_is_said() {
        assert_eq!(least(STOCK_COLUMNS), "maker, name and amount");
        assert_eq!(
            least(YARN_COLUMNS),
            "maker and name, and length and mass or a yarn `count`"
        );
    }
}
