//! `last`

use crate::{
    app,
    cli::output::{Failure, Output},
};
use clap::{Args, ValueEnum};

/// Will what is left of the yarn last, and where to stop?
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    /// What the yarn weighs now, with its core
    #[arg(long, value_name = "MASS")]
    left: String,
    /// What it weighed before, with its core
    #[arg(long, value_name = "MASS", conflicts_with_all = ["label", "row_takes"])]
    before: Option<String>,
    /// What its label says, where it was not weighed before; without core
    #[arg(long, value_name = "MASS", conflicts_with = "row_takes")]
    label: Option<String>,
    /// What a row takes now, where you know it, as in "1.5 m" or "0.7 g"
    #[arg(long, value_name = "AMOUNT")]
    row_takes: Option<String>,
    /// Rows worked between the two weighings
    #[arg(long, value_name = "N")]
    rows: Option<f64>,
    /// Rows still to work
    #[arg(long, value_name = "N", value_parser = rows_left)]
    rows_left: Option<f64>,
    /// How the rows go on
    #[arg(long, value_enum, default_value_t = Course::Straight)]
    shape: Course,
    /// Rows of a triangle from its point to now [default: --rows]
    #[arg(long, value_name = "N")]
    rows_done: Option<f64>,
    /// Stitches in a row now, for a crescent or a yoke
    #[arg(long, value_name = "N")]
    stitches: Option<f64>,
    /// Stitches gained or lost with each row (4 for 8 every other row)
    #[arg(long, value_name = "N")]
    each: Option<f64>,
    /// What to keep for bind-off and tails
    #[arg(long, value_name = "MASS")]
    keep: Option<String>,
    /// The core or cone that is weighed with the yarn
    #[arg(long, value_name = "MASS")]
    tare: Option<String>,
    /// Length and mass of a skein, for metres, as in "230 m/100 g"
    #[arg(long, value_name = "PUTUP")]
    put_up: Option<String>,
    /// What the scale rounds to [default: 1 g]
    #[arg(long, value_name = "MASS")]
    scale: Option<String>,
    /// How far damp may change the mass of yarn between weighings [default: 2%]
    #[arg(long, value_name = "SHARE")]
    damp: Option<String>,
}

fn rows_left(text: &str) -> Result<f64, String> {
    let rows: f64 = text
        .parse()
        .map_err(|_| "give a number of rows".to_owned())?;
    match (0.0..=1e6).contains(&rows) {
        true => Ok(rows),
        false => Err("give a number from 0 to 1000000".to_owned()),
    }
}

/// How the rows of a piece go on.
#[derive(Debug, Clone, Copy, ValueEnum)]
enum Course {
    /// The same stitches in every row
    Straight,
    /// From a point, growing evenly
    Triangle,
    /// From a wide cast-on, growing evenly
    Crescent,
    /// Narrowing evenly
    Yoke,
}

impl From<Course> for app::RowShape {
    fn from(course: Course) -> Self {
        match course {
            Course::Straight => Self::Straight,
            Course::Triangle => Self::Triangle,
            Course::Crescent => Self::Crescent,
            Course::Yoke => Self::Yoke,
        }
    }
}

pub(super) fn run(arguments: Arguments, output: &Output) -> Result<(), Failure> {
    output.show(&app::last(&app::LastRequest {
        before: arguments.before,
        label: arguments.label,
        row_takes: arguments.row_takes,
        left: arguments.left,
        rows: arguments.rows,
        rows_left: arguments.rows_left,
        shape: arguments.shape.into(),
        rows_done: arguments.rows_done,
        stitches: arguments.stitches,
        each: arguments.each,
        keep: arguments.keep,
        tare: arguments.tare,
        put_up: arguments.put_up,
        scale: arguments.scale,
        damp: arguments.damp,
    })?)
}
