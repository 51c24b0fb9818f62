//! `sheet`

use super::find::Source;
use crate::{
    app::{self, Question},
    cli::{
        db::Db,
        output::{Failure, Output},
    },
    report::{Report, html_page},
};
use clap::Args;

/// The materials sheet of a pattern: yarn, needs and alternatives for every size
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    /// A kept pattern
    #[arg(long, value_name = "NAME")]
    pattern: String,
    /// An alternative: a yarn's name or what its band says; "MC=YARN" for one yarn only
    #[arg(
        long,
        value_name = "YARN",
        allow_hyphen_values = true,
        conflicts_with_all = ["top", "from"]
    )]
    with: Vec<String>,
    /// How many of the best, where none is picked
    #[arg(long, value_name = "N", default_value_t = 5, value_parser = clap::value_parser!(u16).range(1..))]
    top: u16,
    /// Where the best come from
    #[arg(long, value_enum, default_value_t = Source::Catalogue)]
    from: Source,
    /// Only this yarn of the pattern, as in "MC"
    #[arg(long = "for", value_name = "KEY")]
    role: Option<String>,
    /// How far length per mass may lie, as in "8%" or "15 m/100 g" [default: the pattern's, else 8%]
    #[arg(long, value_name = "TOLERANCE")]
    tolerance: Option<String>,
    /// What to buy beyond the need [default: 10%, or 0% where the pattern includes one]
    #[arg(long, value_name = "SHARE")]
    margin: Option<String>,
    /// As one HTML file, to print on one side of paper
    #[arg(long, conflicts_with_all = ["json", "markdown"])]
    html: bool,
    /// The alternatives as a table (CSV)
    #[arg(long, conflicts_with_all = ["json", "markdown", "html"])]
    csv: bool,
}

pub(super) fn run(arguments: Arguments, db: &Db, output: &Output) -> Result<(), Failure> {
    let (html, csv) = (arguments.html, arguments.csv);
    let sheet = app::sheet(&db.existing()?, &request(arguments))?;
    match (html, csv) {
        (true, _) => output.text(&html_page(&sheet.page())),
        (_, true) => {
            let mut table = Vec::new();
            app::sheet_table(&sheet, "standard output", &mut table)?;
            output.bytes(&table)
        }
        _ => output.show(&sheet),
    }
}

fn request(arguments: Arguments) -> app::SheetRequest {
    app::SheetRequest {
        question: Question {
            pattern: Some(arguments.pattern),
            role: arguments.role,
            tolerance: arguments.tolerance,
            margin: arguments.margin,
            ..Question::default()
        },
        with: arguments.with,
        from: arguments.from.into(),
        top: usize::from(arguments.top),
    }
}
