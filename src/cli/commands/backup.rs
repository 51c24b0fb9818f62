//! `backup`

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

/// Write all records to a new file, while others may be using them
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    /// A file that is not there yet
    file: PathBuf,
}

pub(super) fn run(arguments: &Arguments, db: &Db, output: &Output) -> Result<(), Failure> {
    let bar = bar(1, "writing");
    let done = app::backup(&db.existing()?, &arguments.file, |pages, all| {
        bar.set_length(all);
        bar.set_position(pages);
    });
    bar.finish_and_clear();
    output.answer(&done?)
}
