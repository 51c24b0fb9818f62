//! `pattern`

use crate::{
    app,
    cli::{
        db::Db,
        output::{Failure, Output},
    },
};
use clap::{Args, Subcommand};

/// List, show or remove patterns
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    what: What,
}

#[derive(Debug, Subcommand)]
enum What {
    /// Every kept pattern
    List,
    /// What is kept of one pattern
    Show {
        /// Its name
        name: String,
    },
    /// Remove a pattern
    Remove {
        /// Its name
        name: String,
    },
}

pub(super) fn run(arguments: Arguments, db: &Db, output: &Output) -> Result<(), Failure> {
    match arguments.what {
        What::List => output.answer(&app::list_patterns(&db.existing()?)?),
        What::Show { name } => output.answer(&app::show_pattern(&db.existing()?, &name)?),
        What::Remove { name } => output.answer(&app::remove_pattern(&mut db.existing()?, &name)?),
    }
}
