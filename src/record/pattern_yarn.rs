//! One yarn role of a pattern.

use super::{Name, Need, Printed, YarnFacts};

/// One yarn role: its key, the yarn the sample was worked in, and the need of
/// each size, in the order of the pattern's sizes.
#[derive(Debug, Clone, PartialEq)]
pub struct PatternYarn {
    /// As the pattern calls it: A, B, MC, CC1.
    pub key: Name,
    /// The yarn of the sample, as `maker, name`, where the pattern says.
    pub called: Option<String>,
    /// What the pattern says of that yarn.
    pub reference: YarnFacts,
    /// Strands of it held together; 1 unless the pattern says otherwise. Needs
    /// count the metres of all strands, as one buys them.
    pub strands: u8,
    /// One need a size.
    pub needs: Vec<Printed<Need>>,
}
