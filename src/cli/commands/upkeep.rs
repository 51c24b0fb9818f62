//! Commands that keep the file of records safe: backup, restore, verify.

use crate::{
    app::{self, RecordChange},
    cli::{
        db::Db,
        output::{Failure, Output, progress_bar},
    },
};
use clap::Args;
use std::path::PathBuf;

/// Write all records to a new file, while others may be using them
#[derive(Debug, Args)]
pub(crate) struct BackupArguments {
    /// A file that is not there yet
    file: PathBuf,
}

pub(super) fn backup(arguments: &BackupArguments, db: &Db, output: &Output) -> Result<(), Failure> {
    let bar = progress_bar(1, "writing");
    let done = app::backup(&db.existing()?, &arguments.file, |pages, all| {
        bar.set_length(all);
        bar.set_position(pages);
    });
    bar.finish_and_clear();
    let done = done?;
    output.change(&done)?;
    match done {
        RecordChange::BackedUp { problems, .. } if !problems.is_empty() => Err(Failure::Told),
        _ => Ok(()),
    }
}

/// Put a backup in the place of the records; a copy of them is kept beside
#[derive(Debug, Args)]
pub(crate) struct RestoreArguments {
    /// A backup
    file: PathBuf,
}

pub(super) fn restore(
    arguments: &RestoreArguments,
    db: &Db,
    output: &Output,
) -> Result<(), Failure> {
    let bar = progress_bar(1, "restoring");
    let done = app::restore(&db.path()?, &arguments.file, |pages, all| {
        bar.set_length(all);
        bar.set_position(pages);
    });
    bar.finish_and_clear();
    output.change(&done?)
}

/// Look the records through: is the file sound, do the ledgers add up?
#[derive(Debug, Args)]
pub(crate) struct VerifyArguments {}

pub(super) fn verify(db: &Db, output: &Output) -> Result<(), Failure> {
    let found = app::verify(&db.unchanged()?)?;
    output.answer(&found)?;
    if found.problems.is_empty() {
        Ok(())
    } else {
        Err(Failure::Told)
    }
}
