//! Why the store could not do as it was asked.

use crate::{record::RecordError, words::and_list};
use std::{io, path::PathBuf};

/// Why the system refuses a file, in plain words: the number of its error helps nobody, nor
/// the name of a file in the making.
#[derive(Debug, thiserror::Error)]
pub enum SystemRefusal {
    /// It, or a folder on the way to it, is not there.
    #[error("there is no such file or folder")]
    Missing,
    /// The user may not.
    #[error("you have no right to it")]
    NotAllowed,
    /// A disk that is only read.
    #[error("the disk allows no writing")]
    ReadOnly,
    /// No room left.
    #[error("there is no room left on the disk")]
    Full,
    /// As the system says it.
    #[error("{0}")]
    Other(String),
}

impl SystemRefusal {
    /// What an error of the system means.
    pub fn of(error: &io::Error) -> Self {
        match error.kind() {
            io::ErrorKind::NotFound => Self::Missing,
            io::ErrorKind::PermissionDenied => Self::NotAllowed,
            io::ErrorKind::ReadOnlyFilesystem => Self::ReadOnly,
            io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => Self::Full,
            _ => Self::Other(error.to_string()),
        }
    }
}

/// Why the store could not do as it was asked.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// Another connection held the file for longer than is waited.
    #[error("{} is being written by another program; try again", path.display())]
    Locked {
        /// The file.
        path: PathBuf,
    },
    /// The file, or the folder that must hold its side files, is write-protected.
    #[error("{} cannot be written; allow writing to the file and to its folder, or use another file", path.display())]
    ReadOnly {
        /// The file.
        path: PathBuf,
    },
    /// Not a SQLite file.
    #[error("{} is not a SQLite database, so it was left as it is; give the file that holds your records", path.display())]
    NotADatabase {
        /// The file.
        path: PathBuf,
    },
    /// A SQLite file that this program did not make.
    #[error("{} is a database of another program, so it was left as it is; give the file that holds your records", path.display())]
    Foreign {
        /// The file.
        path: PathBuf,
    },
    /// Written by a newer version of this program.
    #[error("{} has record format {file} and this program knows formats up to {program}, so it was left as it is; update the program", path.display())]
    Newer {
        /// The file.
        path: PathBuf,
        /// Format of the file.
        file: u32,
        /// Newest format that this program knows.
        program: u32,
    },
    /// No such file.
    #[error("{} does not exist; check the name, or import something to start it", path.display())]
    Missing {
        /// The file.
        path: PathBuf,
    },
    /// A file stands where one was to be written.
    #[error("{} exists already and was left as it is; give another name", path.display())]
    Exists {
        /// The file.
        path: PathBuf,
    },
    /// A name that SQLite gives to what it keeps beside a database.
    #[error("the program needs the name {} for itself; use another name", path.display())]
    SideFile {
        /// The file.
        path: PathBuf,
    },
    /// A file that would be put in its own place.
    #[error("{} is the file in use itself; give a backup of it", path.display())]
    Itself {
        /// The file.
        path: PathBuf,
    },
    /// The file is cut short or garbled.
    #[error("{} is damaged; restore a backup, or one of the copies beside it", path.display())]
    Corrupt {
        /// The file.
        path: PathBuf,
    },
    /// The file reads well, but what it holds does not hang together.
    #[error("{} has faults: {}; use another backup", path.display(), and_list(problems))]
    Unsound {
        /// The file.
        path: PathBuf,
        /// What is wrong.
        problems: Vec<Problem>,
    },
    /// A text that names another change.
    #[error("`{text}` was used for another change before ({what}); use another text for this one")]
    OnceTaken {
        /// The text.
        text: String,
        /// The change that was made under it.
        what: String,
    },
    /// No room left.
    #[error("there is no room left for {}; free some space and try again", path.display())]
    Full {
        /// The file.
        path: PathBuf,
    },
    /// The disk failed while SQLite read or wrote.
    #[error("{}: the disk refused ({source}), so nothing was saved; check that it has room and allows files of this size, and try again", path.display())]
    Disk {
        /// The file.
        path: PathBuf,
        /// What SQLite says.
        source: rusqlite::Error,
    },
    /// The file system refused.
    #[error("cannot {doing} {}: {}", path.display(), SystemRefusal::of(source))]
    File {
        /// What was attempted.
        doing: &'static str,
        /// The file or folder.
        path: PathBuf,
        /// What the system says.
        source: std::io::Error,
    },
    /// A record that is not there, or no longer.
    #[error("there is no {what} with the number {id}; it may have been removed meanwhile")]
    Gone {
        /// What kind of record.
        what: &'static str,
        /// Its number.
        id: i64,
    },
    /// A change that was taken back before.
    #[error("change {0} was undone before; nothing was changed now")]
    UndoneBefore(i64),
    /// A change that later ones depend on.
    #[error("a later change depends on this one: undo {} first", and_list(changes))]
    FollowedUp {
        /// Which changes come first, the last one made at the front.
        changes: Vec<i64>,
    },
    /// Someone changed the record after it was read.
    #[error(
        "someone else changed {what} number {id} meanwhile; open it again and repeat your change"
    )]
    ChangedMeanwhile {
        /// What kind of record.
        what: &'static str,
        /// Its number.
        id: i64,
    },
    /// The record cannot go while others refer to it.
    #[error("{what} is still in use by a {by}; remove or move that first")]
    InUse {
        /// Which record.
        what: String,
        /// What kind of record refers to it.
        by: &'static str,
    },
    /// A record with this name is kept already; neither case nor spaces tell names
    /// apart.
    #[error("there is already a {what} `{name}`; change that one, or use another name")]
    Duplicate {
        /// What kind of record.
        what: &'static str,
        /// The name.
        name: String,
    },
    /// A change after which the ledger of a lot would no longer add up.
    #[error("this change does not fit the other entries of {lot}: {why}")]
    Ledger {
        /// The lot.
        lot: String,
        /// Why not.
        why: RecordError,
    },
    /// A row that is no valid record.
    #[error("{}: row {id} of `{table}` is damaged: {why}; restore a backup", path.display())]
    Damaged {
        /// The file.
        path: PathBuf,
        /// The table.
        table: &'static str,
        /// The row.
        id: i64,
        /// What is wrong with it.
        why: String,
    },
    /// A value that a rule of the database forbids.
    #[error("{}: the record was not saved, because a rule forbids it: {rule}; correct the value", path.display())]
    Refused {
        /// The file.
        path: PathBuf,
        /// The rule, as the database calls it.
        rule: String,
    },
    /// Not a valid record.
    #[error(transparent)]
    Record(#[from] RecordError),
    /// The file could not be brought to the newest format.
    #[error("{} could not be brought to the newest record format and was left as it was: {why}", path.display())]
    Migration {
        /// The file.
        path: PathBuf,
        /// What went wrong.
        why: String,
    },
    /// Anything else that SQLite reports.
    #[error("{}: {source}", path.display())]
    Sqlite {
        /// The file.
        path: PathBuf,
        /// What SQLite says.
        source: rusqlite::Error,
    },
}

/// What is wrong with a file of records.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Problem {
    /// What SQLite says of its pages and rules, or why a part cannot be read.
    #[error("{0}")]
    Unreadable(String),
    /// A row that refers to one that is not there.
    #[error("row {row} of `{table}` refers to a row of `{parent}` that is not there")]
    Astray {
        /// The row.
        row: i64,
        /// Its table.
        table: String,
        /// The other table.
        parent: String,
    },
    /// A table, an index or a trigger that is not there.
    #[error("the {0} is missing; restore a backup")]
    Missing(String),
    /// One that is made otherwise.
    #[error("the {0} is not as this program makes it; restore a backup")]
    MadeOtherwise(String),
    /// One that this program does not make.
    #[error("the {0} is not of this program; restore a backup")]
    Foreign(String),
    /// Length per mass that length and mass do not give.
    #[error("the metres per gram of `{0}` do not fit its length and weight; save it again")]
    Grist(String),
    /// Another number of yarns than is counted.
    #[error("{told} yarns are counted but {kept} are there; restore a backup")]
    Tally {
        /// As counted.
        told: u64,
        /// As there are.
        kept: u64,
    },
    /// Facts of nothing.
    #[error("row {0} of `facts` belongs to no yarn and no pattern")]
    LostFacts(i64),
    /// A line of a ledger that is another, or follows another, than when it was sealed.
    #[error(
        "line {line} of the ledger of lot {lot} ({title}) is not as it was written, or one before it is missing; restore a backup"
    )]
    Line {
        /// The line.
        line: i64,
        /// Its lot.
        lot: i64,
        /// What people call the lot.
        title: String,
    },
    /// A ledger whose end is not there.
    #[error(
        "line {line}, the last of the ledger of lot {lot} ({title}), is missing; restore a backup"
    )]
    NoLastLine {
        /// The line.
        line: i64,
        /// Its lot.
        lot: i64,
        /// What people call the lot.
        title: String,
    },
    /// A ledger that has lines after its end.
    #[error(
        "line {line} of the ledger of lot {lot} ({title}) comes after its last recorded one; restore a backup"
    )]
    NotTheLastLine {
        /// The line.
        line: i64,
        /// Its lot.
        lot: i64,
        /// What people call the lot.
        title: String,
    },
    /// A name under which nothing is found.
    #[error("{title}: `{text}` is not found by its name; save it again")]
    Key {
        /// What people call the record.
        title: String,
        /// The name.
        text: String,
    },
    /// A number that is not what the text beside it says.
    #[error(
        "{title}: the number beside `{text}` is another; {}",
        if *by_people { "correct it or save it again" } else { "restore a backup" }
    )]
    Number {
        /// What people call the record.
        title: String,
        /// The text.
        text: String,
        /// Whether people can correct it, which they cannot in a ledger.
        by_people: bool,
    },
}

impl StoreError {
    /// Turns a clash of unique names into [`StoreError::Duplicate`].
    pub(super) fn or_duplicate(self, what: &'static str, name: impl FnOnce() -> String) -> Self {
        match self {
            Self::Sqlite { ref source, .. } if is_unique_clash(source) => {
                Self::Duplicate { what, name: name() }
            }
            other => other,
        }
    }
}

fn is_unique_clash(error: &rusqlite::Error) -> bool {
    error
        .sqlite_error()
        .is_some_and(|failure| failure.extended_code == rusqlite::ffi::SQLITE_CONSTRAINT_UNIQUE)
}
