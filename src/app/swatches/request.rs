//! What a swatch measured, as typed.

use clap::Args;

/// Save a swatch
#[derive(Debug, Clone, Default, Args)]
pub struct SwatchRequest {
    /// Needle
    ///
    /// As in: 4 mm, or US 6
    #[arg(long, value_name = "NEEDLE", required = true)]
    pub needle: Option<String>,
    /// Gauge before washing
    ///
    /// As in: 21 sts x 28 rows / 10 cm, garter, flat
    #[arg(long, value_name = "GAUGE")]
    pub before: Option<String>,
    /// Gauge after washing
    ///
    /// As in: 20 sts x 28 rows / 10 cm
    #[arg(long, value_name = "GAUGE")]
    pub after: Option<String>,
    /// Notes
    #[arg(long, value_name = "TEXT")]
    pub notes: Option<String>,
}
