//! What `check` and `find` are asked, as typed.

use super::FormData;
use crate::quantity::Keep;

/// What a pattern wants, and how strictly; every value as typed.
#[derive(Debug, Clone, Default)]
pub struct Question {
    /// Name of a kept pattern.
    pub pattern: Option<String>,
    /// What the pattern says of its yarn, where no pattern is kept.
    pub wants: Option<String>,
    /// What `wants` says, field by field, where it was corrected; `wants` is then
    /// only shown. `strands` beside [`super::FACT_FIELDS`].
    pub wants_fields: Option<FormData>,
    /// The same of the candidate's band.
    pub offered_fields: Option<FormData>,
    /// The need of each size, where `wants` does not hold it.
    pub need: Option<String>,
    /// Key of the yarn role that is asked about.
    pub role: Option<String>,
    /// The size that is asked about.
    pub size: Option<String>,
    /// Tolerance on length per mass.
    pub tolerance: Option<String>,
    /// Margin beyond the need.
    pub margin: Option<String>,
    /// How close the thing sits.
    pub fit: Option<String>,
    /// What it is for.
    pub purpose: Option<String>,
    /// The washing that it must take.
    pub care: Option<String>,
    /// A gauge measured of the candidate.
    pub own_gauge: Option<String>,
    /// What is kept at that gauge.
    pub keep: Option<Keep>,
    /// Strands of the candidate held together.
    pub strands: Option<u8>,
    /// Weights, as in `fibre=3`.
    pub weights: Vec<String>,
    /// How sure to be of enough, where the chance of running out is asked for.
    pub sure: Option<String>,
    /// How far the knitter's use lies from a stated need.
    pub own_use: Option<String>,
    /// Whether reserved yarn counts as there.
    pub with_reserved: bool,
}
