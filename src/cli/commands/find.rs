//! `find`

use super::question::Wanted;
use crate::{
    app,
    cli::{
        db::Db,
        output::{Failure, Output},
    },
};
use clap::{Args, ValueEnum};

/// Which of your yarns would do best for this pattern?
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(flatten)]
    wanted: Wanted,
    /// Where to look
    #[arg(long, value_enum, default_value_t = Source::Catalogue)]
    from: Source,
    /// How many to show
    #[arg(long, value_name = "N", default_value_t = 5, value_parser = clap::value_parser!(u16).range(1..))]
    top: u16,
}

/// Where candidates come from.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub(super) enum Source {
    /// Yarns of which something is in stock
    Stash,
    /// Every kept yarn
    Catalogue,
}

impl From<Source> for app::From {
    fn from(source: Source) -> Self {
        match source {
            Source::Stash => Self::Stash,
            Source::Catalogue => Self::Catalogue,
        }
    }
}

pub(super) fn run(arguments: Arguments, db: &Db, output: &Output) -> Result<(), Failure> {
    let question = arguments.wanted.question();
    output.show_all(&app::find(
        &db.existing()?,
        &question,
        arguments.from.into(),
        usize::from(arguments.top),
    )?)
}
