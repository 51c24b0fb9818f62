//! `completions`

use crate::cli::{
    command,
    output::{Failure, Output},
};
use clap::Args;
use clap_complete::Shell;

/// Print completions for a shell
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    /// The shell
    shell: Shell,
}

pub(super) fn run(arguments: &Arguments, output: &Output) -> Result<(), Failure> {
    let mut script = Vec::new();
    clap_complete::generate(arguments.shell, &mut command(), "understudy", &mut script);
    output.text(&String::from_utf8_lossy(&script))
}
