//! How a yarn does by each criterion, a row each: for or against, what it has, what is
//! wanted, and what that means in the hand.

use super::{
    hand::{build_in_short, fibre_in_short},
    values::{criterion_in_full, measured_words, numbers, shown_number},
};
use crate::{
    matching::{
        Condition, Criterion, Departure, HeldGrist, Judgement, Measured, Missing, Side as Whose,
    },
    measure::Interval,
    record::Care,
    report::{Rail, Reason, Side, Style},
    words::{and_list, count_of, joined, number},
};

/// A row for each criterion that is known or could be, in their order.
pub(in crate::report) fn reason_rows(judgement: &Judgement, style: &Style) -> Vec<Reason> {
    let row = |criterion: Criterion| {
        let missing = judgement.not_judged.iter();
        let mut missing = missing.filter(|missing| missing.criterion() == criterion);
        let found = judgement.departure(criterion);
        found
            .map(|found| judged(found, style))
            .or_else(|| missing.next().map(|missing| not_known(missing, style)))
    };
    Criterion::ALL.into_iter().filter_map(row).collect()
}

/// A criterion that was judged.
pub(in crate::report) fn judged(found: &Departure, style: &Style) -> Reason {
    let row = Reason {
        side: if is_within(found) {
            Side::For
        } else {
            Side::Against
        },
        criterion: criterion_in_full(found.criterion, style),
        offered: measured_words(&found.offered, style),
        wanted: String::new(),
        meaning: meaning(found, style),
        rail: None,
    };
    match rail(found, style) {
        Some(rail) => Reason {
            offered: offered_number(found, style),
            wanted: limits(&rail),
            rail: Some(rail),
            ..row
        },
        None if is_same(found) => row,
        None if found.criterion == Criterion::Fibre && is_within(found) => row,
        None => Reason {
            wanted: format!("wanted {}", measured_words(&found.wanted, style)),
            ..row
        },
    }
}

fn is_within(found: &Departure) -> bool {
    found.departure <= 1.0 + 1e-9
}

fn is_same(found: &Departure) -> bool {
    found.offered == found.wanted || found.departure == 0.0
}

/// `wanted 240 (221 to 259)`.
fn limits(rail: &Rail) -> String {
    let [low, high] = rail.limits().map(shown_number);
    format!("wanted {} ({low} to {high})", shown_number(rail.wanted))
}

/// Both numbers and the limits, of length per mass and of gauge.
fn rail(found: &Departure, style: &Style) -> Option<Rail> {
    let numbers = numbers(found).filter(|_| found.criterion != Criterion::WeightClass)?;
    let ends = match found.criterion {
        Criterion::Grist => ["thicker", "thinner"],
        _ => ["looser", "tighter"],
    };
    let unit = match found.criterion {
        Criterion::Grist => style.per_metre(),
        _ => 1.0,
    };
    let offered = numbers.as_thick_as.unwrap_or(numbers.offered);
    Some(Rail {
        wanted: numbers.wanted * unit,
        offered: offered * unit,
        tolerance: numbers.tolerance * unit,
        ends,
    })
}

fn offered_number(found: &Departure, style: &Style) -> String {
    match &found.offered {
        Measured::Grist(held) => {
            shown_number(held.together.as_metres_per_100_g() * style.per_metre())
        }
        Measured::Gauge { per_10_cm, .. } => stitches_alone(*per_10_cm),
        other => measured_words(other, style),
    }
}

/// `22`, `20 to 22`.
fn stitches_alone(per_10_cm: Interval<f64>) -> String {
    let (low, high) = (
        shown_number(per_10_cm.low()),
        shown_number(per_10_cm.high()),
    );
    if low == high {
        low
    } else {
        format!("{low} to {high}")
    }
}

/// What a judged criterion means in the hand.
fn meaning(found: &Departure, style: &Style) -> String {
    let near = |text: String| {
        if is_same(found) {
            "as wanted".to_owned()
        } else if is_within(found) {
            "near enough".to_owned()
        } else {
            text
        }
    };
    match (&found.wanted, &found.offered) {
        (Measured::Grist(wanted), Measured::Grist(offered)) => {
            let off = offered.off(wanted);
            let thick = if off < 0.0 { "too thick" } else { "too thin" };
            let thickness = as_thick(offered, wanted, style).filter(|_| is_within(found));
            let notes = [held(offered, style), thickness];
            joined_notes(&near(thick.to_owned()), notes)
        }
        (
            Measured::Gauge {
                compared: wanted, ..
            },
            Measured::Gauge {
                compared: offered,
                is_predicted,
                ..
            },
        ) => {
            let said = near(too_many(offered - wanted));
            let predicted = if *is_predicted { " (predicted)" } else { "" };
            format!("{said}{predicted}")
        }
        (
            Measured::WeightClass {
                compared: wanted, ..
            },
            Measured::WeightClass {
                compared: offered, ..
            },
        ) => {
            let steps = i16::from(wanted.number()) - i16::from(offered.number());
            steps_off(steps)
        }
        (Measured::Fibre(_), Measured::Fibre(_)) => near(fibre_in_short(found)),
        (Measured::Construction(wanted), Measured::Construction(offered)) if wanted != offered => {
            build_in_short(*offered, is_within(found)).to_owned()
        }
        (_, Measured::Care(Some(_))) => near("felts or shrinks in the machine".to_owned()),
        (_, Measured::Care(None)) => "its label does not say".to_owned(),
        _ => near(String::new()),
    }
}

fn joined_notes(first: &str, notes: [Option<String>; 2]) -> String {
    let first = std::iter::once(first.to_owned());
    joined(first.chain(notes.into_iter().flatten()), "; ")
}

/// `2 strands of 600`.
fn held(offered: &HeldGrist, style: &Style) -> Option<String> {
    let one = offered.one.as_metres_per_100_g() * style.per_metre();
    (offered.strands > 1).then(|| format!("{} strands of {}", offered.strands, shown_number(one)))
}

/// `by thickness 228`: what would be as thick of the pattern's fibre.
fn as_thick(offered: &HeldGrist, wanted: &HeldGrist, style: &Style) -> Option<String> {
    let nearer = offered.nearer_to(wanted);
    (nearer != offered.together).then(|| {
        let number = shown_number(nearer.as_metres_per_100_g() * style.per_metre());
        format!("by thickness {number}")
    })
}

/// `1 too few`, `2.5 too many`.
fn too_many(off: f64) -> String {
    let way = if off < 0.0 { "few" } else { "many" };
    match number(off.abs(), 1).as_str() {
        "1" => format!("one too {way}"),
        count => format!("{count} too {way}"),
    }
}

/// `one step thinner`.
fn steps_off(steps: i16) -> String {
    let way = if steps < 0 { "thicker" } else { "thinner" };
    match steps.abs() {
        0 => "as wanted".to_owned(),
        1 => format!("one step {way}, near enough"),
        steps => format!("{} {way}", count_of(f64::from(steps), "step")),
    }
}

/// How far two yarns may lie apart and nobody feel it (common practice, no source).
const FELT: f64 = 0.03;

/// What somebody who works a yarn that works will notice: `a little thicker`, `softer,
/// pills sooner`; what is not known of it. Conditions say the rest.
pub(in crate::report) fn differences(judgement: &Judgement) -> Vec<String> {
    let judged = judgement.departures.iter().filter(|found| !is_same(found));
    let judged = judged.filter_map(felt);
    let is_met = |missing: &&Missing| {
        let mut conditions = judgement.conditions.iter();
        conditions.any(|met| matches!(met, Condition::Missing(known) if known == *missing))
    };
    let missing = judgement.not_judged.iter().filter(|it| !is_met(it));
    let missing = missing.filter_map(|missing| match missing {
        Missing::Gauge(_) => Some("its gauge is not known"),
        Missing::Fibre(Whose::Candidate) | Missing::FibreValues(_) => {
            Some("its fibres are not known")
        }
        Missing::Grist(Whose::Candidate) => Some("its metres per ball are not known"),
        Missing::ComparableGrist { .. } => Some("its metres per ball cannot be compared"),
        Missing::Care(_) => Some("its label does not say how to wash it"),
        _ => None,
    });
    judged.chain(missing.map(str::to_owned)).collect()
}

fn felt(found: &Departure) -> Option<String> {
    let said = match (&found.wanted, &found.offered) {
        (Measured::Grist(wanted), Measured::Grist(offered)) => {
            match (offered.off(wanted), is_within(found)) {
                (_, false) => return None,
                (off, _) if off < -FELT => "a little thicker".to_owned(),
                (off, _) if off > FELT => "a little thinner".to_owned(),
                _ => return None,
            }
        }
        (Measured::Fibre(_), Measured::Fibre(_)) if !is_within(found) => fibre_in_short(found),
        (Measured::Construction(_), Measured::Construction(offered)) => {
            let said = build_in_short(*offered, is_within(found));
            said.trim_start_matches("near enough")
                .trim_start_matches("; ")
                .to_owned()
        }
        (_, Measured::Care(Some(_))) if !is_within(found) => {
            "felts or shrinks in the machine".to_owned()
        }
        (_, Measured::Care(None)) => "its label does not say how to wash it".to_owned(),
        _ => return None,
    };
    (!said.is_empty()).then_some(said)
}

/// A criterion that could not be judged, and what to do about it.
fn not_known(missing: &Missing, style: &Style) -> Reason {
    let said = match missing {
        Missing::Grist(Whose::Reference) => "the pattern does not give metres per ball".to_owned(),
        Missing::Grist(Whose::Candidate) => "weigh 10 m of it".to_owned(),
        Missing::ComparableGrist { .. } => {
            "air, loops or halo: metres cannot be compared".to_owned()
        }
        Missing::PatternGauge => "the pattern gives no gauge".to_owned(),
        Missing::Gauge(_) => "knit and wash a swatch".to_owned(),
        Missing::ClassOfStrands => "its label speaks of one strand".to_owned(),
        Missing::WeightClass(Whose::Candidate) => "its class is not known".to_owned(),
        Missing::WeightClass(Whose::Reference)
        | Missing::Fibre(Whose::Reference)
        | Missing::Construction(Whose::Reference) => "the pattern does not say".to_owned(),
        Missing::Fibre(Whose::Candidate) => "read its label, or ask the maker".to_owned(),
        Missing::FibreValues(names) if names.is_empty() => "ask the maker what it is".to_owned(),
        Missing::FibreValues(names) => format!("ask the maker what {} is", and_list(names)),
        Missing::Construction(Whose::Candidate) => "look at a cut end".to_owned(),
        Missing::Care(Care::MachineWash) => "ask whether it takes the machine".to_owned(),
        Missing::Care(_) => "ask how it may be washed".to_owned(),
    };
    Reason {
        side: Side::Unknown,
        criterion: criterion_in_full(missing.criterion(), style),
        offered: String::new(),
        wanted: String::new(),
        meaning: said,
        rail: None,
    }
}

/// What one criterion says against a yarn, as a clause of the verdict: `21 % fewer
/// metres per 100 g, so the cloth comes out too thick`.
pub(in crate::report) fn against(found: &Departure, style: &Style) -> String {
    let row = judged(found, style);
    match (&found.wanted, &found.offered) {
        (Measured::Grist(wanted), Measured::Grist(offered)) => {
            let off = offered.off(wanted);
            let (less, cloth) = if off < 0.0 {
                ("fewer", "thick")
            } else {
                ("more", "thin")
            };
            let much = match off >= 1.0 {
                true => format!("{} times the", number(1.0 + off, 1)),
                false => format!("{} % {less}", number(off.abs() * 100.0, 0)),
            };
            format!(
                "{much} {}, so the cloth comes out too {cloth}",
                row.criterion
            )
        }
        (Measured::Gauge { .. }, Measured::Gauge { .. }) => {
            format!(
                "{} {}: {}, {}",
                row.meaning, row.criterion, row.offered, row.wanted
            )
        }
        _ => format!("{}: {}", row.criterion, row.meaning),
    }
}
