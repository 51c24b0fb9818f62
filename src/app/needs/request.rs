//! What `needs` and the pages beside it are asked.

use crate::app::{SourceFile, input::is_given};
use clap::{Args, ValueEnum};

/// Yarn needed for every size, from what you knitted and weighed
#[derive(Debug, Clone, Default, Args)]
pub struct NeedsRequest {
    /// Spare yarn
    ///
    /// If empty: what the file says, or 10 %
    #[arg(long, value_name = "SHARE", help_heading = "Spare yarn and rounding")]
    pub margin: Option<String>,
    /// What to round up to
    ///
    /// As in: 10 m, 50 yd or 25 g. If empty: what the file says, or 1 m.
    #[arg(long, value_name = "STEP", help_heading = "Spare yarn and rounding")]
    pub step: Option<String>,
    /// The file of samples and pieces.
    #[arg(skip)]
    pub file: SourceFile,
}

/// How far you are with one size
#[derive(Debug, Clone, Default, Args)]
#[command(next_help_heading = "What you have knitted so far")]
pub struct NeedsProgressRequest {
    /// The size you knit
    ///
    /// As in: M. Empty if there is only one.
    #[arg(long)]
    pub size: Option<String>,
    /// Pieces that are done
    ///
    /// With the yarn each took, if you weighed it, as in: body 210 g, 1 sleeve 48 g
    #[arg(long, value_name = "PIECES")]
    pub done: Option<String>,
    /// Yarn left
    ///
    /// As in: 180 g, or for several yarns: A 180 g, B 50 g
    #[arg(long, value_name = "AMOUNT")]
    pub left: Option<String>,
}

/// What only the pattern file says
#[derive(Debug, Clone, Default, Args)]
pub struct NeedsPatternRequest {
    /// What it is for
    ///
    /// A garment, accessory, home, hot pad, child's garment, child's nightwear or baby
    #[arg(long, value_name = "PURPOSE")]
    pub purpose: Option<String>,
    /// How closely it fits
    ///
    /// Fitted, relaxed or unfitted
    #[arg(long, value_name = "FIT")]
    pub fit: Option<String>,
}

/// Needs of every size from one kind of piece, weighed in one size
#[derive(Debug, Clone, Default, Args)]
pub struct NeedsTemplateRequest {
    /// Its name
    #[arg(long, required = true, help_heading = "The pattern")]
    pub pattern: Option<String>,
    /// Its sizes
    ///
    /// One per line, smallest first. Empty if there is only one.
    #[arg(long, value_name = "TEXT", help_heading = "The pattern")]
    pub sizes: Option<String>,
    /// One skein of its yarn
    ///
    /// As in: 120 m / 50 g
    #[arg(long, required = true, help_heading = "The pattern")]
    pub put_up: Option<String>,
    /// Gauge
    ///
    /// To compare the answer with plain knitting, as in: 22 sts x 30 rows / 10 cm
    #[arg(long, help_heading = "The pattern")]
    pub gauge: Option<String>,
    /// Its shape
    #[arg(long, value_enum, default_value_t = PieceShape::Rectangle, help_heading = "The piece")]
    pub shape: PieceShape,
    /// Width
    ///
    /// For a tube: all the way around. One line per size, in the same order, or one line for all.
    #[arg(long, value_name = "TEXT", required = true, help_heading = "The piece")]
    pub width: Option<String>,
    /// Width at the other end
    ///
    /// If one end is wider, or a tube narrows. One line per size, or one for all.
    #[arg(long, value_name = "TEXT", help_heading = "The piece")]
    pub top: Option<String>,
    /// Height
    ///
    /// One line per size, in the same order, or one line for all.
    #[arg(long, value_name = "TEXT", required = true, help_heading = "The piece")]
    pub height: Option<String>,
    /// How many of them
    ///
    /// As in: 2. If empty: 1.
    #[arg(long, help_heading = "The piece")]
    pub times: Option<String>,
    /// The size that was knitted
    ///
    /// Its name from the list above. Empty if there is only one.
    #[arg(long, help_heading = "What was weighed")]
    pub size: Option<String>,
    /// Weight of the finished pieces
    ///
    /// All pieces of that size together, as in: 150 g
    #[arg(long, help_heading = "What was weighed")]
    pub mass: Option<String>,
    /// Or: weight of the yarn before
    ///
    /// If you weighed the yarn instead, as in: 200 g
    #[arg(long, help_heading = "What was weighed")]
    pub before: Option<String>,
    /// And after
    ///
    /// As in: 48 g
    #[arg(long, help_heading = "What was weighed")]
    pub after: Option<String>,
    /// How needs are stated.
    #[command(flatten)]
    pub stated: NeedsRequest,
}

/// Shapes of a piece that a template knows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum PieceShape {
    /// A rectangle
    #[default]
    Rectangle,
    /// A tube, worked in the round
    Tube,
    /// A triangle
    Triangle,
    /// Wider at one end than at the other
    Trapezoid,
    /// A segment of a circle
    #[value(name = "circle segment")]
    CircleSegment,
}

impl PieceShape {
    /// What the request and the file call it.
    pub fn name(self) -> String {
        let value = self.to_possible_value();
        value.map_or_else(String::new, |value| value.get_name().to_owned())
    }
}

impl NeedsProgressRequest {
    /// Whether nothing was typed of it.
    pub(super) fn is_empty(&self) -> bool {
        let texts = [&self.size, &self.done, &self.left];
        texts.into_iter().all(|text| !is_given(text))
    }
}
