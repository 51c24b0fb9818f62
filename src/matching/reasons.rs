//! Why, a sentence each, with numbers.

use super::{
    Caution, Criterion, Departure, Severity, Verdict, assess::Assessed, terms::is_within,
    verdict::is_judged_enough,
};
use crate::words::{count_of, number};

/// The cautions that decide; then what is missing, where that decides; then what lies outside,
/// the farthest first; then what lies within, in the order of the criteria.
pub(super) fn reasons(verdict: Verdict, assessed: &Assessed, cautions: &[Caution]) -> Vec<String> {
    let deciding = cautions
        .iter()
        .filter(|caution| caution.severity > Severity::Told);
    let mut outside: Vec<&Departure> = Vec::new();
    let mut within: Vec<&Departure> = Vec::new();
    for departure in assessed.departures() {
        match is_within(departure.departure) {
            true => within.push(departure),
            false => outside.push(departure),
        }
    }
    outside.sort_by(|a, b| b.departure.total_cmp(&a.departure));
    deciding
        .map(|caution| caution.text.clone())
        .chain(missing(verdict, assessed))
        .chain(outside.into_iter().chain(within).map(sentence))
        .collect()
}

/// What would have to be known for a firmer answer.
fn missing(verdict: Verdict, assessed: &Assessed) -> Vec<String> {
    let decides = verdict == Verdict::CannotSay
        || verdict == Verdict::CouldWork && !is_judged_enough(assessed);
    let counts = |criterion| matches!(criterion, Criterion::Grist | Criterion::Gauge);
    assessed
        .not_judged()
        .filter(|missing| decides && counts(missing.criterion))
        .map(|missing| format!("{}; {}", missing.why, missing.measure))
        .collect()
}

fn sentence(departure: &Departure) -> String {
    let Departure {
        wanted, offered, ..
    } = departure;
    let by = number(departure.departure, 2);
    match departure.criterion {
        Criterion::Grist => measured("length per mass", departure),
        Criterion::Gauge => measured("gauge", departure),
        other if departure.departure == 0.0 => {
            format!("{}: {offered}, where {wanted} is wanted", other.name())
        }
        Criterion::WeightClass => format!(
            "weight class {offered} lies {} from {wanted}; the tolerance is {}",
            count_of(departure.departure, "step"),
            departure.tolerance
        ),
        Criterion::Fibre => {
            let most = departure.notes.first();
            let most = most.map_or(String::new(), |note| format!("; most in {note}"));
            format!("fibre: {offered} departs from {wanted} by {by} tolerances{most}")
        }
        Criterion::Construction => {
            format!("construction: {offered} is not {wanted}, {by} tolerances")
        }
        Criterion::Care => {
            format!("care: the pattern asks for {wanted}, the label allows only {offered}")
        }
    }
}

/// `length per mass 205 m/100 g is 8.9 % below the 225 m/100 g wanted; the
/// tolerance is 8 %`.
fn measured(name: &str, departure: &Departure) -> String {
    let Departure {
        wanted,
        offered,
        tolerance,
        ..
    } = departure;
    let off = departure
        .scale
        .map_or(0.0, |scale| scale.offered / scale.wanted - 1.0);
    let percent = number(off.abs() * 100.0, 1);
    match (percent.as_str(), off > 0.0) {
        ("0", _) => format!("{name} {offered} is what is wanted ({wanted})"),
        (_, true) => format!(
            "{name} {offered} is {percent} % above the {wanted} wanted; the tolerance is {tolerance}"
        ),
        (_, false) => format!(
            "{name} {offered} is {percent} % below the {wanted} wanted; the tolerance is {tolerance}"
        ),
    }
}
