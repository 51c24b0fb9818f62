//! What `sheet` is asked.

use crate::app::find::BestRequest;
use clap::Args;

/// The materials sheet of a pattern: yarn, needs and alternatives for every size
#[derive(Debug, Clone, Default, Args)]
pub struct SheetRequest {
    /// A kept pattern
    #[arg(long, value_name = "NAME", required = true)]
    pub pattern: Option<String>,
    /// An alternative, in place of the best
    ///
    /// A yarn's name or what its band says; MC=YARN for one yarn only
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
    /// How far length per mass may lie
    ///
    /// As in: 8%, or 15 m/100 g. The pattern's, or 8 %, where it is empty.
    #[arg(long, value_name = "TOLERANCE")]
    pub tolerance: Option<String>,
    /// Fibres to keep away from
    ///
    /// Fibres or families, as in: wool, mohair, animal, synthetic, latex
    #[arg(long, value_name = "FIBRES")]
    pub without: Vec<String>,
    /// The only fibres that may be in it
    ///
    /// As in: cotton, linen; or plant
    #[arg(long, value_name = "FIBRES")]
    pub only: Vec<String>,
    /// What to buy beyond the need
    ///
    /// 10 % where it is empty, or none where the pattern includes one
    #[arg(long, value_name = "SHARE")]
    pub margin: Option<String>,
    /// The most that may be shown, where there is no room for any number.
    #[arg(skip)]
    pub most: Option<u16>,
}
