//! `lint`

use super::import::opened;
use crate::{
    app::{self, AppError},
    cli::{
        db::Db,
        output::{Failure, Output},
    },
};
use clap::Args;
use std::{io::Read, path::PathBuf};

/// Look a pattern file or a materials sheet through for what disagrees
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    /// A pattern file (TOML), or a sheet as text, Markdown or CSV
    #[arg(value_name = "FILE", required_unless_present = "pattern")]
    file: Option<PathBuf>,
    /// A kept pattern: itself, or with FILE the one that the sheet belongs to
    #[arg(long, value_name = "NAME")]
    pattern: Option<String>,
}

pub(super) fn run(arguments: Arguments, db: &Db, output: &Output) -> Result<(), Failure> {
    let records = match arguments.pattern {
        Some(_) => db.existing()?,
        None => db.if_there()?,
    };
    let mut file = None;
    if let Some(path) = &arguments.file {
        let mut bytes = Vec::new();
        opened(path)?.0.read_to_end(&mut bytes).map_err(|error| {
            Failure::App(AppError::Refused(format!(
                "{} cannot be read: {error}",
                path.display()
            )))
        })?;
        file = Some((path.display().to_string(), bytes));
    }
    let report = app::lint(
        &records,
        &app::LintRequest {
            file,
            is_pattern: None,
            pattern: arguments.pattern,
        },
    )?;
    output.show(&report)?;
    match report.findings.is_empty() {
        true => Ok(()),
        false => Err(Failure::Told),
    }
}
