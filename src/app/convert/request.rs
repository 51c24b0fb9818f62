//! What `convert` is asked.

use clap::Args;

/// Metres per 100 g, yards per pound, tex and yarn counts, each from the others
#[derive(Debug, Clone, Default, Args)]
pub struct ConvertRequest {
    /// What the label says
    ///
    /// Several strands held together if you give more than one. As in: 230 m/100 g, 1150 yd/lb, 2/14 Nm or tex 120
    #[arg(value_name = "METRES/GRAMS", required = true)]
    pub values: Vec<String>,
    /// Strands of each held together
    #[arg(long, value_name = "N", default_value = "1")]
    pub strands: String,
    /// Also give the length of this weight
    ///
    /// As in: 85 g, or 3.5 oz
    #[arg(long, value_name = "MASS")]
    pub basis: Option<String>,
}
