//! What is asked when a yarn is added by its band.

use clap::Args;

/// Keep one yarn, from what its band says
#[derive(Debug, Clone, Default, Args)]
pub struct AddYarnRequest {
    /// Who makes it
    #[arg(long, value_name = "MAKER")]
    pub maker: String,
    /// What it is called
    #[arg(long, value_name = "NAME")]
    pub name: String,
    /// What its band says, as in "50 g = 125 m, 75% wool 25% nylon, 4 mm"
    #[arg(value_name = "BAND")]
    pub band: String,
    /// Anything else
    #[arg(long, value_name = "NOTES", default_value = "")]
    pub notes: String,
}
