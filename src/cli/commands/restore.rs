//! `restore`

use crate::{
    app,
    cli::{
        db::Db,
        output::{Failure, Output},
        progress::bar,
    },
};
use clap::Args;
use std::path::PathBuf;

/// Put a backup in the place of the records; a copy of them is kept beside
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    /// A backup
    file: PathBuf,
}

pub(super) fn run(arguments: &Arguments, db: &Db, output: &Output) -> Result<(), Failure> {
    let bar = bar(1, "restoring");
    let done = app::restore(&mut db.open()?, &arguments.file, |pages, all| {
        bar.set_length(all);
        bar.set_position(pages);
    });
    bar.finish_and_clear();
    output.answer(&done?)
}
