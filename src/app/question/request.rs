//! What `check` and `find` are both asked.

use crate::app::FormData;
use clap::Args;

/// The part of the form for what only few need.
pub(in crate::app) const STRICTNESS: &str = "How strictly, and other settings";

/// What a pattern wants, and how strictly.
#[derive(Debug, Clone, Default, Args)]
pub struct QuestionRequest {
    /// Which pattern, and what of it.
    #[command(flatten)]
    pub of: PatternRequest,
    /// How far it may differ, and how much to spare.
    #[command(flatten, next_help_heading = STRICTNESS)]
    pub terms: TermsRequest,
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
    /// Fibres to avoid or to keep to.
    #[command(flatten, next_help_heading = STRICTNESS)]
    pub fibres: FibresRequest,
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
    /// The chance of running out.
    #[command(flatten, next_help_heading = STRICTNESS)]
    pub chance: ChanceRequest,
    /// What `wants` says, field by field, where it was corrected; `wants` is then
    /// only shown. `strands` beside [`crate::app::fact_columns`].
    #[arg(skip)]
    pub wants_fields: Option<FormData>,
}

/// Which pattern, and what of it.
#[derive(Debug, Clone, Default, Args)]
pub struct PatternRequest {
    /// One of your patterns
    ///
    /// As in: Skerrablet, or Skerrablet:M for one size
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
}

/// How far a yarn may differ, and how much to spare.
#[derive(Debug, Clone, Default, Args)]
pub struct TermsRequest {
    /// How far metres per 100 g may differ
    ///
    /// As in: 8%, or 15 m/100 g. If empty: the pattern's limit, or 8 %.
    #[arg(long, value_name = "TOLERANCE")]
    pub tolerance: Option<String>,
    /// Spare yarn
    ///
    /// As in: 10%. If empty: 10 %, or none if the pattern includes some.
    #[arg(long, value_name = "SHARE")]
    pub margin: Option<String>,
    /// Count reserved yarn too
    #[arg(long)]
    pub with_reserved: bool,
}

/// Fibres that a yarn must not have, or must.
#[derive(Debug, Clone, Default, Args)]
pub struct FibresRequest {
    /// Fibres to avoid
    ///
    /// Fibres or families, as in: wool, mohair, animal, synthetic, latex. A yarn of unknown fibre is left out too.
    #[arg(long, value_name = "FIBRES")]
    pub without: Vec<String>,
    /// Only these fibres
    ///
    /// As in: cotton, linen; or plant
    #[arg(long, value_name = "FIBRES")]
    pub only: Vec<String>,
}

/// Which of a stash count.
#[derive(Debug, Clone, Default, Args)]
pub struct StashRequest {
    /// Only shades with these words
    ///
    /// Words of a shade's name or colour, as in: moss; or dark green
    #[arg(long, value_name = "WORDS")]
    pub shade: Option<String>,
    /// Only what you keep in this place
    ///
    /// As in: loft
    #[arg(long, value_name = "WORDS")]
    pub place: Option<String>,
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
    /// Which of your stash.
    #[command(flatten, next_help_heading = STRICTNESS)]
    pub stash: StashRequest,
}

/// The chance of running out, for those who ask for it.
#[derive(Debug, Clone, Default, Args)]
pub struct ChanceRequest {
    /// How sure you want to be that it is enough
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

impl QuestionRequest {
    /// What is asked about a pattern where nothing else is said.
    pub fn about(pattern: &str) -> Self {
        Self {
            of: PatternRequest {
                pattern: Some(pattern.to_owned()),
                ..PatternRequest::default()
            },
            ..Self::default()
        }
    }
}
