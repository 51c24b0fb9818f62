//! `check`

use super::question::{Wanted, Worked};
use crate::{
    app::{self, Question},
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
    /// How sure to be of enough, as in "95%": also tell the chance of running out
    #[arg(long, value_name = "SHARE")]
    sure: Option<String>,
    /// How far your use lies from a stated need 95 times in 100, as in "5%"
    #[arg(long, value_name = "SHARE", requires = "sure")]
    own_use: Option<String>,
}

pub(super) fn run(arguments: Arguments, db: &Db, output: &Output) -> Result<(), Failure> {
    let question = Question {
        sure: arguments.sure,
        own_use: arguments.own_use,
        ..arguments.worked.added_to(arguments.wanted.question())
    };
    let records = match question.pattern {
        Some(_) => db.existing()?,
        None => db.if_there()?,
    };
    output.show(&app::check(&records, &question, &arguments.yarn)?)
}
