//! What each command does. A question that needs nothing but its request is
//! answered here; the others have a file by topic.

mod changes;
mod export;
mod import;
mod program;
mod projects;
mod questions;
mod records;
mod serve;
mod stock;
mod upkeep;

use super::{
    arguments::Cli,
    db::Db,
    documents::{self, HelpArguments},
    output::{Failure, Output},
    schemas::{self, SchemaArguments},
};
use crate::app;
use clap::Subcommand;

/// Every command.
#[derive(Debug, Subcommand)]
pub(super) enum Command {
    Help(HelpArguments),
    Schema(SchemaArguments),
    Demo(program::DemoArguments),
    Check(Box<app::CheckRequest>),
    Find(Box<app::FindRequest>),
    Plan(questions::PlanArguments),
    Suits(app::SuitsRequest),
    Replace(app::ReplaceRequest),
    Stripes(Box<app::StripesRequest>),
    Skeins(Box<app::SkeinsRequest>),
    Convert(app::ConvertRequest),
    Read(app::ReadRequest),
    Size(app::SizeRequest),
    Needs(questions::NeedsArguments),
    Last(Box<questions::LastArguments>),
    Unlabelled(Box<questions::UnlabelledArguments>),
    Gauge(Box<app::GaugeRequest>),
    Sheet(questions::SheetArguments),
    Lint(questions::LintArguments),
    Yarn(records::YarnArguments),
    Stock(stock::StockArguments),
    Swatch(records::SwatchArguments),
    Pattern(records::PatternArguments),
    Project(projects::ProjectArguments),
    History(changes::HistoryArguments),
    Undo(changes::UndoArguments),
    Import(import::Arguments),
    Export(export::Arguments),
    Serve(serve::Arguments),
    Backup(upkeep::BackupArguments),
    Restore(upkeep::RestoreArguments),
    Verify(upkeep::VerifyArguments),
    Completions(program::CompletionsArguments),
    Man(program::ManArguments),
}

/// Does what was asked.
pub(super) fn run(cli: Cli, output: &Output) -> Result<(), Failure> {
    let db = Db::new(cli.db, !cli.no_backup);
    match cli.command {
        Command::Help(arguments) => documents::help(&arguments, output),
        Command::Schema(arguments) => schemas::show(&arguments, output),
        Command::Demo(_) => program::demo(output),
        Command::Check(request) => questions::check(&request, &db, output),
        Command::Find(request) => output.found(&app::find(&db.existing()?, &request)?),
        Command::Plan(arguments) => questions::plan(arguments, &db, output),
        Command::Suits(request) => output.answer(&app::suits(&db.existing()?, &request)?),
        Command::Replace(request) => output.answer(&app::replace(&db.existing()?, &request)?),
        Command::Stripes(request) => output.answer(&app::stripes(&db.existing()?, &request)?),
        Command::Skeins(request) => output.answer(&app::skeins(&request)?),
        Command::Convert(request) => output.answer(&app::convert(&request)?),
        Command::Read(request) => output.answer(&app::read(&request)),
        Command::Size(request) => output.answer(&app::size(&request)?),
        Command::Needs(arguments) => questions::needs(arguments, output),
        Command::Last(arguments) => questions::last(&arguments, output),
        Command::Unlabelled(arguments) => questions::unlabelled(*arguments, &db, output),
        Command::Gauge(request) => output.answer(&app::gauge(&db.existing()?, &request)?),
        Command::Sheet(arguments) => questions::sheet(&arguments, &db, output),
        Command::Lint(arguments) => questions::lint(arguments, &db, output),
        Command::Yarn(arguments) => records::yarn(arguments, &db, output),
        Command::Stock(arguments) => stock::stock(arguments, &db, output),
        Command::Swatch(arguments) => records::swatch(arguments, &db, output),
        Command::Pattern(arguments) => records::pattern(arguments, &db, output),
        Command::Project(arguments) => projects::project(arguments, &db, output),
        Command::History(arguments) => changes::history(&arguments, &db, output),
        Command::Undo(arguments) => changes::undo(arguments, &db, output),
        Command::Import(arguments) => import::run(arguments, &db, output),
        Command::Export(arguments) => export::run(arguments, &db, output),
        Command::Serve(arguments) => serve::run(arguments, &db, output),
        Command::Backup(arguments) => upkeep::backup(&arguments, &db, output),
        Command::Restore(arguments) => upkeep::restore(&arguments, &db, output),
        Command::Verify(_) => upkeep::verify(&db, output),
        Command::Completions(arguments) => program::completions(&arguments, output),
        Command::Man(arguments) => program::man(&arguments, output),
    }
}
