//! `size`

use crate::{
    app,
    cli::output::{Failure, Output},
};
use clap::Args;

/// Finished size from stitch and row counts and a gauge
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    /// Stitches across
    #[arg(long, value_name = "N", allow_negative_numbers = true)]
    stitches: Option<f64>,
    /// Rows or rounds along
    #[arg(long, value_name = "N", allow_negative_numbers = true)]
    rows: Option<f64>,
    /// The gauge, as in "22 sts x 30 rows / 10 cm"
    #[arg(long, value_name = "GAUGE")]
    gauge: String,
}

pub(super) fn run(arguments: Arguments, output: &Output) -> Result<(), Failure> {
    let Arguments {
        stitches,
        rows,
        gauge,
    } = arguments;
    output.show(&app::size(&app::SizeRequest {
        stitches,
        rows,
        gauge,
    })?)
}
