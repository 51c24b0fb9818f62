//! What is asked when a yarn is added by its band.

use clap::Args;

/// Add one yarn, from what its label says
#[derive(Debug, Clone, Default, Args)]
pub struct AddYarnRequest {
    /// Who makes it, where the label does not begin with it
    #[arg(long, value_name = "MAKER", default_value = "")]
    pub maker: String,
    /// What it is called, where the label does not begin with it
    #[arg(long, value_name = "NAME", default_value = "")]
    pub name: String,
    /// What its label says, as in "50 g = 125 m, 75% wool 25% nylon, 4 mm"
    #[arg(value_name = "LABEL")]
    pub band: String,
    /// Anything else
    #[arg(long, value_name = "NOTES", default_value = "")]
    pub notes: String,
}
