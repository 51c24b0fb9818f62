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
        /// The needle, as in "4 mm" or "US 6"
        #[arg(long)]
        needle: String,
        /// Gauge before washing, as in "21 sts x 28 rows / 10 cm, garter, flat"
        #[arg(long, value_name = "GAUGE")]
        before: Option<String>,
        /// Gauge after washing
        #[arg(long, value_name = "GAUGE")]
        after: Option<String>,
        /// Anything else
        #[arg(long, default_value = "")]
        notes: String,
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
        What::Add {
            yarn,
            needle,
            before,
            after,
            notes,
        } => output.show(&app::add_swatch(
            &mut db.existing()?,
            &app::Swatched {
                yarn,
                needle,
                before,
                after,
                notes,
            },
        )?),
        What::List { yarn } => output.show(&app::list_swatches(&db.existing()?, &yarn)?),
        What::Remove { number } => output.show(&app::remove_swatch(&mut db.existing()?, number)?),
    }
}
