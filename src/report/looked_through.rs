//! What a list of yarns was made from: how many there are, which were left out and
//! why, and what to do where there are none.

use super::{
    Style,
    json::{fields_of, list},
    judgement::{criterion_in_full, each_once},
    why_left_out,
    working::{beside, left_out_sentence, one_for_all},
};
use crate::{
    app::{CandidateAnswer, FindAnswer, LeftOutReason, Source, Working},
    matching::{Missing, Side, Verdict},
    words::{and_list, count_of, number},
};

/// Whether nothing was looked through and nothing left out.
pub(super) fn is_empty(answer: &FindAnswer) -> bool {
    is_nothing_compared(answer) && left_out(answer).is_empty()
}

/// Whether no yarn was compared.
pub(super) fn is_nothing_compared(answer: &FindAnswer) -> bool {
    answer.judged + answer.passed_over == 0
}

/// Why the list is empty, and what to do about it.
pub(super) fn nothing_found(answer: &FindAnswer, style: &Style) -> String {
    let (what, command, page) = match answer.source {
        Source::Stash => (
            "Your stash is empty",
            "import a table with `import stock FILE`, or add yarn with `stock buy`",
            "add yarn under Stash, or import a table under Tools",
        ),
        Source::Catalogue => (
            "You have no yarns yet",
            "import a table with `import yarns FILE`, or add one with `yarn add`",
            "add one under Your yarns, or import a table under Tools",
        ),
    };
    match is_empty(answer) {
        true => format!("{what}: {}.", style.either(command, page)),
        false => "None of your yarns is as you wish.".to_owned(),
    }
}

/// Whether a yarn that is judged by stitches alone is worth a line.
pub(super) fn may_work(found: &CandidateAnswer) -> bool {
    found.judgement.verdict != Verdict::WillNotWork
}

/// How many of how many are listed, and what was left out and why.
pub(super) fn filters(answer: &FindAnswer, style: &Style) -> Vec<String> {
    if is_empty(answer) {
        return Vec::new();
    }
    let from = match answer.source {
        Source::Stash => "in your stash",
        Source::Catalogue => "in your records",
    };
    let shown = answer.candidates.len();
    let looked = match u64::try_from(shown).is_ok_and(|shown| shown >= answer.judged) {
        true if left_out(answer).is_empty() => format!("All {} {from}", yarns(answer.judged)),
        true if answer.passed_over > 0 => format!("All {} {from}", yarns(answer.judged)),
        true if answer.judged == 1 => format!("Only this one {from} is as you wish"),
        true => format!("All {} {from} that are as you wish", yarns(answer.judged)),
        false => format!("The best {shown} of {} {from}", yarns(answer.judged)),
    };
    let looked = match answer.together {
        1 => looked,
        n => format!(
            "The best {shown} of all ways to hold {n} strands of {} {from} together, of which metres per ball are known",
            yarns(answer.judged)
        ),
    };
    let looked = match answer.passed_over {
        0 => looked,
        passed => format!("{looked} that are near enough; {passed} are too different to list"),
    };
    let is_assumed = |it: &Working| matches!(it, Working::MarginNotStated(_));
    let is_said = answer.working.iter().any(is_assumed);
    let spare = match number(answer.margin.as_percent(), 1).as_str() {
        "0" => None,
        _ if is_said => None,
        spare => Some(format!("{spare} % spare is counted in.")),
    };
    let stitches = answer.without_grist.iter().filter(|found| !may_work(found));
    let stitches = match stitches.count() {
        0 => None,
        1 => Some("1 yarn without metres per ball will not work.".to_owned()),
        n => Some(format!("{n} yarns without metres per ball will not work.")),
    };
    let left_out = answer.working.iter().filter_map(|working| match working {
        Working::LeftOut(counts) => Some(left_out_sentence(counts)),
        Working::DiscontinuedLeftOut(gone) => Some(format!("{gone} left out: discontinued.")),
        _ => None,
    });
    let strands = answer.candidates.iter().any(|line| line.plan.strands > 1);
    let strands = strands.then(|| "Metres per 100 g are those of one strand.".to_owned());
    if is_nothing_compared(answer) {
        return left_out.collect();
    }
    let all = std::iter::once(format!("{looked}.")).chain(stitches);
    let all = all
        .chain(spare)
        .chain(left_out)
        .chain(unsaid_by_pattern(answer, style));
    all.chain(strands).collect()
}

fn yarns(count: u64) -> String {
    count_of(f64::from(u32::try_from(count).unwrap_or(u32::MAX)), "yarn")
}

/// Whether it is the pattern that does not say, and not the label of the yarn.
pub(super) fn is_unsaid_by_pattern(missing: &Missing) -> bool {
    match missing {
        Missing::Grist(side)
        | Missing::WeightClass(side)
        | Missing::Fibre(side)
        | Missing::Construction(side) => *side == Side::Reference,
        Missing::PatternGauge => true,
        _ => false,
    }
}

/// What one yarn is for a pattern that holds several together: in place of all, or of one.
pub(super) fn beside_the_strand(answer: &FindAnswer) -> Option<String> {
    let role = &answer.role;
    let working = answer.working.iter().filter(|_| answer.together == 1);
    let mut said = working.filter_map(|working| match working {
        Working::Beside(titles) => Some(beside(titles)),
        Working::HeldTogether(keys) => one_for_all(role, keys),
        _ => None,
    });
    said.next()
}

/// What the pattern does not say, and no yarn is compared by.
fn unsaid_by_pattern(answer: &FindAnswer, style: &Style) -> Option<String> {
    let listed = answer.candidates.iter().chain(&answer.without_grist);
    let missing = listed.flat_map(|found| &found.judgement.not_judged);
    let is_of_strand = answer.working.iter().any(
        |working| matches!(working, Working::HeldTogether(keys) if keys.contains(&answer.role)),
    );
    // Of a yarn that is held with others it is said already.
    let is_said = |missing: &&Missing| is_of_strand && **missing == Missing::PatternGauge;
    let missing = missing.filter(|missing| is_unsaid_by_pattern(missing) && !is_said(missing));
    let unsaid = and_list(each_once(
        missing.map(|it| criterion_in_full(it.criterion(), style).to_owned()),
    ));
    (!unsaid.is_empty()).then(|| format!("The pattern does not say: {unsaid}."))
}

fields_of! {
    /// Yarns that were left out for one reason.
    LeftOutFields(left_out: &(LeftOutReason, u64)) {
        /// Why.
        why: String = why_left_out(&left_out.0),
        /// How many yarns.
        yarns: u64 = left_out.1,
    }
}

/// Yarns that were left out, by reason.
pub(super) fn left_out(answer: &FindAnswer) -> Vec<LeftOutFields> {
    list(left_out_counts(&answer.working), LeftOutFields::of)
}

/// How many were left out, by reason.
pub(super) fn left_out_counts(working: &[Working]) -> &[(LeftOutReason, u64)] {
    let mut counts = working.iter().filter_map(|working| match working {
        Working::LeftOut(counts) => Some(counts.as_slice()),
        _ => None,
    });
    counts.next().unwrap_or(&[])
}
