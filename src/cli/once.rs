//! `--once`

use clap::Args;

/// A text that stands for one change.
#[derive(Debug, Default, Args)]
pub(super) struct Once {
    /// A text of your own for this change, such as the number of a receipt: given again, the change is not made twice
    #[arg(id = "once", long = "once", value_name = "TEXT", value_parser = clap::builder::NonEmptyStringValueParser::new())]
    pub(super) text: Option<String>,
}
