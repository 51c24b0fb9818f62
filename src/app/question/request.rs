//! What `check` and `find` are both asked.

use crate::app::FormData;
use clap::Args;

/// The part of the form for what only few need.
const STRICTNESS: &str = "How strictly, and other settings";

/// What a pattern wants, and how strictly.
#[derive(Debug, Clone, Default, Args)]
pub struct QuestionRequest {
    /// A kept pattern
    #[arg(long, value_name = "NAME")]
    pub pattern: Option<String>,
    /// What the pattern says of its yarn
    ///
    /// Its materials line and gauge, as printed: 9 balls of 50 g = 125 m each, 100% wool, DK, 22 sts x 30 rows / 10 cm
    #[arg(long, value_name = "TEXT", allow_hyphen_values = true)]
    pub wants: Option<String>,
    /// How much it takes, where the text does not say
    ///
    /// As in: 900 m, 9 x 125 m, or 6 (7, 8) skeins
    #[arg(long, value_name = "NEED")]
    pub need: Option<String>,
    /// Only this yarn of the pattern
    ///
    /// Its key, as in: MC
    #[arg(long = "for", value_name = "KEY", help_heading = STRICTNESS)]
    pub role: Option<String>,
    /// Only this size
    #[arg(long, value_name = "SIZE", help_heading = STRICTNESS)]
    pub size: Option<String>,
    /// How far length per mass may lie
    ///
    /// As in: 8%, or 15 m/100 g. The pattern's, or 8 %, where it is empty.
    #[arg(long, value_name = "TOLERANCE", help_heading = STRICTNESS)]
    pub tolerance: Option<String>,
    /// What to buy beyond the need
    ///
    /// As in: 10%. 10 % where it is empty, or none where the pattern includes one.
    #[arg(long, value_name = "SHARE", help_heading = STRICTNESS)]
    pub margin: Option<String>,
    /// How close it sits
    ///
    /// One of: fitted, relaxed, unfitted. As the pattern says, where it is empty.
    #[arg(long, value_name = "FIT", help_heading = STRICTNESS)]
    pub fit: Option<String>,
    /// What it is for
    ///
    /// As in: garment, accessory, home, hot pad, child's garment, child's nightwear, baby
    #[arg(long, value_name = "PURPOSE", help_heading = STRICTNESS)]
    pub purpose: Option<String>,
    /// The washing it must take
    ///
    /// One of: machine wash, hand wash, dry clean. As the pattern says, where it is empty.
    #[arg(long, value_name = "CARE", help_heading = STRICTNESS)]
    pub care: Option<String>,
    /// Fibres to keep away from
    ///
    /// Fibres or families, as in: wool, mohair, animal, synthetic, latex. A yarn of unknown fibre does not pass.
    #[arg(long, value_name = "FIBRES", help_heading = STRICTNESS)]
    pub without: Vec<String>,
    /// The only fibres that may be in it
    ///
    /// As in: cotton, linen; or plant
    #[arg(long, value_name = "FIBRES", help_heading = STRICTNESS)]
    pub only: Vec<String>,
    /// What a criterion counts in the order of answers
    ///
    /// As in: fibre=3
    #[arg(long = "weight", value_name = "CRITERION=N", help_heading = STRICTNESS)]
    pub weights: Vec<String>,
    /// Count reserved yarn as there
    #[arg(long, help_heading = STRICTNESS)]
    pub with_reserved: bool,
    /// The chance of running out.
    #[command(flatten, next_help_heading = STRICTNESS)]
    pub chance: ChanceRequest,
    /// What `wants` says, field by field, where it was corrected; `wants` is then
    /// only shown. `strands` beside [`crate::app::fact_columns`].
    #[arg(skip)]
    pub wants_fields: Option<FormData>,
}

/// The chance of running out, for those who ask for it.
#[derive(Debug, Clone, Default, Args)]
pub struct ChanceRequest {
    /// How sure to be of enough
    ///
    /// As in: 95%. Also tells the chance of running out, and what it counts with.
    #[arg(long, value_name = "SHARE")]
    pub sure: Option<String>,
    /// How far your use lies from stated needs
    ///
    /// 95 times in 100, as in: 5%. Left out where it is empty.
    #[arg(long, value_name = "SHARE")]
    pub own_use: Option<String>,
}
