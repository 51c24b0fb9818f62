//! The header line: what separates the cells, which column stands where, and in
//! which unit.

use super::columns::{Column, Presence};
use crate::{
    files::{CellFault, CellNote, Place},
    words::{and_list, did_you_mean, fold, or_list},
};

/// One column of a file.
#[derive(Debug, Clone)]
pub(super) struct ColumnPlace {
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
    pub places: Vec<ColumnPlace>,
}

impl Header {
    /// Every column in its order, as the fields of a form stand.
    pub fn with_all(columns: &[Column]) -> Self {
        let places = columns
            .iter()
            .enumerate()
            .map(|(index, column)| ColumnPlace {
                index,
                name: column.name,
                unit: None,
            });
        Self {
            width: columns.len(),
            places: places.collect(),
        }
    }

    /// Where the column `name` stands.
    pub fn column(&self, name: &str) -> Option<&ColumnPlace> {
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
    cells: &[&str],
    columns: &'static [Column],
) -> Result<(Header, Vec<CellNote>), Vec<CellFault>> {
    let mut header = Header {
        width: cells.len(),
        places: Vec::new(),
    };
    let (mut notes, mut faults) = (Vec::new(), Vec::new());
    for (index, cell) in cells.iter().enumerate() {
        match placed(index, cell, columns) {
            None => notes.push(unknown(line, index, cell, columns)),
            Some(Err(fault)) => faults.push(fault),
            Some(Ok(place)) if header.column(place.name).is_some() => faults.push(doubled(cell)),
            Some(Ok(place)) => header.places.push(place),
        }
    }
    faults.extend(missing(&header, columns, &faults));
    if faults.is_empty() {
        Ok((header, notes))
    } else {
        let at_line = |fault: CellFault| fault.at(Place::line(line));
        Err(faults.into_iter().map(at_line).collect())
    }
}

/// The column that a cell names, or what is wrong with its unit; none where it names
/// none.
fn placed(
    index: usize,
    cell: &str,
    columns: &'static [Column],
) -> Option<Result<ColumnPlace, CellFault>> {
    let (column, unit) = named(cell, columns)?;
    let name = column.name;
    let reads = |unit: &String| column.reads?(&format!("{PROBE} {unit}")).then_some(());
    if let Some(unit) = unit.as_ref().filter(|unit| reads(unit).is_none()) {
        let why = format!("`{unit}` is no unit of {name}");
        let example = with_unit(column);
        let allowed = format!("name the column `{name}`, alone or with a unit, as in `{example}`");
        return Some(Err(CellFault::new(name, cell, why, allowed)));
    }
    Some(Ok(ColumnPlace { index, name, unit }))
}

/// The column with the unit of its example: `length (m)`.
fn with_unit(column: &Column) -> String {
    let unit = column
        .example
        .trim_start_matches(|c: char| !c.is_alphabetic());
    format!("{} ({unit})", column.name)
}

fn doubled(cell: &str) -> CellFault {
    CellFault::new(
        cell,
        cell,
        "this column is there twice",
        "leave one of them out, or give it another name",
    )
}

fn unknown(line: u64, index: usize, cell: &str, columns: &[Column]) -> CellNote {
    if cell.is_empty() {
        let message = format!("column {} has no name: left out", index + 1);
        return CellNote::new(Place::line(line), "", message);
    }
    let near: Vec<String> = did_you_mean(cell, columns.iter().map(|column| column.name))
        .iter()
        .map(|name| format!("`{name}`"))
        .collect();
    let asked = if near.is_empty() {
        String::new()
    } else {
        format!("; did you mean {}?", or_list(&near))
    };
    CellNote::new(
        Place::line(line),
        cell,
        format!("this column is not known: left out{asked}"),
    )
}

/// The required columns that are neither there nor at fault already.
fn missing(header: &Header, columns: &'static [Column], faults: &[CellFault]) -> Option<CellFault> {
    let counted = header.column("count").is_some();
    let absent: Vec<&str> = columns
        .iter()
        .filter(|column| match column.presence {
            Presence::Required => true,
            Presence::UnlessCount => !counted,
            Presence::Optional => false,
        })
        .map(|column| column.name)
        .filter(|name| header.column(name).is_none())
        .filter(|name| !faults.iter().any(|fault| fault.field == *name))
        .collect();
    let word = if absent.len() == 1 {
        "column"
    } else {
        "columns"
    };
    (!absent.is_empty()).then(|| {
        CellFault::new(
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

/// The characters that may separate cells, the standard one first.
const DELIMITERS: [u8; 3] = [b',', b';', b'\t'];

/// The one under which the header line holds the most known columns; of equals
/// the one that splits the line most often, then the first of the list.
pub(super) fn delimiter_of(header_line: &str, is_column: impl Fn(&str) -> bool) -> u8 {
    let merit = |delimiter: u8| {
        let cells = header_line.split(char::from(delimiter));
        let known = cells
            .clone()
            .filter(|cell| is_column(cell.trim().trim_matches('"')));
        (known.count(), cells.count())
    };
    let last_best = DELIMITERS.into_iter().rev().max_by_key(|one| merit(*one));
    last_best.unwrap_or(b',')
}

/// A delimiter's name, for people.
pub(super) fn delimiter_name(delimiter: u8) -> &'static str {
    match delimiter {
        b';' => "`;`",
        b'\t' => "a tab",
        _ => "`,`",
    }
}

/// The columns that are asked for, as a sentence.
pub(super) fn least(columns: &[Column]) -> String {
    let of = |presence| -> Vec<&str> {
        let those = columns.iter().filter(|column| column.presence == presence);
        those.map(|column| column.name).collect()
    };
    match of(Presence::UnlessCount) {
        unless if unless.is_empty() => and_list(of(Presence::Required)),
        unless => format!(
            "{}, and {} or a yarn `count`",
            and_list(of(Presence::Required)),
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
    use crate::label::reading::NoteKind;

    fn read(cells: &[&str]) -> Result<(Header, Vec<CellNote>), Vec<CellFault>> {
        read_header(1, cells, YARN_COLUMNS)
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
        let texts: Vec<String> = notes
            .iter()
            .map(|note| match &note.kind {
                NoteKind::Text(text) => note.placed(text),
                other => panic!("{other:?}"),
            })
            .collect();
        assert_eq!(
            texts,
            [
                "line 1, fiber: this column is not known: left out; did you mean `fibre`?",
                "line 1, zodiac: this column is not known: left out",
                "line 1: column 6 has no name: left out",
            ]
        );
    }

    #[test]
    fn missing_and_doubled_columns_are_refused_together() {
        let faults = read(&["maker", "length", "length (m)", "gauge"]).unwrap_err();
        let texts: Vec<String> = faults.iter().map(ToString::to_string).collect();
        assert!(texts[0].contains("is there twice"), "{texts:?}");
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

    #[test]
    fn the_header_line_shows_what_parts_the_cells() {
        for (line, delimiter) in [
            ("maker,name,length,mass", b','),
            ("maker;name;length (m);mass", b';'),
            ("maker\tname\tlength\tmass", b'\t'),
            ("\"maker\";\"name\";\"length, in m\"", b';'),
            ("maker", b','),
        ] {
            assert_eq!(
                delimiter_of(line, |cell| named(cell, YARN_COLUMNS).is_some()),
                delimiter,
                "{line}"
            );
        }
    }
}
