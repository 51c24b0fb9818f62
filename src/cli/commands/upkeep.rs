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

/// Write all your records to a new file, even while the program runs
#[derive(Debug, Args)]
pub(crate) struct BackupArguments {
    /// A new file
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

/// Replace your records with a backup; the program saves a copy of them first
#[derive(Debug, Args)]
pub(crate) struct RestoreArguments {
    /// The backup
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

/// Check the records: is the file sound, does every lot add up?
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
