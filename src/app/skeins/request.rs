//! What `skeins` is asked.

use crate::app::{ChanceRequest, gauge::keep_values};
use clap::Args;

/// The part of the form for what only few need.
const FURTHER: &str = "Spare yarn, price, strands, another gauge";

/// How many skeins or balls to buy
#[derive(Debug, Clone, Default, Args)]
pub struct SkeinsRequest {
    /// Yarn needed
    ///
    /// As in: 900 m, 9 x 125 m, or 6 (7, 8) skeins for several sizes
    #[arg(long, value_name = "NEED", required = true)]
    pub need: Option<String>,
    /// One skein of the yarn to buy
    ///
    /// Its length, and its weight if you know it, as in: 120 m/50 g, or 109 yd
    #[arg(long, value_name = "PUTUP", required = true)]
    pub put_up: Option<String>,
    /// One skein of the pattern's yarn
    ///
    /// If the yarn needed is in grams, ounces or skeins, as in: 125 m/50 g
    #[arg(long, value_name = "PUTUP")]
    pub reference: Option<String>,
    /// The chance of running out.
    #[command(
        flatten,
        next_help_heading = "How sure you want to be that it is enough"
    )]
    pub chance: ChanceRequest,
    /// Spare yarn
    ///
    /// If empty: 10 %
    #[arg(long, value_name = "SHARE", help_heading = FURTHER)]
    pub margin: Option<String>,
    /// Price
    ///
    /// As in: 6.50 GBP, or £6.50/50g
    #[arg(long, value_name = "PRICE", help_heading = FURTHER)]
    pub price: Option<String>,
    /// Strands held together
    ///
    /// As in: 2. If empty: 1.
    #[arg(long, value_name = "N", help_heading = FURTHER)]
    pub strands: Option<String>,
    /// Weight class of the pattern's yarn
    ///
    /// For an estimate if only grams are known, as in: DK
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
    /// What stays the same at your gauge
    ///
    /// If empty: the stitch counts, as most patterns mean it: you knit to a length
    #[arg(long, value_parser = keep_values(), help_heading = FURTHER)]
    pub keep: Option<String>,
}
