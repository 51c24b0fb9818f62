//! `check`

use super::question::{Wanted, Worked};
use crate::{
    app,
    cli::{
        db::Db,
        output::{Failure, Output},
    },
};
use clap::Args;

/// Will this yarn do for this pattern, and how many skeins does each size take?
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(flatten)]
    wanted: Wanted,
    /// The yarn: its name, its article number, or what its band says
    #[arg(long, value_name = "YARN", allow_hyphen_values = true)]
    yarn: String,
    #[command(flatten)]
    worked: Worked,
}

pub(super) fn run(arguments: Arguments, db: &Db, output: &Output) -> Result<(), Failure> {
    let question = arguments.worked.added_to(arguments.wanted.question());
    let records = match question.pattern {
        Some(_) => db.existing()?,
        None => db.if_there()?,
    };
    output.show(&app::check(&records, &question, &arguments.yarn)?)
}
