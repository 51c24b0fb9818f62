//! What `check` is asked.

use crate::app::{FormData, QuestionRequest, gauge::keep_values};
use clap::Args;

/// The part of the form for how the candidate is worked.
const WORKED: &str = "How strictly, and other settings";

/// Will this yarn work for this pattern, and how many balls does each size need?
#[derive(Debug, Clone, Default, Args)]
pub struct CheckRequest {
    /// What is wanted, and how strictly.
    #[command(flatten)]
    pub question: QuestionRequest,
    /// The yarn
    ///
    /// Its name, the digits under its barcode, or what its label says. Give it twice or three times for different yarns held together.
    #[arg(long, value_name = "YARN", allow_hyphen_values = true, help_heading = None::<&str>)]
    pub yarn: Vec<String>,
    /// A yarn for each colour
    ///
    /// Instead of one yarn for all, as in: MC=Hathrel DK, or MC=Hathrel DK:tide for one shade. A colour given twice is yarns held together.
    #[arg(long, value_name = "KEY=YARN[:SHADE]", allow_hyphen_values = true, help_heading = None::<&str>)]
    pub with: Vec<String>,
    /// How much of it you have
    ///
    /// As in: 430 g, 8 balls, or 900 m. The answer says which sizes that makes; nothing is recorded.
    #[arg(long, value_name = "AMOUNT", help_heading = WORKED)]
    pub have: Option<String>,
    /// Strands of this yarn held together
    ///
    /// As in: 2. If empty: 1.
    #[arg(long, value_name = "N", help_heading = WORKED)]
    pub strands: Option<String>,
    /// Your gauge with this yarn, washed
    ///
    /// As in: 20 sts x 28 rows / 10 cm
    #[arg(long, value_name = "GAUGE", help_heading = WORKED)]
    pub own_gauge: Option<String>,
    /// What stays the same at your gauge
    ///
    /// If empty: the stitch counts, as most patterns mean it: you knit to a length
    #[arg(long, value_parser = keep_values(), help_heading = WORKED)]
    pub keep: Option<String>,
    /// What the band says, field by field, where it was corrected; `yarn` is then
    /// only shown.
    #[arg(skip)]
    pub band_fields: Option<FormData>,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::request_fields;

    /// A heading of fields that are shared goes on to those behind them unless
    /// they say otherwise.
    #[test]
    fn what_is_wanted_and_offered_is_not_folded_away() {
        let fields = request_fields::<CheckRequest>();
        let plain = fields.iter().filter(|field| field.heading.is_none());
        let names: Vec<&str> = plain.map(|field| field.name.as_str()).collect();
        assert_eq!(names, ["pattern", "wants", "need", "yarn", "with"]);
    }
}
