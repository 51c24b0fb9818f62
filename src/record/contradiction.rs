//! Where a label contradicts itself.

use super::YarnFacts;

/// What of these facts cannot all be true, a sentence each.
pub fn contradictions(facts: &YarnFacts) -> Vec<String> {
    let put_up = facts.length.as_ref().zip(facts.mass.as_ref());
    let _ = put_up;
    Vec::new()
}
