//! `needs`

use super::import::whole_file;
use crate::{
    app,
    cli::output::{Failure, Output},
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
}

pub(super) fn run(arguments: Arguments, output: &Output) -> Result<(), Failure> {
    let (file, bytes) = whole_file(&arguments.file)?;
    output.show(&app::needs(&app::NeedsRequest {
        file,
        bytes,
        margin: arguments.margin,
        step: arguments.step,
    })?)
}
