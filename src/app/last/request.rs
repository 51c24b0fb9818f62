//! What `last` is asked.

use clap::{Args, ValueEnum};

/// The parts of the form.
const WEIGHED: &str = "What was weighed";
const AHEAD: &str = "What is still to work";
const FURTHER: &str = "A core, metres, a scale, or no weighing before";

/// Will what is left of the yarn last, and where to stop?
#[derive(Debug, Clone, Default, Args)]
pub struct LastRequest {
    /// Weight now
    ///
    /// Of the yarn with its core, as in: 52.3 g, or 1.8 oz
    #[arg(long, value_name = "MASS", required = true, help_heading = WEIGHED)]
    pub left: Option<String>,
    /// Weight before
    ///
    /// With its core, as in: 61.5 g
    #[arg(long, value_name = "MASS", help_heading = WEIGHED)]
    pub before: Option<String>,
    /// Rows worked between
    ///
    /// As in: 20. More rows make a surer answer.
    #[arg(long, value_name = "N", allow_hyphen_values = true, help_heading = WEIGHED)]
    pub rows: Option<String>,
    /// Rows still to work
    ///
    /// As in: 60
    #[arg(long, value_name = "N", allow_hyphen_values = true, help_heading = AHEAD)]
    pub rows_left: Option<String>,
    /// How the rows go on
    #[arg(long, value_enum, default_value_t = RowShape::Straight, help_heading = AHEAD)]
    pub shape: RowShape,
    /// Rows of the triangle so far
    ///
    /// From its point, as in: 90. Those between the weighings, where this is empty.
    #[arg(long, value_name = "N", allow_hyphen_values = true, help_heading = AHEAD)]
    pub rows_done: Option<String>,
    /// Stitches in a row now
    ///
    /// Of a crescent or a yoke, as in: 200
    #[arg(long, value_name = "N", allow_hyphen_values = true, help_heading = AHEAD)]
    pub stitches: Option<String>,
    /// Stitches gained or lost with each row
    ///
    /// Of a crescent or a yoke: 4 for 8 stitches every other row
    #[arg(long, value_name = "N", allow_hyphen_values = true, help_heading = AHEAD)]
    pub each: Option<String>,
    /// What to keep for bind-off and tails
    ///
    /// As in: 6 g
    #[arg(long, value_name = "MASS", help_heading = FURTHER)]
    pub keep: Option<String>,
    /// Weight of the core or cone
    ///
    /// As in: 25 g
    #[arg(long, value_name = "MASS", help_heading = FURTHER)]
    pub tare: Option<String>,
    /// One skein
    ///
    /// Its length and mass, for metres or yards in the answer, as in: 230 m/100 g
    #[arg(long, value_name = "PUTUP", help_heading = FURTHER)]
    pub put_up: Option<String>,
    /// Weight on the label
    ///
    /// Where it was not weighed before. Without core, as in: 100 g
    #[arg(long, value_name = "MASS", help_heading = FURTHER)]
    pub label: Option<String>,
    /// What a row takes
    ///
    /// Where you know it, as in: 1.5 m, or 0.7 g; then no weighing before is needed.
    #[arg(long, value_name = "AMOUNT", help_heading = FURTHER)]
    pub row_takes: Option<String>,
    /// What the scale rounds to
    ///
    /// 1 g where it is empty
    #[arg(long, value_name = "MASS", help_heading = FURTHER)]
    pub scale: Option<String>,
    /// How far damp may change what yarn weighs
    ///
    /// 2 % where it is empty; 0 % where both were weighed in the same air
    #[arg(long, value_name = "SHARE", help_heading = FURTHER)]
    pub damp: Option<String>,
}

/// How the rows of a piece go on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum RowShape {
    /// Straight
    #[default]
    Straight,
    /// A triangle, from its point
    Triangle,
    /// A crescent, growing
    Crescent,
    /// A yoke, narrowing
    Yoke,
}

impl RowShape {
    /// What the request calls it.
    pub fn name(self) -> &'static str {
        match self {
            Self::Straight => "straight",
            Self::Triangle => "triangle",
            Self::Crescent => "crescent",
            Self::Yoke => "yoke",
        }
    }
}
