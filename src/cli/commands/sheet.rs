//! `sheet`

use crate::{
    app::{self, SheetRequest},
    cli::{
        db::Db,
        output::{Failure, Output},
    },
    report::{Render, Style, html_page, sheet_cells},
};
use clap::Args;

/// The materials sheet of a pattern: yarn, needs and alternatives for every size
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(flatten)]
    request: SheetRequest,
    /// As one HTML file, to print on one side of paper
    #[arg(long, conflicts_with_all = ["json", "markdown"])]
    html: bool,
    /// The alternatives as a table (CSV)
    #[arg(long, conflicts_with_all = ["json", "markdown", "html"])]
    csv: bool,
}

pub(super) fn run(arguments: &Arguments, db: &Db, output: &Output) -> Result<(), Failure> {
    let sheet = app::sheet(&db.existing()?, &arguments.request)?;
    if arguments.html {
        output.text(&html_page(&sheet.page(&Style::default())))
    } else if arguments.csv {
        let mut table = Vec::new();
        app::sheet_table(&sheet_cells(&sheet), "standard output", &mut table)?;
        output.bytes(&table)
    } else {
        output.answer(&sheet)
    }
}
