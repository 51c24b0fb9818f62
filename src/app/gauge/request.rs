//! What `gauge` is asked.

use clap::{Args, builder::PossibleValue};

/// The part of the form for what only few need.
const FURTHER: &str =
    "Yarns held together, which swatch, what stays the same, spare yarn, one yarn only, your habit";

/// My gauge is not the pattern's: which size to knit, which counts, how many balls
#[derive(Debug, Clone, Default, Args)]
pub struct GaugeRequest {
    /// One of your patterns
    #[arg(long, value_name = "NAME", required = true)]
    pub pattern: Option<String>,
    /// The yarn whose swatch counts
    #[arg(long, value_name = "YARN", allow_hyphen_values = true)]
    pub swatch_of: Option<String>,
    /// The yarn you knit with; balls are counted in it
    #[arg(long, value_name = "YARN", allow_hyphen_values = true)]
    pub yarn: Option<String>,
    /// The gauge you measured
    ///
    /// Used instead of your swatches, as in: 21 sts x 28 rows / 10 cm. Add ‘before washing’
    /// if it is not washed yet.
    #[arg(long, value_name = "GAUGE")]
    pub own_gauge: Option<String>,
    /// How much yarn you have
    ///
    /// As in: 430 g, 8 balls, or 900 m. The answer says which sizes that makes; nothing is recorded.
    #[arg(long, value_name = "AMOUNT")]
    pub have: Option<String>,
    /// Only this size
    #[arg(long, value_name = "SIZE")]
    pub size: Option<String>,
    /// Held together with
    ///
    /// Another yarn that you hold with that one, as in: Hathrel DK. With two others, give each; with two strands of one, give it twice.
    #[arg(long, value_name = "YARN", allow_hyphen_values = true, help_heading = FURTHER)]
    pub held_with: Vec<String>,
    /// The needle of the swatch
    ///
    /// As in: 4 mm, or US 6
    #[arg(long, value_name = "NEEDLE", help_heading = FURTHER)]
    pub needle: Option<String>,
    /// What stays the same at your gauge
    ///
    /// If empty: the stitch counts, as most patterns mean it: you knit to a length
    #[arg(long, value_parser = keep_values(), help_heading = FURTHER)]
    pub keep: Option<String>,
    /// Only this yarn of the pattern
    ///
    /// Its key, as in: MC
    #[arg(long = "for", value_name = "KEY", help_heading = FURTHER)]
    pub role: Option<String>,
    /// Spare yarn
    ///
    /// If empty: 10 %, or none if the pattern includes some
    #[arg(long, value_name = "SHARE", help_heading = FURTHER)]
    pub margin: Option<String>,
    /// No swatch? Use the label's gauge and how tightly I usually knit
    ///
    /// The program learns this from your washed swatches. A swatch is always better.
    #[arg(long, help_heading = FURTHER)]
    pub own_tendency: bool,
}

/// What may be kept at another gauge.
pub(in crate::app) fn keep_values() -> [PossibleValue; 3] {
    [
        PossibleValue::new("stitches").help("The stitch counts; knit to the length given"),
        PossibleValue::new("counts")
            .help("All counts, stitches and rows; the finished size changes"),
        PossibleValue::new("size").help("The finished size; counts are reworked"),
    ]
}
