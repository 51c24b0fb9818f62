//! What can be typed.

use super::{commands::Command, help::explained};
use clap::{Args, CommandFactory, Parser, builder::NonEmptyStringValueParser};
use std::path::PathBuf;

/// Will another yarn work for this knitting pattern, how many balls does each size
/// need, and is there enough in the stash?
#[derive(Debug, Parser)]
#[command(name = "understudy", version, max_term_width = 100)]
pub(super) struct Cli {
    /// Your records [default: understudy.db in your data folder]
    #[arg(long, value_name = "FILE", env = "UNDERSTUDY_DB", global = true)]
    pub(super) db: Option<PathBuf>,

    /// Answer as JSON, for programs
    #[arg(long, global = true)]
    pub(super) json: bool,

    /// Answer as Markdown, to send or publish
    #[arg(long, global = true, conflicts_with = "json")]
    pub(super) markdown: bool,

    /// Answer with all that is known: every size, how it was worked out, the sources
    #[arg(long, global = true, conflicts_with = "json")]
    pub(super) details: bool,

    /// Do not make the daily backup that follows the first change of a day
    #[arg(long, global = true)]
    pub(super) no_backup: bool,

    #[command(subcommand)]
    pub(super) command: Command,
}

/// A text that stands for one change.
#[derive(Debug, Default, Args)]
pub(super) struct Once {
    /// A text of your own, such as a receipt number, so that the same change is never made twice
    #[arg(id = "once", long = "once", value_name = "TEXT", value_parser = NonEmptyStringValueParser::new())]
    pub(super) text: Option<String>,
}

/// The whole command line as people read it, for completions and man pages too.
pub fn command() -> clap::Command {
    explained(Cli::command())
}
