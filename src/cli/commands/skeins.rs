//! `skeins`

use crate::{
    app::{self, Keep},
    cli::output::{Failure, Output},
};
use clap::{Args, ValueEnum};

/// How many skeins a need takes
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    /// A length, "N x put-up", or a mass; for several sizes as in "6 (7, 8) skeins"
    #[arg(long, value_name = "NEED")]
    need: String,
    /// One skein of the yarn to buy, as in "125 m/50 g" or "109 yd"
    #[arg(long, value_name = "PUTUP")]
    put_up: String,
    /// One skein of the pattern's yarn, for a need in grams, ounces or skeins
    #[arg(long, value_name = "PUTUP")]
    reference: Option<String>,
    /// Weight class of the pattern's yarn, for estimates where only a mass is known
    #[arg(long, value_name = "CLASS")]
    class: Option<String>,
    /// What to buy beyond the need [default: 10%]
    #[arg(long, value_name = "SHARE")]
    margin: Option<String>,
    /// Strands held together
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = clap::value_parser!(u8).range(1..=99))]
    strands: u8,
    /// Your gauge, where it is not the pattern's
    #[arg(long, value_name = "GAUGE", requires = "pattern_gauge")]
    own_gauge: Option<String>,
    /// The pattern's gauge
    #[arg(long, value_name = "GAUGE", requires = "own_gauge")]
    pattern_gauge: Option<String>,
    /// What you keep at another gauge
    #[arg(long, value_enum, default_value_t = Kept::Size)]
    keep: Kept,
    /// Price, as in "6.50 GBP" or "£6.50/50g"
    #[arg(long, value_name = "PRICE")]
    price: Option<String>,
    /// How sure to be of enough, as in "95%": also tell the chance of running out
    #[arg(long, value_name = "SHARE")]
    sure: Option<String>,
    /// How far your use lies from a stated need 95 times in 100, as in "5%"
    #[arg(long, value_name = "SHARE", requires = "sure")]
    own_use: Option<String>,
}

/// What a knitter keeps at another gauge.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub(crate) enum Kept {
    /// The finished size; stitch counts are reworked
    Size,
    /// The stitch counts; the finished size changes
    Counts,
}

impl From<Kept> for Keep {
    fn from(kept: Kept) -> Self {
        match kept {
            Kept::Size => Self::Size,
            Kept::Counts => Self::Counts,
        }
    }
}

pub(super) fn run(arguments: Arguments, output: &Output) -> Result<(), Failure> {
    let gauges = arguments.own_gauge.zip(arguments.pattern_gauge);
    let keep = arguments.keep.into();
    let request = app::SkeinsRequest {
        need: arguments.need,
        put_up: arguments.put_up,
        reference: arguments.reference,
        class: arguments.class,
        margin: arguments.margin,
        strands: arguments.strands,
        gauge: gauges.map(|(own, pattern)| app::GaugeChange { own, pattern, keep }),
        price: arguments.price,
        sure: arguments.sure,
        own_use: arguments.own_use,
    };
    output.show(&app::skeins(&request)?)
}
