//! What `check` and `find` are both asked.

use crate::app::FormData;
use clap::Args;

/// The part of the form for what only few need.
const STRICTNESS: &str = "How strictly, and other settings";

/// What a pattern wants, and how strictly.
#[derive(Debug, Clone, Default, Args)]
pub struct QuestionRequest {
    /// One of your patterns
    #[arg(long, value_name = "NAME")]
    pub pattern: Option<String>,
    /// What the pattern says about its yarn
    ///
    /// Its materials line and gauge, as printed: 9 balls of 50 g = 125 m each, 100% wool, DK, 22 sts x 30 rows / 10 cm
    #[arg(long, value_name = "TEXT", allow_hyphen_values = true)]
    pub wants: Option<String>,
    /// Yarn needed, if the text does not say
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
    /// How far metres per 100 g may differ
    ///
    /// As in: 8%, or 15 m/100 g. If empty: the pattern's limit, or 8 %.
    #[arg(long, value_name = "TOLERANCE", help_heading = STRICTNESS)]
    pub tolerance: Option<String>,
    /// Spare yarn
    ///
    /// As in: 10%. If empty: 10 %, or none if the pattern includes some.
    #[arg(long, value_name = "SHARE", help_heading = STRICTNESS)]
    pub margin: Option<String>,
    /// How closely it fits
    ///
    /// One of: fitted, relaxed, unfitted. If empty: as the pattern says.
    #[arg(long, value_name = "FIT", help_heading = STRICTNESS)]
    pub fit: Option<String>,
    /// What it is for
    ///
    /// As in: garment, accessory, home, hot pad, child's garment, child's nightwear, baby
    #[arg(long, value_name = "PURPOSE", help_heading = STRICTNESS)]
    pub purpose: Option<String>,
    /// How it will be washed
    ///
    /// One of: machine wash, hand wash, dry clean. If empty: as the pattern says.
    #[arg(long, value_name = "CARE", help_heading = STRICTNESS)]
    pub care: Option<String>,
    /// Fibres to avoid
    ///
    /// Fibres or families, as in: wool, mohair, animal, synthetic, latex. A yarn of unknown fibre is left out too.
    #[arg(long, value_name = "FIBRES", help_heading = STRICTNESS)]
    pub without: Vec<String>,
    /// Only these fibres
    ///
    /// As in: cotton, linen; or plant
    #[arg(long, value_name = "FIBRES", help_heading = STRICTNESS)]
    pub only: Vec<String>,
    /// What else is wished for.
    #[command(flatten, next_help_heading = STRICTNESS)]
    pub wishes: WishesRequest,
    /// What counts more in the order of answers
    ///
    /// As in: fibre=3
    #[arg(
        long = "weight",
        value_name = "CRITERION=N",
        help_heading = STRICTNESS,
        hide_short_help = true
    )]
    pub weights: Vec<String>,
    /// Count reserved yarn too
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

/// What the asker will have of a yarn, beside its fibres.
#[derive(Debug, Clone, Default, Args)]
pub struct WishesRequest {
    /// The most it may cost
    ///
    /// For all balls of the yarn together, as in: 40 EUR. A yarn without a price in this currency is left out.
    #[arg(long, value_name = "MONEY", help_heading = STRICTNESS)]
    pub max_cost: Option<String>,
    /// Only if your stash has enough
    ///
    /// Of one shade. Name your size: else enough for every size is meant.
    #[arg(long, help_heading = STRICTNESS)]
    pub enough: bool,
    /// Only if one dye lot in your stash is enough
    #[arg(long, help_heading = STRICTNESS)]
    pub one_lot: bool,
    /// Only shades of these words
    ///
    /// Words of a shade's name or colour, as in: moss; or dark green
    #[arg(long, value_name = "WORDS", help_heading = STRICTNESS)]
    pub shade: Option<String>,
    /// Only what you keep in this place
    ///
    /// As in: loft
    #[arg(long, value_name = "WORDS", help_heading = STRICTNESS)]
    pub place: Option<String>,
}

/// The chance of running out, for those who ask for it.
#[derive(Debug, Clone, Default, Args)]
pub struct ChanceRequest {
    /// How sure you want to be of enough yarn
    ///
    /// As in: 95%. The answer then also gives the chance of running out.
    #[arg(long, value_name = "SHARE", hide_short_help = true)]
    pub sure: Option<String>,
    /// How much more or less you use than patterns say
    ///
    /// As in: 5%, if you are within 5 % 95 times in 100. Not counted if empty.
    #[arg(long, value_name = "SHARE", hide_short_help = true)]
    pub own_use: Option<String>,
}
