//! `yarn`

use crate::{
    app,
    cli::{
        db::Db,
        output::{Failure, Output},
    },
};
use clap::{Args, Subcommand};

/// List, show, add or remove yarns
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    what: What,
}

#[derive(Debug, Subcommand)]
enum What {
    /// Yarns whose name holds the text or is like it; all of them without a text
    List {
        /// Some words of maker and name
        text: Option<String>,
        /// How many to show
        #[arg(long, value_name = "N", default_value_t = 20)]
        top: usize,
    },
    /// What is kept of one yarn
    Show {
        /// Its name or article number
        yarn: String,
    },
    Add(app::AddYarnRequest),
    /// Remove a yarn that is not in stock and has no swatch
    Remove {
        /// Its name or article number
        yarn: String,
    },
}

pub(super) fn run(arguments: Arguments, db: &Db, output: &Output) -> Result<(), Failure> {
    match arguments.what {
        What::List { text, top } => {
            output.answer(&app::list_yarns(&db.existing()?, text.as_deref(), top)?)
        }
        What::Show { yarn } => output.answer(&app::show_yarn(&db.existing()?, &yarn)?),
        What::Add(request) => output.answer(&app::add_yarn(&mut db.open()?, &request)?),
        What::Remove { yarn } => output.answer(&app::remove_yarn(&mut db.existing()?, &yarn)?),
    }
}
