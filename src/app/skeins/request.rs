//! What `skeins` is asked.

use crate::app::{ChanceRequest, gauge::keep_values};
use clap::Args;

/// The part of the form for what only few need.
const FURTHER: &str = "Margin, price, strands, another gauge";

/// How many skeins a need takes
#[derive(Debug, Clone, Default, Args)]
pub struct SkeinsRequest {
    /// How much it takes
    ///
    /// As in: 900 m, 9 x 125 m, or 6 (7, 8) skeins for several sizes
    #[arg(long, value_name = "NEED", required = true)]
    pub need: Option<String>,
    /// One skein of the yarn to buy
    ///
    /// Its length, and its mass where you know it, as in: 120 m/50 g, or 109 yd
    #[arg(long, value_name = "PUTUP", required = true)]
    pub put_up: Option<String>,
    /// One skein of the pattern's yarn
    ///
    /// Where the need is in grams, ounces or skeins, as in: 125 m/50 g
    #[arg(long, value_name = "PUTUP")]
    pub reference: Option<String>,
    /// The chance of running out.
    #[command(flatten, next_help_heading = "How sure to be of enough")]
    pub chance: ChanceRequest,
    /// What to buy beyond the need
    ///
    /// 10 % where it is empty
    #[arg(long, value_name = "SHARE", help_heading = FURTHER)]
    pub margin: Option<String>,
    /// Price
    ///
    /// As in: 6.50 GBP, or £6.50/50g
    #[arg(long, value_name = "PRICE", help_heading = FURTHER)]
    pub price: Option<String>,
    /// Strands held together
    ///
    /// As in: 2. One where it is empty.
    #[arg(long, value_name = "N", help_heading = FURTHER)]
    pub strands: Option<String>,
    /// Weight class of the pattern's yarn
    ///
    /// For an estimate where only grams are known, as in: DK
    #[arg(long, value_name = "CLASS", help_heading = FURTHER)]
    pub class: Option<String>,
    /// Your gauge
    ///
    /// As in: 20 sts x 28 rows / 10 cm
    #[arg(long, value_name = "GAUGE", help_heading = FURTHER)]
    pub own_gauge: Option<String>,
    /// The pattern's gauge
    ///
    /// As in: 22 sts x 30 rows / 10 cm
    #[arg(long, value_name = "GAUGE", help_heading = FURTHER)]
    pub pattern_gauge: Option<String>,
    /// What you keep at your gauge
    ///
    /// The stitch counts where it is empty, as most patterns mean it: lengths are worked
    /// until they measure
    #[arg(long, value_parser = keep_values(), help_heading = FURTHER)]
    pub keep: Option<String>,
}
