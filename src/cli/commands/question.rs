//! What `check` and `find` share.

use super::skeins::Kept;
use crate::app::Question;
use clap::Args;

/// What is wanted, and how strictly.
#[derive(Debug, Args)]
pub(crate) struct Wanted {
    /// A kept pattern
    #[arg(
        long,
        value_name = "NAME",
        conflicts_with = "wants",
        required_unless_present = "wants"
    )]
    pattern: Option<String>,
    /// What the pattern says of its yarn, as in "225 m/100 g, 22 sts x 30 rows / 10 cm, 100% wool"
    #[arg(long, value_name = "TEXT", allow_hyphen_values = true)]
    wants: Option<String>,
    /// How much it takes, with --wants: "900 m", "9 x 125 m", "6 (7, 8) skeins"
    #[arg(long, value_name = "NEED", requires = "wants")]
    need: Option<String>,
    /// Only this yarn of the pattern, as in "MC"
    #[arg(long = "for", value_name = "KEY")]
    role: Option<String>,
    /// Only this size
    #[arg(long, value_name = "SIZE")]
    size: Option<String>,
    /// How far length per mass may lie, as in "8%" or "15 m/100 g" [default: the pattern's, else 8%]
    #[arg(long, value_name = "TOLERANCE")]
    tolerance: Option<String>,
    /// What to buy beyond the need [default: 10%, or 0% where the pattern includes one]
    #[arg(long, value_name = "SHARE")]
    margin: Option<String>,
    /// How close it sits: fitted, relaxed or unfitted
    #[arg(long, value_name = "FIT")]
    fit: Option<String>,
    /// What it is for: garment, accessory, home, hot pad, child's garment, child's nightwear or baby
    #[arg(long, value_name = "PURPOSE")]
    purpose: Option<String>,
    /// The washing it must take: machine wash, hand wash or dry clean
    #[arg(long, value_name = "CARE")]
    care: Option<String>,
    /// What a criterion counts in the order of answers, as in "fibre=3"
    #[arg(long = "weight", value_name = "CRITERION=N")]
    weights: Vec<String>,
    /// Count reserved yarn as there
    #[arg(long)]
    with_reserved: bool,
    /// How sure to be of enough, as in "95%": also tell the chance of running out
    #[arg(long, value_name = "SHARE")]
    sure: Option<String>,
    /// How far your use lies from a stated need 95 times in 100, as in "5%"
    #[arg(long, value_name = "SHARE", requires = "sure")]
    own_use: Option<String>,
}

/// How the candidate is worked.
#[derive(Debug, Args)]
pub(crate) struct Worked {
    /// Strands of the yarn held together
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = clap::value_parser!(u8).range(1..=9))]
    strands: u8,
    /// The gauge you measured of this yarn, washed
    #[arg(long, value_name = "GAUGE")]
    own_gauge: Option<String>,
    /// What you keep at that gauge; the skeins follow
    #[arg(long, value_enum, requires = "own_gauge")]
    keep: Option<Kept>,
}

impl Wanted {
    pub(super) fn question(self) -> Question {
        Question {
            pattern: self.pattern,
            wants: self.wants,
            need: self.need,
            role: self.role,
            size: self.size,
            tolerance: self.tolerance,
            margin: self.margin,
            fit: self.fit,
            purpose: self.purpose,
            care: self.care,
            weights: self.weights,
            with_reserved: self.with_reserved,
            sure: self.sure,
            own_use: self.own_use,
            ..Question::default()
        }
    }
}

impl Worked {
    pub(super) fn added_to(self, question: Question) -> Question {
        Question {
            strands: Some(self.strands),
            own_gauge: self.own_gauge,
            keep: self.keep.map(Into::into),
            ..question
        }
    }
}
