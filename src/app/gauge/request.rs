//! What `gauge` is asked.

use clap::{Args, builder::PossibleValue};

/// The part of the form for what only few need.
const FURTHER: &str = "Which swatch, what you keep, margin, one yarn only, your habit";

/// My gauge is not the pattern's: sizes, counts and skeins at it
#[derive(Debug, Clone, Default, Args)]
pub struct GaugeRequest {
    /// A kept pattern
    #[arg(long, value_name = "NAME", required = true)]
    pub pattern: Option<String>,
    /// The yarn whose kept swatch counts
    #[arg(long, value_name = "YARN", allow_hyphen_values = true)]
    pub swatch_of: Option<String>,
    /// The yarn that a measured gauge is of; skeins are counted in it
    #[arg(long, value_name = "YARN", allow_hyphen_values = true)]
    pub yarn: Option<String>,
    /// The gauge you measured
    ///
    /// Instead of kept swatches, as in: 21 sts x 28 rows / 10 cm. Add ‘before washing’
    /// where it was not washed yet.
    #[arg(long, value_name = "GAUGE")]
    pub own_gauge: Option<String>,
    /// Only this size
    #[arg(long, value_name = "SIZE")]
    pub size: Option<String>,
    /// The needle of the swatch
    ///
    /// As in: 4 mm, or US 6
    #[arg(long, value_name = "NEEDLE", help_heading = FURTHER)]
    pub needle: Option<String>,
    /// What you keep at your gauge
    ///
    /// The stitch counts where it is empty, as most patterns mean it: lengths are worked
    /// until they measure
    #[arg(long, value_parser = keep_values(), help_heading = FURTHER)]
    pub keep: Option<String>,
    /// Only this yarn of the pattern
    ///
    /// Its key, as in: MC
    #[arg(long = "for", value_name = "KEY", help_heading = FURTHER)]
    pub role: Option<String>,
    /// What to buy beyond the need
    ///
    /// 10 % where it is empty, or none where the pattern includes one
    #[arg(long, value_name = "SHARE", help_heading = FURTHER)]
    pub margin: Option<String>,
    /// Let the label's gauge and my own tendency stand in for a swatch
    ///
    /// Where none is kept. The tendency is learned from your washed swatches; a swatch is
    /// always better.
    #[arg(long, help_heading = FURTHER)]
    pub own_tendency: bool,
}

/// What may be kept at another gauge.
pub(in crate::app) fn keep_values() -> [PossibleValue; 3] {
    [
        PossibleValue::new("stitches")
            .help("The stitch counts; lengths are worked until they measure"),
        PossibleValue::new("counts")
            .help("All counts, of stitches and rows; the finished size changes"),
        PossibleValue::new("size").help("The finished size; counts are reworked"),
    ]
}
