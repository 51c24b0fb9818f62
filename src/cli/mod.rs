//! The command line: arguments, output, commands by topic. No sums here.

mod arguments;
mod commands;
mod db;
mod documents;
mod help;
mod output;
mod schemas;

use arguments::Cli;
use clap::FromArgMatches;
use output::Output;
use std::{ffi::OsString, process::ExitCode};

pub use arguments::command;
pub use schemas::of as schema_of;

/// Runs the program with `arguments` (the first is its name). Exit status 0
/// done, 1 refused or failed, 2 wrong usage, 3 changed as asked but the answer could
/// not be written. A closed pipe is quiet.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> ExitCode {
    let arguments = arguments::with_values_below_zero(arguments);
    let matches = command().try_get_matches_from(arguments);
    let cli = match matches.and_then(|matches| Cli::from_arg_matches(&matches)) {
        Ok(cli) => cli,
        Err(told) => return output::told_by_clap(&told),
    };
    let output = Output::new(cli.json, cli.markdown, cli.details);
    match commands::run(cli, &output) {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => output.failure(&failure),
    }
}
