//! What can be wrong with a file, and where.

use crate::{
    files::text::FileKind,
    label::reading::{NoteKind, ReadError},
    store::SystemRefusal,
    words::{count_of, safe, shortened},
};
use std::{fmt, io};

/// Why a file cannot be read or written, as a whole.
#[derive(Debug, thiserror::Error)]
pub enum FileError {
    /// A table that no workbook can hold.
    #[error("{file} cannot be a workbook: {why}; write it as CSV")]
    NoWorkbook {
        /// What messages call it.
        file: String,
        /// What stands in the way.
        why: &'static str,
    },
    /// A workbook that is cut off, damaged, locked or empty.
    #[error(
        "{file}: this workbook cannot be read ({why}): open it and save it again as .xlsx or CSV"
    )]
    Workbook {
        /// The file, as the person named it.
        file: String,
        /// What the reader of workbooks says.
        why: String,
    },
    /// A sheet to check without anything in it.
    #[error("{file} is empty: give the sheet that you want to publish")]
    NoText {
        /// The file, as the person named it.
        file: String,
    },
    /// A table with more in it than is held at once.
    #[error(
        "{file} holds more than {limit}: save it as CSV in parts, and import one after another"
    )]
    TooMuch {
        /// The file, as the person named it.
        file: String,
        /// How much it may hold.
        limit: &'static str,
    },
    /// The file or stream fails.
    #[error("{file} cannot be read: {}", SystemRefusal::of(source))]
    Read {
        /// The file, as the person named it.
        file: String,
        /// What the system says.
        source: io::Error,
    },
    /// The file cannot be written; what stood there before still does.
    #[error(
        "{file} cannot be written: {}; nothing of it was changed",
        SystemRefusal::of(source)
    )]
    Write {
        /// The file, as the person named it.
        file: String,
        /// What the system says.
        source: io::Error,
    },
    /// A file stands where none may be replaced.
    #[error("{file} is there already: give another name, or replace it with --replace")]
    IsThere {
        /// The file, as the person named it.
        file: String,
    },
    /// Records, or what SQLite keeps beside them, stand there.
    #[error(
        "{file} holds records or belongs to a file that does, and was left as it is: give another name"
    )]
    Records {
        /// The file, as the person named it.
        file: String,
    },
    /// Not UTF-8 text.
    #[error("{file}{}: this is {found}, not UTF-8 text; {}", at_line(*line), found.remedy())]
    NotText {
        /// The file.
        file: String,
        /// The line in which it shows; `None` where it shows from the start.
        line: Option<u64>,
        /// What it is instead.
        found: FileKind,
    },
    /// Nothing in it.
    #[error("{file} is empty: the first line names the columns, at least {columns}")]
    Empty {
        /// The file.
        file: String,
        /// The columns that are asked for.
        columns: String,
    },
    /// No row in a table.
    #[error("{file} holds no rows: give a table with a line of heads and a row for each yarn")]
    NoRows {
        /// The file.
        file: String,
    },
    /// A file that is longer than any of its kind.
    #[error("{file} is longer than {} KiB: no file of this kind is so long; give a part of it", most / 1024)]
    TooLong {
        /// The file.
        file: String,
        /// The most bytes that it may have.
        most: usize,
    },
    /// A double quote that is never closed, so that rows run into each other.
    #[error(
        "{file}, line {line}: the double quote that opens a cell here is not closed within {} KiB; close it, or write a double quote that belongs to the text twice", most / 1024
    )]
    OpenQuote {
        /// The file.
        file: String,
        /// The line of the opening quote.
        line: u64,
        /// The most bytes that one row may have.
        most: u64,
    },
    /// A row that is longer than any row of a table.
    #[error(
        "{file}, line {line}: the row that starts here is longer than {} KiB; this is not a table of yarns or stock", most / 1024
    )]
    LongRow {
        /// The file.
        file: String,
        /// The line on which the row starts.
        line: u64,
        /// The most bytes that one row may have.
        most: u64,
    },
    /// A line that is longer than any of a sheet.
    #[error(
        "{file}, line {line}: the line is longer than {} KiB; give each yarn or sentence a line of its own", most / 1024
    )]
    LongLine {
        /// The file.
        file: String,
        /// The line.
        line: u64,
        /// The most bytes that it may have.
        most: usize,
    },
    /// Faults for which the whole file is refused: those of a header line, or
    /// all of a pattern file.
    #[error("{}", listed(file, faults, *more))]
    Faults {
        /// The file.
        file: String,
        /// The first that were found, in the order of the file; never empty.
        faults: Vec<CellFault>,
        /// How many more were counted.
        more: usize,
    },
}

impl FileError {
    /// A file of more than `most` bytes.
    pub(super) fn too_long(file: &str, most: usize) -> Self {
        Self::TooLong {
            file: file.to_owned(),
            most,
        }
    }
}

fn at_line(line: Option<u64>) -> String {
    line.map_or_else(String::new, |line| format!(", line {line}"))
}

/// How many faults of a file are listed; the rest is counted.
pub(super) const LISTED: usize = 20;

fn listed(file: &str, faults: &[CellFault], more: usize) -> String {
    if let ([one], 0) = (faults, more) {
        return format!("{file}, {one}");
    }
    let counted = |count: usize, what| {
        let count = u32::try_from(count).unwrap_or(u32::MAX);
        count_of(f64::from(count), what)
    };
    let first = faults.iter().take(LISTED);
    let lines: String = first.map(|fault| format!("\n  {fault}")).collect();
    let all = faults.len() + more;
    let more = match all.saturating_sub(LISTED) {
        0 => String::new(),
        more => format!("\n  and {}", counted(more, "more fault")),
    };
    format!("{file} has {}:{lines}{more}", counted(all, "fault"))
}

/// Where something stands in a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// The line, counted from 1, as an editor shows it.
    pub line: u64,
    /// The character in that line, counted from 1, where it is known.
    pub character: Option<u64>,
}

impl Place {
    /// A line as a whole.
    pub fn line(line: u64) -> Self {
        Self {
            line,
            character: None,
        }
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}", self.line)?;
        match self.character {
            Some(character) => write!(f, ", character {character}"),
            None => Ok(()),
        }
    }
}

/// One bad value: a cell of a table, a key of a file, a field of a form.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CellFault {
    /// Where it stands; `None` in a form.
    pub place: Option<Place>,
    /// The column, key or field; empty where the whole record is at fault.
    pub field: String,
    /// What was given, safe to show and shortened.
    pub given: String,
    /// What is wrong with it.
    pub why: String,
    /// What may be written instead.
    pub allowed: String,
}

/// The most characters of a bad value that are shown.
const SHOWN: usize = 60;
/// The most characters of what may be written instead, which may list names.
const ALLOWED: usize = 600;

impl CellFault {
    /// A fault of `field`, that of the whole record where it is empty.
    pub fn new(
        field: &str,
        given: &str,
        why: impl Into<String>,
        allowed: impl Into<String>,
    ) -> Self {
        Self {
            place: None,
            field: safe(field),
            given: shortened(given, SHOWN),
            why: why.into(),
            allowed: shortened(&allowed.into(), ALLOWED),
        }
    }

    /// The fault that reading `field` met.
    pub fn from_reading(field: &str, error: ReadError) -> Self {
        let allowed = format!("write {}", error.allowed);
        Self::new(field, &error.given, error.why, allowed)
    }

    /// The same with the place where it stands.
    pub fn at(self, place: impl Into<Option<Place>>) -> Self {
        Self {
            place: place.into(),
            ..self
        }
    }

    /// What is wrong and what to write, for where place and field are shown
    /// already: "`50`: it has no unit; write `50 g`".
    pub fn message(&self) -> String {
        if self.given.is_empty() {
            format!("{}; {}", self.why, self.allowed)
        } else {
            format!("`{}`: {}; {}", self.given, self.why, self.allowed)
        }
    }
}

impl fmt::Display for CellFault {
    /// "line 3, mass: `50`: it has no unit; write `50 g`".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&placed(self.place, &self.field, &self.message()))
    }
}

/// A note about a value that was read.
#[derive(Debug, Clone, PartialEq)]
pub struct CellNote {
    /// Where it stands; `None` in a form.
    pub place: Option<Place>,
    /// The column, key or field; empty where it is about the whole record.
    pub field: String,
    /// The note.
    pub kind: NoteKind,
}

impl CellNote {
    /// A remark on `field`.
    pub fn new(place: impl Into<Option<Place>>, field: &str, kind: impl Into<NoteKind>) -> Self {
        Self {
            place: place.into(),
            field: safe(field),
            kind: kind.into(),
        }
    }

    /// What it says, in `words`, behind its place: "line 3, class: ...".
    pub fn placed(&self, words: &str) -> String {
        placed(self.place, &self.field, words)
    }
}

/// `message` behind the place and the field, as far as there are any.
fn placed(place: Option<Place>, field: &str, message: &str) -> String {
    let place = place.map(|place| place.to_string());
    let field = (!field.is_empty()).then(|| field.to_owned());
    let before: Vec<String> = place.into_iter().chain(field).collect();
    if before.is_empty() {
        message.to_owned()
    } else {
        format!("{}: {message}", before.join(", "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn many_faults_are_listed_as_far_as_one_can_read_them() {
        let fault = |line| CellFault::new("a", "", "it is wrong", "mend it").at(Place::line(line));
        let told = listed("f", &(1..=20).map(fault).collect::<Vec<_>>(), 3);
        assert!(told.starts_with("f has 23 faults:\n  line 1, a: it is wrong; mend it\n"));
        assert!(told.ends_with("line 20, a: it is wrong; mend it\n  and 3 more faults"));
    }
}
