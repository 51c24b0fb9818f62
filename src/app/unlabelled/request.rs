//! What `unlabelled` is asked.

use clap::Args;

/// The parts of the form.
const BALL: &str = "The ball";
const MEASURED: &str = "A length, measured and weighed";
const OTHER: &str = "Or another way";
const KEEP: &str = "Keep it";
const TOOLS: &str = "How good scale and ruler are";

/// A ball without a label: how long it is, and what it may be
#[derive(Debug, Clone, Default, Args)]
pub struct UnlabelledRequest {
    /// Weight of the ball
    ///
    /// With the cone or tube it is wound on, as in: 312 g, or 11 oz
    #[arg(long, value_name = "MASS", help_heading = BALL)]
    pub mass: Option<String>,
    /// Weight of the empty cone or tube
    ///
    /// As in: 25 g. Empty if there is none.
    #[arg(long, value_name = "MASS", help_heading = BALL)]
    pub tare: Option<String>,
    /// The length
    ///
    /// As in: 20 m, or 20 yd
    #[arg(long, value_name = "LENGTH", help_heading = MEASURED)]
    pub length: Option<String>,
    /// Weight of that length
    ///
    /// As in: 5.3 g
    #[arg(long, value_name = "MASS", help_heading = MEASURED)]
    pub weighs: Option<String>,
    /// Length of a strand that balances on a yarn balance
    ///
    /// As in: 8 in, or 20 cm
    #[arg(long, value_name = "LENGTH", help_heading = OTHER)]
    pub balance: Option<String>,
    /// Turns of a reel for the whole ball
    ///
    /// As in: 180
    #[arg(long, value_name = "N", help_heading = OTHER)]
    pub turns: Option<String>,
    /// Length of one turn
    ///
    /// As in: 1.5 m
    #[arg(long, value_name = "LENGTH", help_heading = OTHER)]
    pub reel: Option<String>,
    /// Wraps side by side around a ruler
    ///
    /// As in: 32. Wraps alone give only a guess.
    #[arg(long, value_name = "N", help_heading = OTHER)]
    pub wraps: Option<String>,
    /// Length the wraps cover
    ///
    /// As in: 2 in, or 5 cm
    #[arg(long, value_name = "LENGTH", help_heading = OTHER)]
    pub over: Option<String>,
    /// What the scale of the ball rounds to
    ///
    /// If empty: 1 g
    #[arg(long, value_name = "MASS", help_heading = TOOLS)]
    pub scale: Option<String>,
    /// What the scale for the measured length rounds to
    ///
    /// If empty: the same
    #[arg(long, value_name = "MASS", help_heading = TOOLS)]
    pub fine_scale: Option<String>,
    /// How far a measured length may be off
    ///
    /// If empty: 2 %
    #[arg(long, value_name = "SHARE", help_heading = TOOLS)]
    pub ruler: Option<String>,
    /// Also say what a burn test may show
    ///
    /// A careless burn test hurts people and starts fires: read its cautions first. It
    /// shows groups of fibres, never one fibre.
    #[arg(long, help_heading = "A burn test")]
    pub burn: bool,
}

impl UnlabelledRequest {
    /// What was measured, as typed, each with the name of its field.
    pub(super) fn said(&self) -> impl Iterator<Item = (&'static str, &str)> {
        let all = [
            ("mass", &self.mass),
            ("tare", &self.tare),
            ("length", &self.length),
            ("weighs", &self.weighs),
            ("balance", &self.balance),
            ("turns", &self.turns),
            ("reel", &self.reel),
            ("wraps", &self.wraps),
            ("over", &self.over),
            ("scale", &self.scale),
            ("fine-scale", &self.fine_scale),
            ("ruler", &self.ruler),
        ];
        let given = all
            .into_iter()
            .filter_map(|(name, text)| Some((name, text.as_deref()?)));
        given.filter(|(_, text)| !text.trim().is_empty())
    }
}

/// Keep this ball as a yarn, with its weight in your stash
#[derive(Debug, Clone, Default, Args)]
pub struct KeepBallRequest {
    /// What you call it until you know its name
    ///
    /// As in: grey cone from the attic
    #[arg(long, value_name = "NAME", help_heading = KEEP)]
    pub keep: Option<String>,
    /// Its shade
    ///
    /// As in: grey
    #[arg(long, value_name = "SHADE", help_heading = KEEP, requires = "keep")]
    pub shade: Option<String>,
    /// Where you keep it
    ///
    /// As in: blue trunk
    #[arg(long, value_name = "PLACE", help_heading = KEEP, requires = "keep")]
    pub place: Option<String>,
}
