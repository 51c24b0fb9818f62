//! One yarn for the yarn roles of a pattern.

use super::{
    Block, DepartureLine, NotJudgedLine, Page, Rail, RemedyLine, Render, Role, SWATCH_LINE, Style,
    caution_text,
    cover::{cover_fields, cover_sentence},
    facts_words::facts_in_style,
    gauge_change::gauge_change_fields,
    json::without_empty,
    judgement::{condition_sentences, news, reasons_beside_conditions, verdict_words},
    purchase::{
        add_chances, add_skeins, chance_fields, estimate_fields, estimate_sentences, skeins_fields,
    },
    reason_sentences, what_to_know, working_sentences,
};
use crate::{
    app::{CheckAnswer, RoleAnswer},
    words::{count_of, number},
};
use serde::Serialize;
use serde_json::{Value, json};

impl Render for CheckAnswer {
    /// Verdict and `overall` are the weakest of all roles; `yarn` in each line is
    /// the key of its role.
    fn fields(&self) -> impl Serialize {
        let style = &Style::default();
        let fields = json!({
            "candidate": self.candidate.title,
            "pattern": self.pattern,
            "verdict": verdict_words(self.verdict()),
            "overall": self.overall(),
            "conditions": all_conditions(self, style),
            "roles": self.roles.iter().map(|role| head(self, role, style)).collect::<Vec<_>>(),
            "departures": lines(self, |role| &role.offered.judgement.departures,
                |key, found| DepartureLine::new(key, found, style)),
            "not_judged": lines(self, |role| &role.offered.judgement.not_judged,
                |key, found| NotJudgedLine::new(key, found, style)),
            "remedies": lines(self, |role| &role.remedies,
                |key, found| RemedyLine::new(key, found, style)),
            "cautions": cautions(self),
            "margin_percent": self.margin.as_percent(),
            "gauge_change": self.gauge_change.as_ref().map(gauge_change_fields),
            "skeins": lines(self, |role| &role.offered.skeins, skeins_fields),
            "sure": lines(self, |role| &role.offered.chances, chance_fields),
            "estimates": lines(self, |role| &role.estimates, estimate_fields),
            "cover": lines(self, |role| &role.offered.cover,
                |key, found| cover_fields(key, found, style)),
            "working": working_sentences(&self.working, style),
            "warnings": what_to_know(&self.notes, &self.remarks, style),
            "swatch": SWATCH_LINE,
        });
        without_empty(fields, &["gauge_change", "sure"])
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled(format!("{} for {}", self.candidate.title, self.pattern));
        for role in &self.roles {
            if self.roles.len() > 1 {
                page.section(format!("Yarn {}", role.key));
            }
            add_verdict(&mut page, self, role, style);
            add_departures(&mut page, role, style);
            add_remedies(&mut page, role, style);
            add_amounts(&mut page, self, role, style);
        }
        page.part("Cautions", Role::Caution, &cautions(self));
        page.working(
            &working_sentences(&self.working, style),
            &what_to_know(&self.notes, &self.remarks, style),
        );
        page.swatch();
        page
    }
}

/// A line for each thing of each role.
fn lines<'a, T: 'a, L>(
    answer: &'a CheckAnswer,
    things: impl Fn(&'a RoleAnswer) -> &'a Vec<T>,
    line: impl Fn(&str, &'a T) -> L,
) -> Vec<L> {
    let roles = answer.roles.iter();
    let each = roles.flat_map(|role| things(role).iter().map(move |thing| (role, thing)));
    each.map(|(role, thing)| line(&role.key, thing)).collect()
}

/// What one role asks and gets; `strands` of the candidate are held together.
fn head(answer: &CheckAnswer, role: &RoleAnswer, style: &Style) -> Value {
    let judgement = &role.offered.judgement;
    json!({
        "yarn": role.key,
        "strands": role.offered.plan.strands,
        "wanted": wanted(role, style),
        "offered": offered(answer, style),
        "verdict": verdict_words(judgement.verdict),
        "overall": judgement.overall,
        "conditions": conditions(role, style),
        "reasons": reason_sentences(judgement, style),
    })
}

/// What has to be met for one role, with the skeins that result.
fn conditions(role: &RoleAnswer, style: &Style) -> Vec<String> {
    let remedies = role.remedies.iter();
    let remedies = remedies.map(|found| RemedyLine::new(&role.key, found, style).sentence());
    condition_sentences(&role.offered, &remedies.collect::<Vec<_>>(), style)
}

/// What has to be met for all roles, each once.
fn all_conditions(answer: &CheckAnswer, style: &Style) -> Vec<String> {
    let roles = answer.roles.iter();
    each_once(roles.flat_map(|role| conditions(role, style)))
}

fn each_once(texts: impl Iterator<Item = String>) -> Vec<String> {
    let mut once = Vec::new();
    for text in texts {
        if !once.contains(&text) {
            once.push(text);
        }
    }
    once
}

/// What the pattern says of its yarn.
fn wanted(role: &RoleAnswer, style: &Style) -> String {
    let wanted = &role.wanted;
    let facts = facts_in_style(&wanted.facts, wanted.gauge.as_ref(), style);
    match wanted.strands {
        1 => facts,
        n => {
            let strands = count_of(f64::from(n), "strand");
            format!("{strands} held together, each of {facts}")
        }
    }
}

fn offered(answer: &CheckAnswer, style: &Style) -> String {
    facts_in_style(&answer.candidate.facts, answer.own_gauge.as_ref(), style)
}

/// The cautions of all roles, each once.
fn cautions(answer: &CheckAnswer) -> Vec<String> {
    let cautions = lines(
        answer,
        |role| &role.offered.judgement.cautions,
        |_, it| caution_text(it),
    );
    each_once(cautions.into_iter())
}

fn add_verdict(page: &mut Page, answer: &CheckAnswer, role: &RoleAnswer, style: &Style) {
    let judgement = &role.offered.judgement;
    let verdict = judgement.verdict;
    page.text(
        news(verdict),
        format!("Verdict: {}", verdict_words(verdict)),
    );
    page.items(news(verdict), &conditions(role, style));
    page.items(Role::Plain, &reasons_beside_conditions(judgement, style));
    page.text(Role::Plain, format!("Wanted: {}", wanted(role, style)));
    page.text(Role::Plain, format!("Offered: {}", offered(answer, style)));
}

fn add_departures(page: &mut Page, role: &RoleAnswer, style: &Style) {
    let judgement = &role.offered.judgement;
    if !judgement.departures.is_empty() {
        page.section("How far it lies from the pattern, in tolerances (0 the same, 1 the edge)");
    }
    for found in &judgement.departures {
        let line = DepartureLine::new(&role.key, found, style);
        page.blocks.push(departure(&line, style));
        page.items(Role::Aside, &line.notes);
    }
    let missing = judgement.not_judged.iter();
    let missing: Vec<String> = missing
        .map(|found| NotJudgedLine::new(&role.key, found, style))
        .map(|line| format!("{}: {}; {}", line.criterion, line.why, line.measure))
        .collect();
    page.part("Could not be judged", Role::Plain, &missing);
}

fn add_remedies(page: &mut Page, role: &RoleAnswer, style: &Style) {
    let remedies = role.remedies.iter();
    let remedies: Vec<String> = remedies
        .map(|found| RemedyLine::new(&role.key, found, style).sentence())
        .collect();
    page.part("What would help", Role::Plain, &remedies);
}

fn add_amounts(page: &mut Page, answer: &CheckAnswer, role: &RoleAnswer, style: &Style) {
    let offered = &role.offered;
    if !offered.skeins.is_empty() {
        let strands = match offered.plan.strands {
            1 => String::new(),
            n => format!(" with {n} strands held together"),
        };
        let margin = number(answer.margin.as_percent(), 1);
        page.section(format!("Skeins{strands}, margin {margin} %"));
        add_skeins(page, &offered.skeins, style);
    }
    add_chances(page, &offered.chances);
    page.part(
        "Skeins, estimated: the need is a mass and no length per mass is known",
        Role::Doubtful,
        &estimate_sentences(&role.estimates, style),
    );
    let cover = offered.cover.iter();
    let cover: Vec<String> = cover.map(|found| cover_sentence(found, style)).collect();
    page.part("From the stash, margin included", Role::Plain, &cover);
}

fn departure(line: &DepartureLine, style: &Style) -> Block {
    let words = format!(
        "{} {}: wanted {}, offered {}, tolerance {}",
        line.criterion,
        number(line.departure, 2),
        line.wanted,
        line.offered,
        line.tolerance
    );
    let numbers = [
        line.wanted_number,
        line.as_thick_as_number.or(line.offered_number),
        line.tolerance_number,
    ];
    match (numbers, line.unit) {
        ([Some(wanted), Some(offered), Some(tolerance)], Some(unit)) => {
            let rail = Rail {
                wanted,
                offered,
                tolerance,
                unit,
            };
            Block::Rail(words, style.rail(rail))
        }
        _ => Block::Text(Role::Plain, words),
    }
}
