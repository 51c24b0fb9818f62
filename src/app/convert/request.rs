//! What `convert` is asked.

use clap::Args;

/// One length per mass in every unit; several are held together
#[derive(Debug, Clone, Default, Args)]
pub struct ConvertRequest {
    /// Length per mass
    ///
    /// As in: 230 m/100 g, 1150 yd/lb, 2/14 Nm or tex 120
    #[arg(value_name = "GRIST", required = true)]
    pub values: Vec<String>,
    /// Strands of each, held together
    #[arg(long, value_name = "N", default_value = "1")]
    pub strands: String,
    /// Also give the length of this mass
    ///
    /// As in: 85 g, or 3.5 oz
    #[arg(long, value_name = "MASS")]
    pub basis: Option<String>,
}
