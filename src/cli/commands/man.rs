//! `man`

use crate::cli::{
    command,
    output::{Failure, Output},
};
use clap::Args;
use std::path::PathBuf;

/// Write the man pages, one a command, into a folder
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    /// A folder that exists
    folder: PathBuf,
}

pub(super) fn run(arguments: &Arguments, output: &Output) -> Result<(), Failure> {
    clap_mangen::generate_to(command(), &arguments.folder)?;
    output.text(&format!(
        "Man pages written to {}\n",
        arguments.folder.display()
    ))
}
