//! `demo`

use crate::{
    app,
    cli::output::{Failure, Output},
    report::demo_fields,
};
use clap::Args;

/// Three questions about an invented stash, answered: see what the program does
#[derive(Debug, Args)]
pub(crate) struct Arguments {}

pub(super) fn run(output: &Output) -> Result<(), Failure> {
    let demo = app::demo()?;
    if output.is_json() {
        return output.json(&demo_fields(&demo));
    }
    output.text("The sample stash is invented: 61 yarns, a shared cupboard, four patterns.\n\n")?;
    output
        .text("1. A knitter asks: what in the cupboard would do for the jumper in size M?\n\n")?;
    output.answers(&demo.knitter)?;
    output.text("\n2. A customer asks the shop: will this DK do for the jumper?\n\n")?;
    output.answer(&demo.shop)?;
    output.text("\n3. Somebody asks: will this acrylic do for the pad for hot dishes?\n\n")?;
    output.answer(&demo.hazard)
}
