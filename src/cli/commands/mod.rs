//! One file per command.

mod backup;
mod check;
mod completions;
mod convert;
mod demo;
mod export;
mod find;
mod gauge;
mod import;
mod last;
mod lint;
mod man;
mod needs;
mod pattern;
mod read;
mod restore;
mod serve;
mod sheet;
mod size;
mod skeins;
mod stock;
mod swatch;
mod unlabelled;
mod verify;
mod yarn;

use super::{
    arguments::Cli,
    db::Db,
    output::{Failure, Output},
};
use crate::app;
use clap::Subcommand;

/// Every command.
#[derive(Debug, Subcommand)]
pub(super) enum Command {
    Demo(demo::Arguments),
    Check(Box<app::CheckRequest>),
    Find(Box<app::FindRequest>),
    Skeins(Box<app::SkeinsRequest>),
    Convert(app::ConvertRequest),
    Read(app::ReadRequest),
    Size(app::SizeRequest),
    Needs(needs::Arguments),
    Last(Box<app::LastRequest>),
    Unlabelled(Box<app::UnlabelledRequest>),
    Gauge(Box<app::GaugeRequest>),
    Sheet(sheet::Arguments),
    Lint(lint::Arguments),
    Yarn(yarn::Arguments),
    Stock(stock::Arguments),
    Swatch(swatch::Arguments),
    Pattern(pattern::Arguments),
    Import(import::Arguments),
    Export(export::Arguments),
    Serve(serve::Arguments),
    Backup(backup::Arguments),
    Restore(restore::Arguments),
    Verify(verify::Arguments),
    Completions(completions::Arguments),
    Man(man::Arguments),
}

/// Does what was asked.
pub(super) fn run(cli: Cli, output: &Output) -> Result<(), Failure> {
    let db = Db::new(cli.db);
    match cli.command {
        Command::Demo(_) => demo::run(output),
        Command::Check(arguments) => check::run(&arguments, &db, output),
        Command::Find(arguments) => find::run(&arguments, &db, output),
        Command::Skeins(arguments) => skeins::run(&arguments, output),
        Command::Convert(arguments) => convert::run(&arguments, output),
        Command::Read(arguments) => read::run(&arguments, output),
        Command::Size(arguments) => size::run(&arguments, output),
        Command::Needs(arguments) => needs::run(arguments, output),
        Command::Last(arguments) => last::run(&arguments, output),
        Command::Unlabelled(arguments) => unlabelled::run(&arguments, output),
        Command::Gauge(arguments) => gauge::run(&arguments, &db, output),
        Command::Sheet(arguments) => sheet::run(&arguments, &db, output),
        Command::Lint(arguments) => lint::run(arguments, &db, output),
        Command::Yarn(arguments) => yarn::run(arguments, &db, output),
        Command::Stock(arguments) => stock::run(arguments, &db, output),
        Command::Swatch(arguments) => swatch::run(arguments, &db, output),
        Command::Pattern(arguments) => pattern::run(arguments, &db, output),
        Command::Import(arguments) => import::run(arguments, &db, output),
        Command::Export(arguments) => export::run(arguments, &db, output),
        Command::Serve(arguments) => serve::run(arguments, &db, output),
        Command::Backup(arguments) => backup::run(&arguments, &db, output),
        Command::Restore(arguments) => restore::run(&arguments, &db, output),
        Command::Verify(_) => verify::run(&db, output),
        Command::Completions(arguments) => completions::run(&arguments, output),
        Command::Man(arguments) => man::run(&arguments, output),
    }
}
