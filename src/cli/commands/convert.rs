//! `convert`

use crate::{
    app,
    cli::output::{Failure, Output},
};
use clap::Args;

/// One length per mass in every unit; several are held together
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    /// As in "230 m/100 g", "1150 yd/lb", "2/14 Nm" or "tex 120"
    #[arg(value_name = "GRIST", required = true)]
    values: Vec<String>,
    /// Strands of each, held together
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = clap::value_parser!(u8).range(1..=99))]
    strands: u8,
    /// Also give the length of this mass, as in "85 g" or "3.5 oz"
    #[arg(long, value_name = "MASS")]
    basis: Option<String>,
}

pub(super) fn run(arguments: Arguments, output: &Output) -> Result<(), Failure> {
    let Arguments {
        values,
        strands,
        basis,
    } = arguments;
    output.show(&app::convert(&app::ConvertRequest {
        values,
        strands,
        basis,
    })?)
}
