//! Commands about changes of the records: the history of one, and taking one back.

use crate::{
    app::{self, RecordKind},
    cli::{
        arguments::Once,
        db::Db,
        output::{Failure, Output},
    },
};
use clap::{Args, ValueEnum};

/// What was changed of a yarn, lot, swatch, pattern or project, and when
///
/// With what each field was before. The program remembers the last 1000 changes.
#[derive(Debug, Args)]
pub(crate) struct HistoryArguments {
    /// What it is
    #[arg(value_name = "KIND")]
    kind: Kind,
    /// Its name; of a lot or a swatch its number
    #[arg(value_name = "NAME")]
    name: String,
}

/// A kind of record, as it is typed.
#[derive(Debug, Clone, Copy, ValueEnum)]
enum Kind {
    Yarn,
    Lot,
    Swatch,
    Pattern,
    Project,
}

impl Kind {
    fn of(self) -> RecordKind {
        match self {
            Self::Yarn => RecordKind::Yarn,
            Self::Lot => RecordKind::Lot,
            Self::Swatch => RecordKind::Swatch,
            Self::Pattern => RecordKind::Pattern,
            Self::Project => RecordKind::Project,
        }
    }
}

pub(super) fn history(
    arguments: &HistoryArguments,
    db: &Db,
    output: &Output,
) -> Result<(), Failure> {
    let HistoryArguments { kind, name } = arguments;
    output.answer(&app::history(&db.existing()?, kind.of(), name)?)
}

/// Undo the last change of yarns, stash, swatches, patterns or projects
///
/// A purchase or a use gets one more line in the ledger of its lot, which cancels it.
/// What you edited or removed comes back. A table you imported goes as one change. If
/// a later change depends on the one you mean, undo the later one first.
#[derive(Debug, Args)]
pub(crate) struct UndoArguments {
    /// Number of the change, as `--list` shows it; without it the last one
    number: Option<i64>,
    /// Show the last ten changes that you can undo, and undo none
    #[arg(long, conflicts_with_all = ["number", "dry_run", "once"])]
    list: bool,
    /// Say what would be undone, and undo nothing
    #[arg(long, conflicts_with = "once")]
    dry_run: bool,
    #[command(flatten)]
    once: Once,
}

pub(super) fn undo(arguments: UndoArguments, db: &Db, output: &Output) -> Result<(), Failure> {
    if arguments.list {
        return output.answer(&app::list_undo(&db.existing()?)?);
    }
    let mut records = db.existing()?.once(arguments.once.text);
    match arguments.dry_run {
        true => output.answer(&app::preview_undo(&mut records, arguments.number)?),
        false => output.change(&app::undo(&mut records, arguments.number)?),
    }
}
