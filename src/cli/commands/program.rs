//! Commands about the program itself: demo, completions of a shell, man pages.

use crate::{
    app,
    cli::{
        command,
        output::{Failure, Output},
    },
};
use clap::Args;
use clap_complete::Shell;
use std::path::PathBuf;

/// Three questions about an invented stash, with their answers
#[derive(Debug, Args)]
pub(crate) struct DemoArguments {}

pub(super) fn demo(output: &Output) -> Result<(), Failure> {
    let demo = app::demo()?;
    if output.is_json() {
        return output.demo(&demo);
    }
    output.text("The sample stash is invented: 61 yarns, a shared cupboard, four patterns.\n")?;
    output.text(
        "1. A knitter asks: what in the cupboard could I use for the jumper in size M?\n\n",
    )?;
    output.found(&demo.knitter)?;
    output
        .text("\n2. A customer asks the shop: will this DK work for the jumper in size M?\n\n")?;
    output.answer(&demo.shop)?;
    output.text("\n3. Somebody asks: will this acrylic work for the hot pad?\n\n")?;
    output.answer(&demo.hazard)?;
    output.text(NEXT)
}

/// What the demo ends with.
const NEXT: &str = "
Try next
  understudy serve                    all of this in your browser
  understudy help tour                ten minutes with the sample stash, then your own
";

/// Print the completions for a shell
#[derive(Debug, Args)]
pub(crate) struct CompletionsArguments {
    /// The shell
    shell: Shell,
}

pub(super) fn completions(
    arguments: &CompletionsArguments,
    output: &Output,
) -> Result<(), Failure> {
    let mut script = Vec::new();
    clap_complete::generate(arguments.shell, &mut command(), "understudy", &mut script);
    output.text(&String::from_utf8_lossy(&script))
}

/// Write a man page for each command into a folder
#[derive(Debug, Args)]
pub(crate) struct ManArguments {
    /// An existing folder
    folder: PathBuf,
}

pub(super) fn man(arguments: &ManArguments, output: &Output) -> Result<(), Failure> {
    clap_mangen::generate_to(command(), &arguments.folder)?;
    output.text(&format!(
        "Man pages written to {}\n",
        arguments.folder.display()
    ))
}
