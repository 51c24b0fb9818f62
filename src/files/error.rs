//! What can be wrong with a file, and where.

use crate::{
    files::text::Found,
    label::reading::ReadError,
    words::{count_of, safe},
};
use std::{fmt, io};

/// Why a file cannot be read or written, as a whole.
#[derive(Debug, thiserror::Error)]
pub enum ExchangeError {
    /// The file or stream fails.
    #[error("{file} cannot be read: {source}")]
    Read {
        /// The file, as the person named it.
        file: String,
        /// What the system says.
        source: io::Error,
    },
    /// The file cannot be written; what stood there before still does.
    #[error("{file} cannot be written: {source}; nothing of it was changed")]
    Write {
        /// The file, as the person named it.
        file: String,
        /// What the system says.
        source: io::Error,
    },
    /// A file stands where none may be replaced.
    #[error("{file} is there already: give another name, or allow it to be replaced")]
    IsThere {
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
        found: Found,
    },
    /// Nothing in it.
    #[error("{file} is empty: the first line names the columns, at least {columns}")]
    Empty {
        /// The file.
        file: String,
        /// The columns that are asked for.
        columns: String,
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
        "{file}, line {line}: the row that starts here is longer than {} KiB; this is no table of yarns or stock", most / 1024
    )]
    LongRow {
        /// The file.
        file: String,
        /// The line on which the row starts.
        line: u64,
        /// The most bytes that one row may have.
        most: u64,
    },
    /// Faults for which the whole file is refused: those of a header line, or
    /// all of a pattern file.
    #[error("{}", listed(file, faults))]
    Faults {
        /// The file.
        file: String,
        /// Every one that was found, in the order of the file; never empty.
        faults: Vec<CellError>,
    },
}

fn at_line(line: Option<u64>) -> String {
    line.map_or_else(String::new, |line| format!(", line {line}"))
}

fn listed(file: &str, faults: &[CellError]) -> String {
    match faults {
        [one] => format!("{file}, {one}"),
        many => {
            let lines: String = many.iter().map(|fault| format!("\n  {fault}")).collect();
            let found = u32::try_from(many.len()).unwrap_or(u32::MAX);
            format!("{file} has {}:{lines}", count_of(f64::from(found), "fault"))
        }
    }
}

/// One bad cell of a table, or one bad key of a pattern file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CellError {
    /// The line, counted from 1, as an editor shows it.
    pub line: u64,
    /// The character in that line, counted from 1, where it is known.
    pub character: Option<u64>,
    /// The column of the table, or the key of the pattern file; empty where the
    /// whole row is at fault.
    pub field: String,
    /// What was given, safe to show and shortened.
    pub given: String,
    /// What is wrong with it.
    pub why: String,
    /// What may be written instead.
    pub allowed: String,
}

/// The most characters of a bad cell that are shown.
const SHOWN: usize = 60;

impl CellError {
    /// A fault of `field` in `line`.
    pub(super) fn new(
        line: u64,
        field: &str,
        given: &str,
        why: impl Into<String>,
        allowed: impl Into<String>,
    ) -> Self {
        Self {
            line,
            character: None,
            field: safe(field),
            given: shortened(given),
            why: why.into(),
            allowed: allowed.into(),
        }
    }

    /// A fault of a whole row: what it holds cannot be taken as it is.
    pub fn row(line: u64, given: &str, why: impl Into<String>, allowed: impl Into<String>) -> Self {
        Self::new(line, "", given, why, allowed)
    }

    /// The fault that reading `field` met.
    pub(super) fn of_reading(line: u64, field: &str, error: ReadError) -> Self {
        let allowed = format!("write {}", error.allowed);
        Self::new(line, field, &error.given, error.why, allowed)
    }
}

/// `text` safe to show, its end cut where it is long.
pub(super) fn shortened(text: &str) -> String {
    let shown = safe(text);
    match shown.char_indices().nth(SHOWN) {
        Some((cut, _)) => format!("{}...", shown.get(..cut).unwrap_or_default()),
        None => shown,
    }
}

impl fmt::Display for CellError {
    /// "line 3, column mass: `50` is not read: it has no unit; write `50 g`".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}", self.line)?;
        if let Some(character) = self.character {
            write!(f, ", character {character}")?;
        }
        if !self.field.is_empty() {
            write!(f, ", {}", self.field)?;
        }
        match self.given.is_empty() {
            true => write!(f, ": {}; {}", self.why, self.allowed),
            false => write!(f, ": `{}`: {}; {}", self.given, self.why, self.allowed),
        }
    }
}

/// Something to know about a cell or key that was read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CellNote {
    /// The line, counted from 1.
    pub line: u64,
    /// The column or key; empty where it is about the whole row.
    pub field: String,
    /// A sentence.
    pub message: String,
}

impl CellNote {
    /// A remark on `field` in `line`.
    pub fn new(line: u64, field: &str, message: impl Into<String>) -> Self {
        Self {
            line,
            field: safe(field),
            message: message.into(),
        }
    }
}

impl fmt::Display for CellNote {
    /// "line 3, class: ...".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.field.is_empty() {
            true => write!(f, "line {}: {}", self.line, self.message),
            false => write!(f, "line {}, {}: {}", self.line, self.field, self.message),
        }
    }
}
