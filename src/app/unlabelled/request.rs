//! What `unlabelled` is asked.

use clap::Args;

/// The parts of the form.
const BALL: &str = "The ball";
const MEASURED: &str = "A length, measured off and weighed";
const OTHER: &str = "Or another way";
const TOOLS: &str = "How good scale and ruler are";

/// What a ball without a label holds, by any of four ways
#[derive(Debug, Clone, Default, Args)]
pub struct UnlabelledRequest {
    /// What the ball weighs
    ///
    /// With its core, as in: 312 g, or 11 oz
    #[arg(long, value_name = "MASS", help_heading = BALL)]
    pub mass: Option<String>,
    /// The core or cone in it
    ///
    /// As in: 25 g. Empty where there is none.
    #[arg(long, value_name = "MASS", help_heading = BALL)]
    pub tare: Option<String>,
    /// The length
    ///
    /// As in: 20 m, or 20 yd
    #[arg(long, value_name = "LENGTH", help_heading = MEASURED)]
    pub length: Option<String>,
    /// What it weighs
    ///
    /// As in: 5.3 g
    #[arg(long, value_name = "MASS", help_heading = MEASURED)]
    pub weighs: Option<String>,
    /// A strand that just balances on a yarn balance
    ///
    /// Its length, as in: 8 in, or 20 cm
    #[arg(long, value_name = "LENGTH", help_heading = OTHER)]
    pub balance: Option<String>,
    /// Turns of a reel that take up the whole ball
    ///
    /// As in: 180
    #[arg(long, value_name = "N", help_heading = OTHER)]
    pub turns: Option<String>,
    /// The length of one turn
    ///
    /// As in: 1.5 m
    #[arg(long, value_name = "LENGTH", help_heading = OTHER)]
    pub reel: Option<String>,
    /// Wraps side by side around a ruler
    ///
    /// As in: 32. Wraps alone only guess.
    #[arg(long, value_name = "N", help_heading = OTHER)]
    pub wraps: Option<String>,
    /// The length that they fill
    ///
    /// As in: 2 in, or 5 cm
    #[arg(long, value_name = "LENGTH", help_heading = OTHER)]
    pub over: Option<String>,
    /// What the scale of the ball rounds to
    ///
    /// 1 g where it is empty
    #[arg(long, value_name = "MASS", help_heading = TOOLS)]
    pub scale: Option<String>,
    /// What the scale of the measured length rounds to
    ///
    /// The same where it is empty
    #[arg(long, value_name = "MASS", help_heading = TOOLS)]
    pub fine_scale: Option<String>,
    /// How far a measured length may be off
    ///
    /// 2 % where it is empty
    #[arg(long, value_name = "SHARE", help_heading = TOOLS)]
    pub ruler: Option<String>,
    /// Also tell what a burn test may show
    ///
    /// It hurts people and sets things alight where it is done carelessly: its cautions
    /// come first. It tells groups of fibres, never one.
    #[arg(long, help_heading = "A burn test")]
    pub burn: bool,
}
