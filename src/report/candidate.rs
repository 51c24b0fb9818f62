//! A yarn of a list in full: its fields for programs, and all that is said about it.

use super::{
    Page, Role, Style, caution_text,
    cover::{after, cover_sentence},
    json::{fields_of, list},
    judgement::{
        VERDICTS, conditions_of, criterion_words, reasons_beside_conditions, verdict_words,
    },
    purchase::{ChanceFields, SkeinsFields, add_chances, add_skeins, counter},
    reason_sentences, remedy_text,
};
use crate::{
    app::{Candidate, CandidateAnswer, FindAnswer, SizeCover},
    matching::{Criterion, Missing},
    measure::{Grist, Ratio},
    words::{and_list, joined, number},
};
use schemars::JsonSchema;
use serde::Serialize;

fields_of! {
    /// A yarn of a list.
    CandidateFields(answer: &FindAnswer, found: &CandidateAnswer, style: &Style)
    where judgement = &found.judgement, candidate = &found.candidate; {
        /// The yarn.
        candidate: String = candidate.title.clone(),
        /// `should work`, `could work, if ...`, `cannot say` or `will not work`.
        #[schemars(extend("enum" = VERDICTS))]
        verdict: &'static str = verdict_words(judgement.verdict),
        /// Difference over all criteria, where 1 is the limit.
        overall: Option<f64> = judgement.overall,
        /// Strands held together.
        strands: u8 = found.plan.strands,
        /// Metres per 100 g of one strand.
        m_per_100g: Option<f64> = candidate.facts.grist().map(Grist::as_metres_per_100_g),
        /// Difference of metres per 100 g, where 1 is the limit.
        grist_departure: Option<f64> =
            judgement.departure(Criterion::Grist).map(|found| found.departure),
        /// Whole skeins of the asked size, or of each size in order.
        skeins: Vec<u32> = skeins(found),
        /// The chance of running out, where it was asked for.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        sure: Vec<ChanceFields> =
            list(&found.chances, |chance| ChanceFields::of(&answer.role, chance)),
        /// Costs of the same with their currency, where the price is known.
        costs: Vec<String> = costs(found),
        /// Whether your stash has enough for every size, spare included.
        enough_in_stock: Option<bool> = enough(found),
        /// What your stash has, in a sentence.
        cover: Option<String> = covered(answer, found, style),
        /// What has to be met, in sentences; never empty where it could work.
        conditions: Vec<String> = conditions_of(found, style),
        /// The weightiest reason, and what to do about it.
        reasons: Vec<String> = reasons(found, style),
        /// Criteria that are not known.
        not_judged: Vec<&'static str> = not_judged(found).map(Criterion::name).collect(),
        /// Cautions about it.
        cautions: Vec<String> = cautions(found),
        /// Whether it is discontinued.
        discontinued: bool = candidate.discontinued,
        /// Of yarns held together a row for each yarn and size.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        yarns: Vec<HeldYarn> = held_yarns(|_| &answer.role, found),
    }
}

/// The yarns that are held together, each once with how often it is held.
pub(super) fn together(ends: &[Candidate]) -> String {
    let each = ends.iter();
    joined(
        each.map(|end| strands_of(&end.title, end.strands_held())),
        " + ",
    )
}

pub(super) fn strands_of(title: &str, strands: u8) -> String {
    match strands {
        1 => title.to_owned(),
        n => format!("{n} strands of {title}"),
    }
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

/// One of several yarns held together, with what to buy of it where that is known.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum HeldYarn {
    /// With what to buy for one size.
    Bought {
        #[serde(flatten)]
        bought: SkeinsFields,
        #[serde(flatten)]
        part: HeldPart,
    },
    /// Without.
    Unknown {
        /// The yarn.
        yarn: String,
        #[serde(flatten)]
        part: HeldPart,
    },
}

fields_of! {
    /// What one yarn is of the strand that it is held in.
    HeldPart(key: &str, whole: &CandidateAnswer, end: &CandidateAnswer, enough: Option<bool>)
    where own = end.candidate.facts.grist(), all = whole.candidate.facts.grist(); {
        /// Key of the pattern's yarn.
        r#for: String = key.to_owned(),
        /// Metres per 100 g of this yarn.
        m_per_100g: Option<f64> = own.map(Grist::as_metres_per_100_g),
        /// Strands of it.
        strands: u8 = end.plan.strands,
        /// Its share of the mass of the strand, in percent.
        share_percent: Option<f64> = all
            .zip(own)
            .map(|(all, own)| all.as_metres_per_gram() / own.as_metres_per_gram())
            .map(|share| share * 100.0 * f64::from(end.candidate.strands_held())),
        /// Whether your stash has enough of it, spare included.
        enough_in_stock: Option<bool> = enough,
    }
}

/// A row for each yarn of several held together and each size, and one without amounts
/// where these are not known; nothing of one yarn alone.
pub(super) fn held_yarns<'a>(
    key_of: impl Fn(&'a CandidateAnswer) -> &'a str,
    found: &'a CandidateAnswer,
) -> Vec<HeldYarn> {
    let rows = found.ends.iter().flat_map(|end| {
        let (key, title) = (key_of(end), &end.candidate.title);
        let bought = end.skeins.iter().map(|bought| {
            let covers = end.cover.iter().find(|cover| cover.size == bought.size);
            let none = end.candidate.kept.then_some(false);
            let enough = covers.map(|found| found.cover.covers()).or(none);
            HeldYarn::Bought {
                bought: SkeinsFields::of(title, bought),
                part: HeldPart::of(key, found, end, enough),
            }
        });
        let unknown = end.skeins.is_empty().then(|| HeldYarn::Unknown {
            yarn: title.clone(),
            part: HeldPart::of(key, found, end, None),
        });
        bought.chain(unknown)
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
