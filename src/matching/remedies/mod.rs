//! What would bring a candidate within, with numbers.

mod another_size;
mod needle;
mod rework;
mod strands;

use super::{Candidate, Criterion, Remedy, Requirement, Settings, assess::Assessment};

/// A number of strands that brings length per mass within, and how the
/// candidate is judged so.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct StrandsPlan {
    pub(super) remedy: Remedy,
    pub(super) assessed: Assessment,
    /// What mends the gauge so, where that lies outside.
    pub(super) for_gauge: Vec<Remedy>,
}

/// Numbers of strands that would do, best first.
pub(super) fn strands_plans(
    wanted: &Requirement,
    offered: &Candidate,
    settings: &Settings,
    now: &Assessment,
) -> Vec<StrandsPlan> {
    strands::plans(wanted, offered, settings, now)
}

/// What can be done about a gauge outside its tolerance; empty for one within,
/// or one that is not known.
pub(super) fn for_gauge(
    wanted: &Requirement,
    offered: &Candidate,
    assessed: &Assessment,
) -> Vec<Remedy> {
    let expected = match &assessed.gauge {
        Some(expected) if assessed.is_beyond(Criterion::Gauge) => expected,
        _ => return Vec::new(),
    };
    [
        needle::change_needle(wanted, offered, expected),
        rework::rework_stitches(wanted, expected),
        another_size::another_size(wanted, expected),
    ]
    .into_iter()
    .flatten()
    .collect()
}
