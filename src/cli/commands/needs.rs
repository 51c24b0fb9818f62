//! `needs`

use super::import::whole_file;
use crate::{
    app::{self, AppError},
    cli::output::{Failure, Output, remark},
};
use clap::Args;
use std::path::PathBuf;

/// Yarn for every size of a pattern, from what was knitted and weighed
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    /// File with samples and the pieces of every size (TOML)
    #[arg(value_name = "FILE")]
    file: PathBuf,
    /// What to add to the needs [default: the file's, else 10%]
    #[arg(long, value_name = "SHARE")]
    margin: Option<String>,
    /// What to round up to, as in "10 m", "50 yd" or "25 g" [default: the file's, else 1 m]
    #[arg(long, value_name = "STEP")]
    step: Option<String>,
    /// Also write the needs as a pattern file (TOML), to import or to go on with
    #[arg(long, value_name = "FILE", requires_all = ["purpose", "fit"])]
    pattern: Option<PathBuf>,
    /// What the pattern is for: garment, accessory, home, hot pad, child's garment, child's nightwear or baby
    #[arg(long, value_name = "PURPOSE", requires = "pattern")]
    purpose: Option<String>,
    /// How close it sits: fitted, relaxed or unfitted
    #[arg(long, value_name = "FIT", requires = "pattern")]
    fit: Option<String>,
    /// Replace the pattern file where there is one
    #[arg(long, requires = "pattern")]
    replace: bool,
}

pub(super) fn run(arguments: Arguments, output: &Output) -> Result<(), Failure> {
    let (file, bytes) = whole_file(&arguments.file)?;
    let request = app::NeedsRequest {
        file,
        bytes,
        margin: arguments.margin,
        step: arguments.step,
    };
    let Some(path) = &arguments.pattern else {
        return output.show(&app::needs(&request)?);
    };
    let what_for = app::WhatFor {
        purpose: arguments.purpose.unwrap_or_default(),
        fit: arguments.fit.unwrap_or_default(),
    };
    let (text, report) = app::needs_pattern(&request, &what_for)?;
    app::to_file(path, arguments.replace, |out| {
        out.write_all(text.as_bytes()).map_err(|error| {
            AppError::Refused(format!("{} cannot be written: {error}", path.display()))
        })
    })?;
    output.show(&report)?;
    remark(&format!("the needs were written to {}", path.display()));
    Ok(())
}
