//! What `size` is asked.

use clap::Args;

/// How big it comes out: finished size from stitches, rows and gauge
#[derive(Debug, Clone, Default, Args)]
pub struct SizeRequest {
    /// Stitches across
    ///
    /// As in: 200
    #[arg(long, value_name = "N", allow_hyphen_values = true)]
    pub stitches: Option<String>,
    /// Rows or rounds along
    ///
    /// As in: 168
    #[arg(long, value_name = "N", allow_hyphen_values = true)]
    pub rows: Option<String>,
    /// Gauge
    ///
    /// As in: 22 sts x 30 rows / 10 cm
    #[arg(long, value_name = "GAUGE", required = true)]
    pub gauge: Option<String>,
}
