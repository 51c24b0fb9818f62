//! One file per command.

mod completions;
mod convert;
mod man;
mod read;
mod size;
mod skeins;

use super::{
    arguments::Cli,
    output::{Failure, Output},
};
use clap::Subcommand;

/// Every command.
#[derive(Debug, Subcommand)]
pub(super) enum Command {
    Skeins(skeins::Arguments),
    Convert(convert::Arguments),
    Read(read::Arguments),
    Size(size::Arguments),
    Completions(completions::Arguments),
    Man(man::Arguments),
}

/// Does what was asked.
pub(super) fn run(cli: Cli, output: &Output) -> Result<(), Failure> {
    match cli.command {
        Command::Skeins(arguments) => skeins::run(arguments, output),
        Command::Convert(arguments) => convert::run(arguments, output),
        Command::Read(arguments) => read::run(&arguments, output),
        Command::Size(arguments) => size::run(arguments, output),
        Command::Completions(arguments) => completions::run(&arguments, output),
        Command::Man(arguments) => man::run(&arguments, output),
    }
}
