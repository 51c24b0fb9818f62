//! `lint`

use super::import::whole_file;
use crate::{
    app,
    cli::{
        db::Db,
        output::{Failure, Output},
    },
};
use clap::Args;
use std::path::PathBuf;

/// Look a pattern file or a materials sheet through for what disagrees
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    /// A pattern file (TOML), or a sheet as text, Markdown or CSV
    #[arg(value_name = "FILE", required_unless_present = "pattern")]
    file: Option<PathBuf>,
    #[command(flatten)]
    request: app::LintRequest,
}

pub(super) fn run(arguments: Arguments, db: &Db, output: &Output) -> Result<(), Failure> {
    let mut request = arguments.request;
    let records = match request.pattern {
        Some(_) => db.existing()?,
        None => db.if_there()?,
    };
    request.file = arguments.file.as_deref().map(whole_file).transpose()?;
    let answer = app::lint(&records, &request)?;
    output.answer(&answer)?;
    if answer.findings.is_empty() {
        Ok(())
    } else {
        Err(Failure::Told)
    }
}
