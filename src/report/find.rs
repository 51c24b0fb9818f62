//! The yarns that would do, the best first.

use super::{
    Page, Render, Role, SWATCH_LINE, Style, Table, caution_text,
    cover::{after, cover_sentence},
    facts_words::facts_in_style,
    json::without_empty,
    judgement::{conditions_of, criterion_words, news, reasons_beside_conditions, verdict_words},
    purchase::{chance_fields, chance_sentence},
    reason_sentences, remedy_text, sizes_as_patterns_write_them, why_left_out, working_sentences,
};
use crate::{
    app::{CandidateAnswer, FindAnswer, SizeCover, Source, Working},
    matching::{Criterion, Exclusion, FibreLimits, Missing},
    measure::Grist,
    trade::FibreGroup,
    words::{and_list, count_of, number},
};
use serde::Serialize;
use serde_json::{Value, json};

impl Render for FindAnswer {
    /// `size` is `null` where skeins are of each size in order; `passed_over` lie
    /// too far off for a place in these lists; `without_grist` have no length per
    /// mass and are judged by gauge alone; `cautions` hold for every candidate.
    fn fields(&self) -> impl Serialize {
        let style = &Style::default();
        let lines = |found: &[CandidateAnswer]| -> Vec<Value> {
            let found = found.iter();
            found.map(|found| candidate(self, found, style)).collect()
        };
        json!({
            "pattern": self.pattern,
            "yarn": self.role,
            "wanted": wanted(self, style),
            "from": source(self.source),
            "tolerance": style.tolerance(self.tolerance),
            "size": self.size,
            "margin_percent": self.margin.as_percent(),
            "without": limits(self, |limits| &limits.without),
            "only": limits(self, |limits| &limits.only),
            "left_out": left_out(self),
            "judged": self.judged,
            "passed_over": self.passed_over,
            "candidates": lines(&self.candidates),
            "without_grist": lines(&self.without_grist),
            "cautions": [],
            "working": working_sentences(&self.working, style),
            "warnings": style.notes(&self.notes),
            "swatch": SWATCH_LINE,
        })
    }

    fn page(&self, style: &Style) -> Page {
        let source = source(self.source);
        let mut page = Page::titled(format!(
            "Yarns of the {source} for {}, yarn {}",
            self.pattern, self.role
        ));
        let (wanted, tolerance) = (wanted(self, style), style.tolerance(self.tolerance));
        let wanted = format!("Wanted: {wanted}. Tolerance on length per mass {tolerance}.");
        page.text(Role::Plain, wanted);
        page.text(Role::Aside, counted(self, style));
        add_list(&mut page, self, &self.candidates, style);
        if !self.without_grist.is_empty() {
            page.section("Without a length per mass, judged by gauge alone");
            add_list(&mut page, self, &self.without_grist, style);
        }
        page.working(
            &working_sentences(&self.working, style),
            &style.notes(&self.notes),
        );
        page.swatch();
        page
    }
}

/// The fibres that the question keeps away from, or alone allows.
fn limits(answer: &FindAnswer, of: fn(&FibreLimits) -> &Vec<FibreGroup>) -> Vec<&'static str> {
    let groups = answer.working.iter().filter_map(|working| match working {
        Working::FibreLimits(limits) => Some(of(limits)),
        _ => None,
    });
    groups.flatten().map(|group| group.name()).collect()
}

/// Yarns that were left out for what they hold, by reason.
fn left_out(answer: &FindAnswer) -> Vec<Value> {
    let counts = answer.working.iter().filter_map(|working| match working {
        Working::LeftOut(counts) => Some(counts),
        _ => None,
    });
    let field =
        |(why, count): &(Exclusion, u64)| json!({"why": why_left_out(*why), "yarns": count});
    counts.flatten().map(field).collect()
}

fn source(source: Source) -> &'static str {
    match source {
        Source::Catalogue => "catalogue",
        Source::Stash => "stash",
    }
}

fn wanted(answer: &FindAnswer, style: &Style) -> String {
    facts_in_style(&answer.wanted.facts, answer.wanted.gauge.as_ref(), style)
}

fn counted(answer: &FindAnswer, style: &Style) -> String {
    let number_of = |count: u64| f64::from(u32::try_from(count).unwrap_or(u32::MAX));
    let yarns = count_of(number_of(answer.judged), "yarn");
    let others = match answer.passed_over {
        0 => String::new(),
        others => {
            let others = number(number_of(others), 0);
            format!(", {others} more lie too far off for a place here")
        }
    };
    let of = match &answer.size {
        Some(size) => format!("skeins for size {size}"),
        None => "skeins for each size in order".to_owned(),
    };
    let [unit, _] = style.ordered("m/100 g", "yd/lb");
    let strands = if answer.candidates.iter().any(|line| line.plan.strands > 1) {
        format!(" Overall and {unit} are those of one strand.")
    } else {
        String::new()
    };
    let margin = number(answer.margin.as_percent(), 1);
    format!(
        "{yarns} judged{others}; departures in tolerances (0 the same, 1 the edge); {of}, margin {margin} %.{strands}"
    )
}

fn add_list(page: &mut Page, answer: &FindAnswer, found: &[CandidateAnswer], style: &Style) {
    let [unit, _] = style.ordered("m/100 g", "yd/lb");
    page.table(
        Table::of((1..).zip(found))
            .right("", |(place, _)| place)
            .left("yarn", |(_, found)| titled(found))
            .right("overall", |(_, found)| {
                found.judgement.overall.map(|d| number(d, 2))
            })
            .right(unit, |(_, found)| {
                found
                    .candidate
                    .facts
                    .grist()
                    .map(|g| grist_number(g, style))
            })
            .left("skeins", |(_, found)| {
                sizes_as_patterns_write_them(skeins(found))
            })
            .right("cost", |(_, found)| match costs(found).as_slice() {
                [one] => Some(one.clone()),
                _ => None,
            })
            .left("in stock", |(_, found)| {
                enough(found).map(|enough| if enough { "enough" } else { "too little" })
            }),
    );
    for (place, found) in (1..).zip(found) {
        let (title, verdict) = (&found.candidate.title, found.judgement.verdict);
        page.text(
            news(verdict),
            format!("{place} {title}: {}", verdict_words(verdict)),
        );
        let told = reasons_and_conditions(found, style);
        let told = told.into_iter().chain(chance_sentence(&found.chances));
        let told = told
            .chain(covered(answer, found, style))
            .chain(cautions(found));
        page.items(Role::Plain, &told.collect::<Vec<_>>());
    }
}

fn titled(found: &CandidateAnswer) -> String {
    match found.plan.strands {
        1 => found.candidate.title.clone(),
        n => format!("{}, {n} strands", found.candidate.title),
    }
}

/// The number of a length per mass in the unit that comes first.
fn grist_number(grist: Grist, style: &Style) -> String {
    let [first, _] = style.ordered(grist.as_metres_per_100_g(), grist.as_yards_per_pound());
    number(first, 0)
}

/// One candidate: skeins and costs are of the asked size, or of each size in order;
/// reasons are the weightiest one and what to do about it; `enough_in_stock` says
/// whether the stash covers every size that was asked about, margin included.
fn candidate(answer: &FindAnswer, found: &CandidateAnswer, style: &Style) -> Value {
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
    });
    without_empty(fields, &["sure"])
}

fn skeins(found: &CandidateAnswer) -> Vec<u32> {
    let skeins = found.skeins.iter();
    skeins.map(|bought| bought.purchase.skeins).collect()
}

fn costs(found: &CandidateAnswer) -> Vec<String> {
    let costs = found
        .skeins
        .iter()
        .filter_map(|bought| bought.cost.as_ref());
    costs.map(ToString::to_string).collect()
}

fn enough(found: &CandidateAnswer) -> Option<bool> {
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
fn reasons_and_conditions(found: &CandidateAnswer, style: &Style) -> Vec<String> {
    let mut reasons = reasons_beside_conditions(&found.judgement, style);
    reasons.truncate(1);
    reasons.extend(conditions_of(found, style));
    let not_known = and_list(not_judged(found).map(criterion_words));
    reasons.extend((!not_known.is_empty()).then(|| format!("Not known: {not_known}.")));
    reasons
}

fn not_judged(found: &CandidateAnswer) -> impl Iterator<Item = Criterion> {
    let missing = found.judgement.not_judged.iter();
    missing.map(Missing::criterion)
}

fn cautions(found: &CandidateAnswer) -> Vec<String> {
    found.judgement.cautions.iter().map(caution_text).collect()
}

/// The stash in one sentence: of one size its own, of several which are covered.
fn covered(answer: &FindAnswer, found: &CandidateAnswer, style: &Style) -> Option<String> {
    let covering = found.cover.iter().filter(|found| found.cover.covers());
    let names: Vec<&str> = covering.map(|found| found.size.as_str()).collect();
    match (found.cover.as_slice(), names.len()) {
        ([], _) => None,
        ([one], _) => Some(cover_sentence(one, style)),
        (all, covered) if covered == all.len() => Some(format!(
            "The stash covers every size, margin included{}.",
            after_others(found)
        )),
        ([first, ..], 0) => {
            let first = cover_sentence(first, style);
            Some(format!("The stash covers no size. {first}"))
        }
        _ => Some(format!(
            "Of {} sizes the stash covers {}, margin included{}.",
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
