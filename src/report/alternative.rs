//! One yarn in place of one of a pattern's: what a materials sheet says of it to its
//! readers and to the designer, and its row of a table for programs.

use super::{
    Style, Table, departure_in_short,
    facts_words::material_words,
    json::{fields_of, list},
    judgement::{
        VERDICTS, conditions_in_short, conditions_of, criterion_in_full, criterion_words,
        differences, each_once, verdict_sentence, verdict_words,
    },
    purchase::SkeinsFields,
    remedy_text, sizes_as_patterns_write_them,
};
use crate::{
    app::{Alternative, SizePurchase},
    matching::{Criterion, Departure, Judgement, Remedy, Verdict},
    measure::{Grist, Length, Mass, units::YARD_M},
    record::YarnFacts,
    words::{and_list, joined, number, uncapitalized},
};

fields_of! {
    /// A yarn in place of one of a pattern's.
    AlternativeFields(found: &Alternative, style: &Style) where answer = &found.answer; {
        /// Key of the pattern's yarn.
        yarn: String = found.key.clone(),
        /// The yarn.
        candidate: String = answer.candidate.title.clone(),
        /// One skein: its length and weight.
        put_up: String = put_up(found, style),
        /// Strands held together.
        strands: u8 = answer.plan.strands,
        /// Grams of one skein of the pattern's yarn.
        pattern_put_up_g: Option<f64> = found.pattern_put_up.map(Mass::as_grams),
        /// Metres of this yarn in as many grams.
        m_per_pattern_put_up: Option<f64> = found.length_at_put_up.map(Length::as_metres),
        /// Metres per 100 g.
        m_per_100g: Option<f64> = per_100_g(found),
        /// Skeins of each size, as patterns write them.
        counts: String = counts(found),
        /// What to buy for each size.
        skeins: Vec<SkeinsFields> =
            list(&answer.skeins, |bought| SkeinsFields::of(&found.key, bought)),
        /// `should work`, `could work, if ...`, `cannot say` or `will not work`.
        #[schemars(extend("enum" = VERDICTS))]
        verdict: &'static str = verdict_words(answer.judgement.verdict),
        /// Difference over all criteria, where 1 is the limit.
        overall: Option<f64> = answer.judgement.overall,
        /// In what it differs, the farthest first, and what is not known.
        departs: Vec<String> = departs(&answer.judgement, style),
        /// What has to be met, in sentences.
        conditions: Vec<String> = conditions_of(answer, style),
        /// What to do, where something must be done.
        to_do: Option<String> = to_do(found, style),
        /// Whether it is discontinued.
        discontinued: bool = answer.candidate.discontinued,
    }
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
fn to_do(found: &Alternative, style: &Style) -> Option<String> {
    let remedy = found.answer.first_remedy();
    remedy.map(|remedy| remedy_text(remedy, style))
}

/// A yarn, and how it is held.
pub(super) fn titled(found: &Alternative) -> String {
    let title = &found.answer.candidate.title;
    match found.answer.plan.strands {
        1 => title.clone(),
        n => format!("{title}, {n} strands held together"),
    }
}

/// What it is, whether it works, and what differs, in one sentence for readers.
pub(super) fn sentence(found: &Alternative, style: &Style) -> String {
    let answer = &found.answer;
    let facts = material_words(&answer.candidate.facts, style);
    let verdict = match answer.judgement.verdict {
        Verdict::ShouldWork => "should work".to_owned(),
        Verdict::CouldWork => format!("could work if {}", conditions_in_short(answer, style)),
        Verdict::CannotSay | Verdict::WillNotWork => {
            let said = verdict_sentence(answer, style);
            uncapitalized(said.trim_end_matches('.'))
        }
    };
    let differs = match answer.judgement.verdict {
        Verdict::ShouldWork | Verdict::CouldWork => joined(
            differences(&answer.judgement)
                .into_iter()
                .map(|text| format!("; {text}")),
            "",
        ),
        Verdict::CannotSay | Verdict::WillNotWork => String::new(),
    };
    let gone = if answer.candidate.discontinued {
        " Discontinued."
    } else {
        ""
    };
    let rework = match answer.first_remedy() {
        Some(remedy @ (Remedy::ReworkStitches { .. } | Remedy::AnotherSize { .. })) => {
            format!(" {}", remedy_text(remedy, style))
        }
        _ => String::new(),
    };
    format!(
        "{} ({facts}): {verdict}{differs}.{rework}{gone}",
        titled(found)
    )
}

/// What the designer's copy says beside the comparison: what to do, and how far it
/// differs, in limits.
pub(super) fn in_full(found: &Alternative, style: &Style) -> Vec<String> {
    let answer = &found.answer;
    let per = found.length_at_put_up.zip(found.pattern_put_up);
    let per = per.map(|(length, mass)| {
        format!(
            "{} in {}, what the pattern's skein weighs.",
            style.length(length),
            style.mass(mass)
        )
    });
    let overall = answer.judgement.overall.map(|overall| {
        let named = |criterion| criterion_in_full(criterion, style).to_owned();
        let each = joined(departures(&answer.judgement, named, style), ", ");
        let each = if each.is_empty() {
            each
        } else {
            format!(": {each}")
        };
        format!(
            "Difference over all {}, where 1 is the limit{each}.",
            number(overall, 2)
        )
    });
    let conditions = conditions_of(answer, style).into_iter();
    let remedy = to_do(found, style);
    let told = conditions.chain(remedy).chain(per).chain(overall);
    each_once(told)
}

/// The head of a column of counts: `Hathrel DK, 245 m (268 yd)`.
pub(super) fn head(title: Option<&str>, facts: &YarnFacts, style: &Style) -> String {
    let name = title.map(|title| title.rsplit_once(", ").map_or(title, |(_, name)| name));
    let length = facts.skein_length().map(|length| style.length(length));
    joined(name.into_iter().map(str::to_owned).chain(length), ", ")
}

/// The same of an alternative; a yarn that is known by its label alone has no name.
pub(super) fn head_of(found: &Alternative, style: &Style) -> String {
    let candidate = &found.answer.candidate;
    let name = match candidate.kept {
        true => candidate.title.as_str(),
        false => "yarn of this label",
    };
    let strands = match found.answer.plan.strands {
        1 => String::new(),
        n => format!(", {n} strands"),
    };
    head(Some(name), &candidate.facts, style) + &strands
}

/// What to buy for a size.
pub(super) fn skeins_of(skeins: &[SizePurchase], size: &str) -> Option<u32> {
    let mut bought = skeins.iter();
    let bought = bought.find(|bought| bought.size == *size);
    bought.map(|bought| bought.purchase.skeins)
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
            skeins_of(&found.answer.skeins, size)
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
    departures(judgement, |criterion| criterion.name().to_owned(), style)
}

/// The same, with names of criteria for people or for programs.
fn departures(
    judgement: &Judgement,
    named: impl Fn(Criterion) -> String,
    style: &Style,
) -> Vec<String> {
    let departures = judgement.departures.iter();
    let mut far: Vec<&Departure> = departures.filter(|d| d.departure > 1e-9).collect();
    far.sort_by(|a, b| b.departure.total_cmp(&a.departure));
    let told = far.into_iter().map(|departure| {
        let said = departure_in_short(departure, style);
        let criterion = departure.criterion;
        said.replacen(criterion.name(), &named(criterion), 1)
    });
    let missing = judgement.not_judged.iter();
    let missing = and_list(missing.map(|missing| criterion_words(missing.criterion())));
    let missing = (!missing.is_empty()).then(|| format!("not judged: {missing}"));
    told.chain(missing).collect()
}
