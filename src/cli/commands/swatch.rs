//! `swatch`

use crate::{
    app,
    cli::{
        db::Db,
        output::{Failure, Output},
    },
};
use clap::{Args, Subcommand};

/// Keep the swatches of a yarn: the answers trust them before any label
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    what: What,
}

#[derive(Debug, Subcommand)]
enum What {
    /// Keep a swatch
    Add {
        /// The yarn: its name or article number
        yarn: String,
        #[command(flatten)]
        swatch: app::SwatchRequest,
    },
    /// The swatches of a yarn
    List {
        /// The yarn
        yarn: String,
    },
    /// Remove a swatch
    Remove {
        /// Its number, as `swatch list` shows it
        number: i64,
    },
}

pub(super) fn run(arguments: Arguments, db: &Db, output: &Output) -> Result<(), Failure> {
    match arguments.what {
        What::Add { yarn, swatch } => {
            output.answer(&app::add_swatch(&mut db.existing()?, &yarn, &swatch)?)
        }
        What::List { yarn } => output.answer(&app::list_swatches(&db.existing()?, &yarn)?),
        What::Remove { number } => output.answer(&app::remove_swatch(&mut db.existing()?, number)?),
    }
}
