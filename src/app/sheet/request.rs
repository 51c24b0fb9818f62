//! What `sheet` is asked.

use crate::app::{FibresRequest, find::BestRequest};
use clap::Args;

/// A materials sheet: the yarn, how much each size needs, and what could replace it
#[derive(Debug, Clone, Default, Args)]
pub struct SheetRequest {
    /// One of your patterns
    #[arg(long, value_name = "NAME", required = true)]
    pub pattern: Option<String>,
    /// A yarn to list as an alternative
    ///
    /// Its name or what its label says; MC=YARN for colour MC only. Instead of --from and --top.
    #[arg(
        long,
        value_name = "YARN",
        allow_hyphen_values = true,
        conflicts_with_all = ["top", "from"]
    )]
    pub with: Vec<String>,
    /// Where the best come from, and how many.
    #[command(flatten)]
    pub best: BestRequest,
    /// Only this yarn of the pattern
    ///
    /// Its key, as in: MC
    #[arg(long = "for", value_name = "KEY")]
    pub role: Option<String>,
    /// How far metres per 100 g may differ
    ///
    /// As in: 8%, or 15 m/100 g. If empty: the pattern's limit, or 8 %.
    #[arg(long, value_name = "TOLERANCE")]
    pub tolerance: Option<String>,
    /// Fibres to avoid or to keep to.
    #[command(flatten)]
    pub fibres: FibresRequest,
    /// Spare yarn
    ///
    /// If empty: 10 %, or none if the pattern includes some
    #[arg(long, value_name = "SHARE")]
    pub margin: Option<String>,
    /// The most that may be shown, where there is no room for any number.
    #[arg(skip)]
    pub most: Option<u16>,
}
