//! Needs stated as a mass alone, estimated through the weight class.

use crate::{
    measure::{Length, Ratio},
    quantity::{ClassReading, MassEstimate, mass_estimates, purchase},
    record::{Classes, Need, NeedRange, YarnFacts},
    report::EstimateLine,
};

/// Estimates of a need in mass, where the reference has no length per mass but a
/// class: nothing for any other need.
pub(super) fn estimate_lines(
    size: &str,
    key: &str,
    need: &Need,
    reference: &YarnFacts,
    class: Option<&Classes>,
    skein: Option<Length>,
    margin: Ratio,
) -> Vec<EstimateLine> {
    let (Need::Mass(mass), None) = (need, reference.grist()) else {
        return Vec::new();
    };
    let classes = class.map(Classes::as_slice).unwrap_or_default();
    mass_estimates(*mass, classes)
        .into_iter()
        .map(|estimate| EstimateLine {
            yarn: key.to_owned(),
            size: size.to_owned(),
            basis: basis(&estimate),
            at_least_m: estimate.at_least.map(Length::as_metres),
            at_most_m: estimate.at_most.map(Length::as_metres),
            fewest_skeins: count(estimate.at_least, skein, margin),
            most_skeins: count(estimate.at_most, skein, margin),
        })
        .collect()
}

fn count(metres: Option<Length>, skein: Option<Length>, margin: Ratio) -> Option<u32> {
    let need = NeedRange {
        at_least: metres?,
        buy_for: metres?,
    };
    purchase(need, skein?, margin)
        .ok()
        .map(|bought| bought.skeins)
}

fn basis(estimate: &MassEstimate) -> String {
    let reading = match estimate.reading {
        ClassReading::Today => "as the name is used today",
        ClassReading::OneFiner => "one class finer, as old yarn often is (common practice)",
    };
    format!("class {}, {reading}", estimate.class)
}
