//! What a swatch measured, as typed.

use crate::words::joined;
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
    /// Held together with
    ///
    /// Another of your yarns that you held with this one, as in: Hathrel DK. With two others, give each; with two strands of one, give it twice.
    #[arg(long, value_name = "YARN")]
    pub held_with: Vec<String>,
    /// Notes
    #[arg(long, value_name = "TEXT")]
    pub notes: Option<String>,
}

impl SwatchRequest {
    /// The names of all fields.
    pub(super) const FIELDS: [&'static str; 5] =
        ["needle", "before", "after", "held-with", "notes"];

    /// Each field that was given, and what was typed in it; of several yarns each on a line.
    pub(super) fn given(&self) -> impl Iterator<Item = (&'static str, String)> {
        let held_with = (!self.held_with.is_empty()).then(|| joined(&self.held_with, "\n"));
        let texts = [
            self.needle.clone(),
            self.before.clone(),
            self.after.clone(),
            held_with,
            self.notes.clone(),
        ];
        let given = Self::FIELDS.into_iter().zip(texts);
        given.filter_map(|(field, text)| Some((field, text?)))
    }

    /// The yarns that were held together with its own, as they were typed.
    pub(super) fn further_yarns(&self) -> impl Iterator<Item = &str> {
        let lines = self.held_with.iter().flat_map(|text| text.lines());
        lines.map(str::trim).filter(|text| !text.is_empty())
    }
}
