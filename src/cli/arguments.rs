//! What can be typed.

use super::{commands::Command, help::explained};
use clap::{Args, CommandFactory, Parser, builder::NonEmptyStringValueParser};
use std::{ffi::OsString, path::PathBuf};

/// Will another yarn work for this knitting pattern, how many balls does each size
/// need, and is there enough in the stash?
#[derive(Debug, Parser)]
#[command(name = "understudy", version = env!("UNDERSTUDY_VERSION"), max_term_width = 100)]
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

/// Arguments in which a value below zero, such as `-5 m`, is no option: behind an
/// option it is joined to it, elsewhere it gets the sign that only numbers have.
pub(super) fn with_values_below_zero(typed: impl IntoIterator<Item = OsString>) -> Vec<OsString> {
    let mut all: Vec<OsString> = Vec::new();
    let mut are_plain = false;
    for argument in typed {
        are_plain = are_plain || argument == "--";
        let text = argument.to_str().unwrap_or_default();
        let below = text.strip_prefix('-').filter(|_| !are_plain);
        let below = below.filter(|rest| rest.starts_with(|c: char| c.is_ascii_digit()));
        let Some(below) = below else {
            all.push(argument);
            continue;
        };
        let takes = |option: &&mut OsString| {
            let option = option.to_str().unwrap_or_default();
            option.starts_with("--") && !option.contains('=')
        };
        match all.last_mut().filter(takes) {
            Some(option) => option.push(format!("=-{below}")),
            None => all.push(format!("\u{2212}{below}").into()),
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_below_zero_is_no_option() {
        let typed = [
            "u", "skeins", "--need", "-5 m", "convert", "-5 m", "--", "-1",
        ];
        let read = with_values_below_zero(typed.map(OsString::from));
        let expected = [
            "u",
            "skeins",
            "--need=-5 m",
            "convert",
            "\u{2212}5 m",
            "--",
            "-1",
        ];
        assert_eq!(read, expected.map(OsString::from));
    }
}
