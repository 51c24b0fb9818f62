//! `unlabelled`

use crate::{
    app,
    cli::output::{Failure, Output},
};
use clap::Args;

/// What a ball without a label holds, by any of four ways
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    /// What the ball weighs, with its core
    #[arg(long, value_name = "MASS")]
    mass: Option<String>,
    /// The core or cone that is weighed with it
    #[arg(long, value_name = "MASS", requires = "mass")]
    tare: Option<String>,
    /// A length that you measured off
    #[arg(long, value_name = "LENGTH", requires = "weighs")]
    length: Option<String>,
    /// What that length weighs
    #[arg(long, value_name = "MASS", requires = "length")]
    weighs: Option<String>,
    /// A strand that just balances on a yarn balance (inches x 100 = yards per pound)
    #[arg(long, value_name = "LENGTH")]
    balance: Option<String>,
    /// Turns of a reel that take up the whole ball
    #[arg(long, value_name = "N", requires = "reel")]
    turns: Option<f64>,
    /// The length of one turn
    #[arg(long, value_name = "LENGTH", requires = "turns")]
    reel: Option<String>,
    /// Wraps side by side around a ruler
    #[arg(long, value_name = "N", requires = "over")]
    wraps: Option<f64>,
    /// The length that they fill, as in "2 in"
    #[arg(long, value_name = "LENGTH", requires = "wraps")]
    over: Option<String>,
    /// What the scale rounds to [default: 1 g]
    #[arg(long, value_name = "MASS")]
    scale: Option<String>,
    /// What the scale of the measured length rounds to [default: as --scale]
    #[arg(long, value_name = "MASS")]
    fine_scale: Option<String>,
    /// How far a measured length may be off [default: 2%]
    #[arg(long, value_name = "SHARE")]
    ruler: Option<String>,
    /// Also tell what a burn test may show, with its cautions
    #[arg(long)]
    burn: bool,
}

pub(super) fn run(arguments: Arguments, output: &Output) -> Result<(), Failure> {
    output.show(&app::unlabelled(&app::UnlabelledRequest {
        mass: arguments.mass,
        tare: arguments.tare,
        length: arguments.length,
        weighs: arguments.weighs,
        balance: arguments.balance,
        turns: arguments.turns,
        reel: arguments.reel,
        wraps: arguments.wraps,
        over: arguments.over,
        scale: arguments.scale,
        fine_scale: arguments.fine_scale,
        ruler: arguments.ruler,
        burn: arguments.burn,
    })?)
}
