//! The fields of an answer to `check`.

use super::{
    all_conditions, cautions, conditions, lines, offered, shopping::ShoppingFields, wanted,
    yarns_asked,
};
use crate::{
    app::{CheckAnswer, RoleAnswer},
    report::{
        DepartureLine, NotJudgedLine, RemedyLine, SWATCH_LINE, Style,
        candidate::{HeldYarn, held_yarns},
        caution_text,
        cover::CoverFields,
        gauge_change::GaugeChangeFields,
        in_hand::InHandFields,
        json::{fields_of, list},
        judgement::{VERDICTS, verdict_words},
        purchase::{ChanceFields, EstimateFields, SkeinsFields},
        reason_sentences, what_to_know, working_sentences,
    },
};

fields_of! {
    /// One yarn for the yarns of a pattern; verdict and `overall` are the weakest of all.
    CheckFields(answer: &CheckAnswer, style: &Style) {
        /// The yarn; of one for each colour all of them.
        candidate: String = yarns_asked(answer),
        /// The pattern.
        pattern: String = answer.pattern.clone(),
        /// `should work`, `could work, if ...`, `cannot say` or `will not work`.
        #[schemars(extend("enum" = VERDICTS))]
        verdict: &'static str = verdict_words(answer.verdict()),
        /// Difference over all criteria, where 1 is the limit.
        overall: Option<f64> = answer.overall(),
        /// What has to be met, in sentences; never empty where it could work.
        conditions: Vec<String> = all_conditions(answer, style),
        /// Each yarn of the pattern.
        roles: Vec<RoleFields> = list(&answer.roles, |role| RoleFields::of(answer, role, style)),
        /// Each difference.
        departures: Vec<DepartureLine> = lines(answer, |role| &role.offered.judgement.departures,
            |key, found| DepartureLine::new(key, found, style)),
        /// What is not known, and how to find out.
        not_judged: Vec<NotJudgedLine> = lines(answer, |role| &role.offered.judgement.not_judged,
            |key, found| NotJudgedLine::new(key, found, style)),
        /// What would help.
        remedies: Vec<RemedyLine> = lines(answer, |role| &role.remedies,
            |key, found| RemedyLine::new(key, found, style)),
        /// Cautions, whatever the verdict.
        cautions: Vec<String> = cautions(answer, |_| true, caution_text),
        /// Spare yarn that is counted in, in percent.
        margin_percent: f64 = answer.margin.as_percent(),
        /// What another gauge does to the need.
        #[serde(skip_serializing_if = "Option::is_none")]
        gauge_change: Option<GaugeChangeFields> =
            answer.gauge_change.as_ref().map(GaugeChangeFields::of),
        /// What to buy for each size.
        skeins: Vec<SkeinsFields> = lines(answer, |role| &role.offered.skeins, SkeinsFields::of),
        /// The chance of running out, where it was asked for.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        sure: Vec<ChanceFields> = lines(answer, |role| &role.offered.chances, ChanceFields::of),
        /// What a need that is a weight may be.
        estimates: Vec<EstimateFields> = lines(answer, |role| &role.estimates, EstimateFields::of),
        /// What the yarn in hand is enough for, with `--have`.
        #[serde(skip_serializing_if = "Option::is_none")]
        in_hand: Option<InHandFields> = answer.in_hand.as_ref().map(InHandFields::of),
        /// What each shade of your stash is enough for.
        cover: Vec<CoverFields> = lines(answer, |role| &role.offered.cover,
            |key, found| CoverFields::of(key, found, style)),
        /// Of yarns held together a row for each yarn and size.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        yarns: Vec<HeldYarn> = answer.roles.iter()
            .flat_map(|role| held_yarns(|end| role.key_of(end), &role.offered)).collect(),
        /// What to buy of each shade for each size, where each colour has a yarn of its own.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        shopping: Vec<ShoppingFields> = list(&answer.shopping, ShoppingFields::of),
        /// How it was worked out.
        working: Vec<String> = working_sentences(&answer.working, style),
        /// What was noticed in what was typed.
        warnings: Vec<String> = what_to_know(&answer.notes, &answer.remarks, style),
        /// That only a washed swatch proves it.
        swatch: &'static str = SWATCH_LINE,
    }
}

fields_of! {
    /// What one yarn of the pattern asks, and what it gets.
    RoleFields(answer: &CheckAnswer, role: &RoleAnswer, style: &Style)
    where judgement = &role.offered.judgement; {
        /// Key of the pattern's yarn.
        yarn: String = role.key.clone(),
        /// What it is offered.
        candidate: String = role.offered.candidate.title.clone(),
        /// The only shade of it that is meant, where one was named.
        #[serde(skip_serializing_if = "Option::is_none")]
        shade: Option<String> = role.offered.candidate.shade.clone(),
        /// Strands of the candidate, held together.
        strands: u8 = role.offered.plan.strands,
        /// What the pattern says of its yarn.
        wanted: String = wanted(role, style),
        /// What is known of the candidate.
        offered: String = offered(answer, role, style),
        /// `should work`, `could work, if ...`, `cannot say` or `will not work`.
        #[schemars(extend("enum" = VERDICTS))]
        verdict: &'static str = verdict_words(judgement.verdict),
        /// Difference over all criteria, where 1 is the limit.
        overall: Option<f64> = judgement.overall,
        /// What has to be met, in sentences.
        conditions: Vec<String> = conditions(role, style),
        /// Why, in sentences.
        reasons: Vec<String> = reason_sentences(judgement, style),
    }
}
