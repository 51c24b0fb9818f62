//! What a swatch measured, as typed.

use clap::Args;

/// Save a swatch
#[derive(Debug, Clone, Default, Args)]
pub struct SwatchRequest {
    /// Needle
    ///
    /// As in: 4 mm, or US 6
    #[arg(long, value_name = "NEEDLE", required = true)]
    pub needle: Option<String>,
    /// Gauge before washing
    ///
    /// As in: 21 sts x 28 rows / 10 cm, garter, flat
    #[arg(long, value_name = "GAUGE")]
    pub before: Option<String>,
    /// Gauge after washing
    ///
    /// As in: 20 sts x 28 rows / 10 cm
    #[arg(long, value_name = "GAUGE")]
    pub after: Option<String>,
    /// Notes
    #[arg(long, value_name = "TEXT")]
    pub notes: Option<String>,
}

impl SwatchRequest {
    /// The names of all fields.
    pub(super) const FIELDS: [&'static str; 4] = ["needle", "before", "after", "notes"];

    /// Each field that was given, and what was typed in it.
    pub(super) fn given(&self) -> impl Iterator<Item = (&'static str, &str)> {
        let texts = [&self.needle, &self.before, &self.after, &self.notes];
        let given = Self::FIELDS.into_iter().zip(texts);
        given.filter_map(|(field, text)| Some((field, text.as_deref()?)))
    }
}
