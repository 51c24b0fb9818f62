//! One yarn in place of one of a pattern's: its line of a materials sheet, and its
//! row of a table for programs.

use super::{
    Style, Table, departure_in_short,
    judgement::{conditions_of, criterion_words, verdict_sentence, verdict_words},
    purchase::skeins_fields,
    remedy_text, sizes_as_patterns_write_them,
};
use crate::{
    app::Alternative,
    matching::{Departure, Judgement},
    measure::{Grist, Length, Mass, units::YARD_M},
    words::{and_list, joined, number, uncapitalized},
};
use serde_json::{Value, json};

/// Fields of an alternative; `m_per_pattern_put_up` is its length at the mass of one
/// skein of the pattern's yarn, `pattern_put_up_g`.
pub(super) fn fields(found: &Alternative, style: &Style) -> Value {
    let answer = &found.answer;
    let skeins = answer.skeins.iter();
    json!({
        "yarn": found.key,
        "candidate": answer.candidate.title,
        "put_up": put_up(found, style),
        "strands": answer.plan.strands,
        "pattern_put_up_g": found.pattern_put_up.map(Mass::as_grams),
        "m_per_pattern_put_up": found.length_at_put_up.map(Length::as_metres),
        "m_per_100g": per_100_g(found),
        "counts": counts(found),
        "skeins": skeins.map(|bought| skeins_fields(&found.key, bought)).collect::<Vec<_>>(),
        "verdict": verdict_words(answer.judgement.verdict),
        "overall": answer.judgement.overall,
        "departs": departs(&answer.judgement, style),
        "conditions": conditions_of(answer, style),
        "to_do": to_do(found, style),
        "discontinued": answer.candidate.discontinued,
    })
}

fn put_up(found: &Alternative, style: &Style) -> String {
    let facts = &found.answer.candidate.facts;
    style.skein(facts.skein_length(), facts.skein_mass())
}

fn per_100_g(found: &Alternative) -> Option<f64> {
    let grist = found.answer.candidate.facts.grist();
    grist.map(Grist::as_metres_per_100_g)
}

/// Skeins of each size, as patterns write them.
fn counts(found: &Alternative) -> String {
    let skeins = found.answer.skeins.iter();
    sizes_as_patterns_write_them(skeins.map(|bought| bought.purchase.skeins))
}

/// What to do, where something must be done.
pub(super) fn to_do(found: &Alternative, style: &Style) -> Option<String> {
    let remedy = found.answer.first_remedy();
    remedy.map(|remedy| remedy_text(remedy, style))
}

/// Whether it would work and why, in one sentence.
pub(super) fn sentence(found: &Alternative, style: &Style) -> String {
    let candidate = &found.answer.candidate;
    let gone = if candidate.discontinued {
        " Discontinued."
    } else {
        ""
    };
    let verdict = verdict_sentence(&found.answer, style);
    format!("{}: {}{gone}", candidate.title, uncapitalized(&verdict))
}

/// The alternatives of one yarn for people, their lengths at the mass of the
/// pattern's put-up, or at 100 g where that is not known; to a tenth of a metre, as
/// half a skein of 225 m is 112.5 m.
pub(super) fn offered(found: &[&Alternative], put_up_mass: Option<Mass>, style: &Style) -> Table {
    let grams = put_up_mass.map_or(100.0, Mass::as_grams);
    let length = |metres: f64| {
        style.pair(
            format!("{} m", number(metres, 1)),
            format!("{} yd", number(metres / YARD_M, 0)),
        )
    };
    let columns = Table::of(found.iter().copied())
        .left("alternative", |found| {
            let title = &found.answer.candidate.title;
            match found.answer.plan.strands {
                1 => title.clone(),
                n => format!("{title}, {n} strands"),
            }
        })
        .left("skein", |found| put_up(found, style))
        .right(&format!("per {} g", number(grams, 1)), |found| {
            let at_put_up = found.length_at_put_up.map(Length::as_metres);
            at_put_up.or(per_100_g(found)).map(length)
        })
        .left("skeins", counts);
    columns.into()
}

/// The alternatives for programs; skeins of each size have a column.
pub(super) fn cells(found: &[Alternative], sizes: &[String]) -> Table {
    let style = &Style::default();
    let mut columns = Table::of(found)
        .left("yarn", |found| found.key.as_str())
        .left("alternative", |found| found.answer.candidate.title.as_str())
        .left("put-up", |found| put_up(found, style))
        .right("strands", |found| u32::from(found.answer.plan.strands))
        .right("pattern put-up g", |found| {
            found.pattern_put_up.map(|mass| number(mass.as_grams(), 1))
        })
        .right("m per pattern put-up", |found| {
            found
                .length_at_put_up
                .map(|length| number(length.as_metres(), 1))
        })
        .right("m per 100 g", |found| {
            per_100_g(found).map(|metres| number(metres, 1))
        })
        .right("yd per 100 g", |found| {
            per_100_g(found).map(|metres| number(metres / YARD_M, 1))
        });
    for size in sizes {
        columns = columns.right(&format!("skeins {size}"), |found| {
            let mut bought = found.answer.skeins.iter();
            bought
                .find(|bought| bought.size == *size)
                .map(|bought| bought.purchase.skeins)
        });
    }
    let columns = columns
        .left("verdict", |found| {
            verdict_words(found.answer.judgement.verdict)
        })
        .right("overall", |found| {
            found
                .answer
                .judgement
                .overall
                .map(|overall| number(overall, 2))
        })
        .left("departs", |found| {
            joined(departs(&found.answer.judgement, style), ", ")
        })
        .left("to do", |found| to_do(found, style))
        .left("discontinued", |found| {
            if found.answer.candidate.discontinued {
                "yes"
            } else {
                "no"
            }
        });
    columns.into()
}

/// Each criterion on which it departs, the farthest first, and what could not be
/// judged.
fn departs(judgement: &Judgement, style: &Style) -> Vec<String> {
    let departures = judgement.departures.iter();
    let mut far: Vec<&Departure> = departures.filter(|d| d.departure > 1e-9).collect();
    far.sort_by(|a, b| b.departure.total_cmp(&a.departure));
    let told = far
        .into_iter()
        .map(|departure| departure_in_short(departure, style));
    let missing = judgement.not_judged.iter();
    let missing = and_list(missing.map(|missing| criterion_words(missing.criterion())));
    let missing = (!missing.is_empty()).then(|| format!("not judged: {missing}"));
    told.chain(missing).collect()
}
