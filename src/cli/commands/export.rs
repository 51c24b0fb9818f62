//! `export`

use crate::{
    app::{self, AppError, Exported, Records, TableKind},
    cli::{
        db::Db,
        output::{Failure, Output},
    },
    report::{Notice, exported_words},
};
use clap::{Args, Subcommand};
use std::{
    io::Write,
    path::{Path, PathBuf},
};

/// Export yarns, your stash, swatches, projects, reservations or a pattern to a file you can import again
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    what: Action,
}

#[derive(Debug, Subcommand)]
enum Action {
    /// Export all yarns as a table (CSV, or a workbook where the file ends in .xlsx)
    Yarns(Target),
    /// Export your stash as it is now, as a table (CSV or .xlsx)
    Stock(Target),
    /// Export all swatches as a table (CSV or .xlsx)
    Swatches(Target),
    /// Export all projects in their order, as a table (CSV or .xlsx)
    Projects(Target),
    /// Export everything that is reserved, as a table (CSV or .xlsx)
    Reservations(Target),
    /// Export a pattern as a pattern file (TOML)
    Pattern {
        /// The name of the pattern
        #[arg(value_name = "NAME")]
        name: String,
        #[command(flatten)]
        target: Target,
    },
}

#[derive(Debug, Args)]
struct Target {
    /// File to write [default: `-`, the standard output]
    #[arg(value_name = "FILE")]
    file: Option<PathBuf>,
    /// Replace the file if it exists
    #[arg(long, requires = "file")]
    replace: bool,
}

pub(super) fn run(arguments: Arguments, db: &Db, output: &Output) -> Result<(), Failure> {
    let records = db.existing()?;
    match arguments.what {
        Action::Yarns(target) => table(TableKind::Yarns, &target, output, &records),
        Action::Stock(target) => table(TableKind::Stock, &target, output, &records),
        Action::Swatches(target) => table(TableKind::Swatches, &target, output, &records),
        Action::Projects(target) => table(TableKind::Projects, &target, output, &records),
        Action::Reservations(target) => table(TableKind::Reservations, &target, output, &records),
        Action::Pattern { name, target } => written(&target, output, |file, out| {
            app::export_pattern(&records, &name, file, out)
        }),
    }
}

fn table(
    kind: TableKind,
    target: &Target,
    output: &Output,
    records: &Records,
) -> Result<(), Failure> {
    written(target, output, |file, out| {
        app::export_table(records, kind, file, out)
    })
}

fn written(
    target: &Target,
    output: &Output,
    write: impl FnOnce(&str, &mut dyn Write) -> Result<Exported, AppError>,
) -> Result<(), Failure> {
    let file = target
        .file
        .as_deref()
        .filter(|path| *path != Path::new("-"));
    let Some(path) = file else {
        let mut text = Vec::new();
        write("standard output", &mut text)?;
        return output.bytes(&text);
    };
    let holds = app::to_file(path, target.replace, |out| write(&shown(path), out))?;
    output.change(&Notice {
        done: format!("{} written", shown(path)),
        details: vec![("holds".to_owned(), exported_words(&holds))],
        ..Notice::default()
    })
}

fn shown(path: &Path) -> String {
    path.display().to_string()
}
