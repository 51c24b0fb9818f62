//! A yarn of a list in full: its fields for programs, and all that is said about it.

use super::{
    Page, Role, Style, caution_text,
    cover::{after, cover_sentence},
    json::without_empty,
    judgement::{conditions_of, criterion_words, reasons_beside_conditions, verdict_words},
    purchase::{add_chances, add_skeins, chance_fields, counter, skeins_fields},
    reason_sentences, remedy_text,
};
use crate::{
    app::{CandidateAnswer, FindAnswer, SizeCover},
    matching::{Criterion, Missing},
    measure::{Grist, Ratio},
    words::{and_list, number},
};
use serde_json::{Value, json};

/// One candidate: skeins and costs are of the asked size, or of each size in order;
/// reasons are the weightiest one and what to do about it; `enough_in_stock` says
/// whether the stash covers every size that was asked about, margin included.
pub(super) fn candidate(answer: &FindAnswer, found: &CandidateAnswer, style: &Style) -> Value {
    let (judgement, candidate) = (&found.judgement, &found.candidate);
    let chances = found.chances.iter();
    let fields = json!({
        "candidate": candidate.title,
        "verdict": verdict_words(judgement.verdict),
        "overall": judgement.overall,
        "strands": found.plan.strands,
        "m_per_100g": candidate.facts.grist().map(Grist::as_metres_per_100_g),
        "grist_departure": judgement.departure(Criterion::Grist).map(|found| found.departure),
        "skeins": skeins(found),
        "sure": chances.map(|chance| chance_fields(&answer.role, chance)).collect::<Vec<_>>(),
        "costs": costs(found),
        "enough_in_stock": enough(found),
        "cover": covered(answer, found, style),
        "conditions": conditions_of(found, style),
        "reasons": reasons(found, style),
        "not_judged": not_judged(found).map(Criterion::name).collect::<Vec<_>>(),
        "cautions": cautions(found),
        "discontinued": candidate.discontinued,
        "yarns": held_yarns(&answer.role, found),
    });
    without_empty(fields, &["sure", "yarns"])
}

pub(super) fn skeins(found: &CandidateAnswer) -> Vec<u32> {
    let skeins = found.skeins.iter();
    skeins.map(|bought| bought.purchase.skeins).collect()
}

pub(super) fn costs(found: &CandidateAnswer) -> Vec<String> {
    let costs = found
        .skeins
        .iter()
        .filter_map(|bought| bought.cost.as_ref());
    costs.map(ToString::to_string).collect()
}

pub(super) fn enough(found: &CandidateAnswer) -> Option<bool> {
    let covers = |cover: &SizeCover| cover.cover.covers();
    (!found.cover.is_empty()).then(|| found.cover.iter().all(covers))
}

fn reasons(found: &CandidateAnswer, style: &Style) -> Vec<String> {
    let first = reason_sentences(&found.judgement, style)
        .into_iter()
        .take(1);
    let remedy = found.first_remedy();
    first
        .chain(remedy.map(|remedy| remedy_text(remedy, style)))
        .collect()
}

/// The weightiest reason, what has to be met, and what is not known.
pub(super) fn reasons_and_conditions(found: &CandidateAnswer, style: &Style) -> Vec<String> {
    let mut reasons = reasons_beside_conditions(&found.judgement, style);
    reasons.truncate(1);
    reasons.extend(conditions_of(found, style));
    let not_known = and_list(not_judged(found).map(criterion_words));
    reasons.extend((!not_known.is_empty()).then(|| format!("Not known: {not_known}.")));
    reasons
}

pub(super) fn not_judged(found: &CandidateAnswer) -> impl Iterator<Item = Criterion> {
    let missing = found.judgement.not_judged.iter();
    missing.map(Missing::criterion)
}

pub(super) fn cautions(found: &CandidateAnswer) -> Vec<String> {
    found.judgement.cautions.iter().map(caution_text).collect()
}

/// The stash in one sentence: of one size its own, of several which are covered.
pub(super) fn covered(
    answer: &FindAnswer,
    found: &CandidateAnswer,
    style: &Style,
) -> Option<String> {
    let covering = found.cover.iter().filter(|found| found.cover.covers());
    let names: Vec<&str> = covering.map(|found| found.size.as_str()).collect();
    match (found.cover.as_slice(), names.len()) {
        ([], _) => None,
        ([one], _) => Some(cover_sentence(one, style)),
        (all, covered) if covered == all.len() => Some(format!(
            "Your stash has enough for every size{}.",
            after_others(found)
        )),
        ([first, ..], 0) => {
            let first = cover_sentence(first, style);
            Some(format!("Your stash has enough for no size. {first}"))
        }
        _ => Some(format!(
            "Of {} sizes your stash has enough for {}{}.",
            answer.sizes,
            and_list(names),
            after_others(found)
        )),
    }
}

/// That other yarns of the pattern come first.
fn after_others(found: &CandidateAnswer) -> String {
    let covers = found.cover.iter();
    let mut yarns: Vec<String> = covers.flat_map(|cover| cover.after.clone()).collect();
    yarns.dedup();
    after(&yarns)
}

/// A row for each yarn of several held together and each size, and one without amounts
/// where these are not known; nothing of one yarn alone. `share_percent` is its share of
/// the mass of the strand.
pub(super) fn held_yarns(key: &str, found: &CandidateAnswer) -> Vec<Value> {
    let whole = found.candidate.facts.grist();
    let rows = found.ends.iter().flat_map(|end| {
        let title = &end.candidate.title;
        let sizes = end.skeins.iter().map(|bought| {
            let covers = end.cover.iter().find(|cover| cover.size == bought.size);
            let none = end.candidate.kept.then_some(false);
            let enough = covers.map(|found| found.cover.covers()).or(none);
            (skeins_fields(title, bought), enough)
        });
        let mut rows: Vec<(Value, Option<bool>)> = sizes.collect();
        if rows.is_empty() {
            rows.push((json!({ "yarn": title }), None));
        }
        rows.into_iter().map(move |row| (end, row))
    });
    let rows = rows.map(|(end, (mut fields, enough))| {
        let own = end.candidate.facts.grist();
        let share = whole.zip(own);
        let share = share.map(|(whole, own)| whole.as_metres_per_gram() / own.as_metres_per_gram());
        let more = [
            ("for", json!(key)),
            ("m_per_100g", json!(own.map(Grist::as_metres_per_100_g))),
            ("share_percent", json!(share.map(|share| share * 100.0))),
            ("enough_in_stock", json!(enough)),
        ];
        if let Value::Object(fields) = &mut fields {
            fields.extend(more.map(|(name, value)| (name.to_owned(), value)));
        }
        fields
    });
    rows.collect()
}

/// What the need of a yarn counts in: `10 % spare is counted in, 2 strands held together.`
pub(super) fn counted_in(margin: Ratio, strands: u8, yarns: usize) -> String {
    let spare = match number(margin.as_percent(), 1).as_str() {
        "0" => "No spare is added".to_owned(),
        spare => format!("{spare} % spare is counted in"),
    };
    let strands = match (strands, yarns) {
        (1, 1) => String::new(),
        (1, yarns) => format!(", {yarns} yarns held together, as much of each as of the cloth"),
        (n, 1) => format!(", {n} strands held together"),
        (n, _) => format!(", {n} strands of each held together"),
    };
    format!("{spare}{strands}.")
}

/// What to buy of one yarn, and where it lies.
pub(super) fn add_needed(page: &mut Page, offered: &CandidateAnswer, style: &Style) {
    let word = counter(&offered.candidate.facts);
    if !offered.skeins.is_empty() {
        add_skeins(page, &offered.skeins, word, style);
    }
    if offered.chances.len() > 1 {
        add_chances(page, &offered.chances, word);
    }
    let cover = offered.cover.iter();
    let cover: Vec<String> = cover.map(|found| cover_sentence(found, style)).collect();
    page.part("From your stash, with the spare", Role::Plain, &cover);
}
