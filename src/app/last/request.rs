//! What `last` is asked.

use clap::{Args, ValueEnum};

/// The parts of the form.
const WEIGHED: &str = "What you weighed";
const AHEAD: &str = "What is still to knit";
const NOT_WEIGHED: &str = "If you did not weigh it before";
const PIECES: &str = "Or by the pieces of a size";
const FURTHER: &str = "A cone or tube, yarn to save, metres, the scale";

/// How far will the rest of the yarn go, and where should I stop?
#[derive(Debug, Clone, Default, Args)]
pub struct LastRequest {
    /// Weight before
    ///
    /// Weigh the yarn before you knit some rows, as in: 61.5 g, or 2.2 oz
    #[arg(long, value_name = "MASS", help_heading = WEIGHED)]
    pub before: Option<String>,
    /// Rows knitted between the weighings
    ///
    /// As in: 20. More rows give a better answer.
    #[arg(long, value_name = "N", allow_hyphen_values = true, help_heading = WEIGHED)]
    pub rows: Option<String>,
    /// Weight now
    ///
    /// After these rows, weighed the same way, as in: 52.3 g
    #[arg(long, value_name = "MASS", required = true, help_heading = WEIGHED)]
    pub left: Option<String>,
    /// Rows still to knit
    ///
    /// As in: 60. If empty: the answer only says for how many rows the yarn lasts.
    #[arg(long, value_name = "N", allow_hyphen_values = true, help_heading = AHEAD)]
    pub rows_left: Option<String>,
    /// How the rows go on
    #[arg(long, value_enum, default_value_t = RowShape::Straight, help_heading = AHEAD)]
    pub shape: RowShape,
    /// Rows of the triangle so far
    ///
    /// From its point, as in: 90. If empty: the rows between the weighings.
    #[arg(long, value_name = "N", allow_hyphen_values = true, help_heading = AHEAD)]
    pub rows_done: Option<String>,
    /// Stitches in a row now
    ///
    /// For a crescent or a yoke, as in: 200
    #[arg(long, value_name = "N", allow_hyphen_values = true, help_heading = AHEAD)]
    pub stitches: Option<String>,
    /// Stitches gained or lost with each row
    ///
    /// For a crescent or a yoke. 8 stitches every other row are 4.
    #[arg(long, value_name = "N", allow_hyphen_values = true, help_heading = AHEAD)]
    pub each: Option<String>,
    /// Weight on the label
    ///
    /// Of the whole skein that you began, as in: 100 g
    #[arg(long, value_name = "MASS", help_heading = NOT_WEIGHED)]
    pub label: Option<String>,
    /// Yarn for one row
    ///
    /// If you know it, as in: 1.5 m, or 0.7 g
    #[arg(long, value_name = "AMOUNT", help_heading = NOT_WEIGHED)]
    pub row_takes: Option<String>,
    /// Weight of the empty cone or tube
    ///
    /// If the yarn is wound on one and was weighed with it, as in: 25 g
    #[arg(long, value_name = "MASS", help_heading = FURTHER)]
    pub tare: Option<String>,
    /// Yarn to save for bind-off and tails
    ///
    /// As in: 6 g
    #[arg(long, value_name = "MASS", help_heading = FURTHER)]
    pub keep: Option<String>,
    /// One skein
    ///
    /// Its length and weight, for metres or yards in the answer, as in: 230 m/100 g
    #[arg(long, value_name = "PUTUP", help_heading = FURTHER)]
    pub put_up: Option<String>,
    /// What the scale rounds to
    ///
    /// As in: 0.1 g. If empty: 1 g
    #[arg(long, value_name = "MASS", help_heading = FURTHER)]
    pub scale: Option<String>,
    /// How far damp may change what yarn weighs
    ///
    /// If empty: 2 %. Write 0 % if you weighed both times in the same air.
    #[arg(long, value_name = "SHARE", help_heading = FURTHER)]
    pub damp: Option<String>,
}

/// What is asked piece by piece.
#[derive(Debug, Clone, Default, Args)]
pub struct LastPiecesRequest {
    /// The size you knit
    ///
    /// As in: M. Empty if there is only one.
    #[arg(long, value_name = "SIZE", requires = "pieces", help_heading = PIECES)]
    pub size: Option<String>,
    /// Pieces that are done
    ///
    /// With the yarn each took, if you weighed it, as in: body 166 g, 1 sleeve 52 g
    #[arg(long, value_name = "PIECES", requires = "pieces", help_heading = PIECES)]
    pub done: Option<String>,
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
