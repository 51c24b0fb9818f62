//! `gauge`

use crate::{
    app,
    cli::{
        db::Db,
        output::{Failure, Output},
    },
};
use clap::Args;

/// My gauge is not the pattern's: sizes, counts and skeins at it
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    /// A kept pattern
    #[arg(long, value_name = "NAME")]
    pattern: String,
    /// The yarn whose kept swatch counts
    #[arg(
        long,
        value_name = "YARN",
        conflicts_with = "own_gauge",
        required_unless_present = "own_gauge"
    )]
    swatch_of: Option<String>,
    /// The needle of that swatch, as in "4 mm"
    #[arg(long, value_name = "NEEDLE", requires = "swatch_of")]
    needle: Option<String>,
    /// The gauge you measured, as in "21 sts x 28 rows / 10 cm, before washing"
    #[arg(long, value_name = "GAUGE")]
    own_gauge: Option<String>,
    /// The yarn that this gauge is of; skeins are counted in it
    #[arg(
        long,
        value_name = "YARN",
        requires = "own_gauge",
        allow_hyphen_values = true
    )]
    yarn: Option<String>,
    /// Only this yarn of the pattern, as in "MC"
    #[arg(long = "for", value_name = "KEY")]
    role: Option<String>,
    /// Only this size
    #[arg(long, value_name = "SIZE")]
    size: Option<String>,
    /// What to buy beyond the need [default: 10%, or 0% where the pattern includes one]
    #[arg(long, value_name = "SHARE")]
    margin: Option<String>,
    /// Where no swatch is kept, expect the label's gauge times your tendency
    #[arg(long)]
    own_tendency: bool,
}

pub(super) fn run(arguments: Arguments, db: &Db, output: &Output) -> Result<(), Failure> {
    let request = app::GaugeRequest {
        pattern: arguments.pattern,
        swatch_of: arguments.swatch_of,
        needle: arguments.needle,
        own_gauge: arguments.own_gauge,
        yarn: arguments.yarn,
        role: arguments.role,
        size: arguments.size,
        margin: arguments.margin,
        own_tendency: arguments.own_tendency,
    };
    output.show(&app::gauge(&db.existing()?, &request)?)
}
