//! `needs`

use super::import::whole_file;
use crate::{
    app,
    cli::output::{Failure, Output, remark},
    report::needs_note,
};
use clap::Args;
use std::path::PathBuf;

/// Yarn for every size of a pattern, from what was knitted and weighed
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    /// File with samples and the pieces of every size (TOML)
    #[arg(value_name = "FILE")]
    file: PathBuf,
    #[command(flatten)]
    request: app::NeedsRequest,
    /// Also write the needs as a pattern file (TOML), to import or to go on with
    #[arg(long, value_name = "FILE")]
    pattern: Option<PathBuf>,
    #[command(flatten)]
    stated: app::NeedsPatternRequest,
    /// Replace the pattern file where there is one
    #[arg(long, requires = "pattern")]
    replace: bool,
}

pub(super) fn run(arguments: Arguments, output: &Output) -> Result<(), Failure> {
    let mut request = arguments.request;
    request.file = whole_file(&arguments.file)?;
    let Some(path) = &arguments.pattern else {
        arguments.stated.refuse_unused()?;
        return output.answer(&app::needs(&request)?);
    };
    let (text, answer) = app::needs_pattern(&request, &arguments.stated, needs_note)?;
    app::text_to_file(path, arguments.replace, &text)?;
    output.answer(&answer)?;
    remark(&format!("the needs were written to {}", path.display()));
    Ok(())
}
