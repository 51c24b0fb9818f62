//! What can be typed.

use super::commands::Command;
use clap::{Args, CommandFactory, Parser, builder::NonEmptyStringValueParser};
use std::path::PathBuf;

/// Says what other yarn would do for a knitting pattern, how much of it each
/// size takes, and whether the stash holds it.
#[derive(Debug, Parser)]
#[command(name = "understudy", version, max_term_width = 100)]
#[command(
    after_help = "Only a washed swatch proves a swap. Exit status: 0 done, 1 refused or failed, 2 wrong usage, 3 changed or written as asked but the answer could not be written to standard output."
)]
pub(super) struct Cli {
    /// File that holds your records [default: understudy.db in your data directory]
    #[arg(long, value_name = "FILE", env = "UNDERSTUDY_DB", global = true)]
    pub(super) db: Option<PathBuf>,

    /// Answer as JSON with documented fields
    #[arg(long, global = true)]
    pub(super) json: bool,

    /// Answer as Markdown, to hand over
    #[arg(long, global = true, conflicts_with = "json")]
    pub(super) markdown: bool,

    /// Leave out the backup that is made beside the records after the first change of a day
    #[arg(long, global = true)]
    pub(super) no_backup: bool,

    #[command(subcommand)]
    pub(super) command: Command,
}

/// A text that stands for one change.
#[derive(Debug, Default, Args)]
pub(super) struct Once {
    /// A text of your own for this change, such as the number of a receipt: given again, the change is not made twice
    #[arg(id = "once", long = "once", value_name = "TEXT", value_parser = NonEmptyStringValueParser::new())]
    pub(super) text: Option<String>,
}

/// The whole command line, for completions and man pages.
pub fn command() -> clap::Command {
    Cli::command()
}
