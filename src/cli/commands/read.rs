//! `read`

use crate::{
    app,
    cli::output::{Failure, Output},
};
use clap::Args;

/// Show what is understood of a label, a materials line or a note, and what is not
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    /// The text, as it is printed
    #[arg(value_name = "TEXT", allow_hyphen_values = true)]
    text: String,
}

pub(super) fn run(arguments: &Arguments, output: &Output) -> Result<(), Failure> {
    output.show(&app::read(&arguments.text))
}
