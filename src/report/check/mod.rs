//! One yarn for the yarn roles of a pattern, or a yarn for each.

mod fields;
mod shopping;

use super::{
    Block, DepartureLine, NotJudgedLine, Page, Reason, RemedyLine, Render, Role, SWATCH_LINE,
    Style,
    candidate::{add_needed, counted_in, strands_of, together},
    card::{Part, amounts, candidates, card},
    caution_text,
    cover::ONE_SIZE,
    facts_words::facts_in_style,
    in_hand::{add_sizes_in_hand, in_hand_sentence},
    judgement::{caution_in_short, condition_sentences, criterion_in_full, each_once, reason_rows},
    per_size::role_name,
    purchase::{ESTIMATED, chance_bars, chance_sentence, counter, estimate_sentences},
    what_to_know,
    working::{WORKED_OUT, assumptions, one_for_all, working_sentences},
};
use crate::{
    app::{CandidateAnswer, CheckAnswer, Remark, RoleAnswer},
    matching::{Caution, Severity},
    words::{and_list, count_of, number},
};
use fields::CheckFields;
use shopping::add_shopping;

impl Render for CheckAnswer {
    type Fields = CheckFields;

    fn fields(&self) -> CheckFields {
        CheckFields::of(self, &Style::default())
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled(title(self));
        let parts = parts(self);
        match is_forbidden(self) {
            true => {
                let answer = card(&parts, style).without_amounts();
                page.blocks.push(Block::Answer(answer));
            }
            false => add_comparison(&mut page, self, &parts, style),
        }
        page.items(Role::Caution, &cautions(self, is_beside, caution_in_short));
        let shown: Vec<String> = notes(self, style).into_iter().take(NOTES).collect();
        page.items(Role::Caution, &shown);
        for said in in_place_of_all(self) {
            page.text(Role::Aside, said);
        }
        add_instead(&mut page, self, style);
        page.text(Role::Aside, assumptions(&self.working, style));
        add_details(&mut page, self, style);
        page
    }
}

/// Whether the yarn is dangerous for this: nothing is said that would help to buy it.
fn is_forbidden(answer: &CheckAnswer) -> bool {
    let roles = answer.roles.iter();
    let mut all = roles.flat_map(|role| &role.offered.judgement.cautions);
    all.any(|caution| caution.severity == Severity::Forbids)
}

/// The verdict with what to buy, how the yarn compares, and the chance of running out.
fn add_comparison(page: &mut Page, answer: &CheckAnswer, parts: &[Part<'_>], style: &Style) {
    let mut answered = card(parts, style);
    if let Some(in_hand) = &answer.in_hand {
        // Who says how much is there asks about that, and not about the stash.
        answered.stash = Some(in_hand_sentence(in_hand, style));
    }
    page.blocks.push(Block::Answer(answered));
    for (rows, keys) in shared_rows(answer, style) {
        if keys.len() < answer.roles.len() {
            page.section(format!("Yarn {}", and_list(keys)));
        }
        page.blocks.push(Block::Reasons(rows));
    }
    if let Some(table) = amounts(parts, style) {
        page.section(match answer.shopping.is_empty() {
            true => "What to buy",
            false if parts.iter().any(|part| part.yarn.is_some()) => "How much each yarn needs",
            false => "How much each colour needs",
        });
        page.table(table);
    }
    add_shopping(page, answer, style);
    if let Some(in_hand) = &answer.in_hand {
        add_sizes_in_hand(page, in_hand, style);
    }
    let chances = parts.iter().filter_map(|part| {
        let offered = part.offered;
        let said = chance_sentence(&offered.chances, counter(&offered.candidate.facts))?;
        Some(
            part.yarn
                .map_or(said.clone(), |yarn| format!("{yarn}: {said}")),
        )
    });
    page.items(Role::Plain, &each_once(chances));
    add_chance_of_one_size(page, answer);
}

/// The chance as bars, once for all roles that have the same; of several sizes they
/// are folded.
fn add_chance_of_one_size(page: &mut Page, answer: &CheckAnswer) {
    let mut shown = Vec::new();
    for offered in yarns(answer) {
        if let [_] = offered.chances.as_slice() {
            let word = counter(&offered.candidate.facts);
            let bars = chance_bars(&offered.chances, word);
            if !shown.contains(&bars) {
                page.picture(bars.clone());
                shown.push(bars);
            }
        }
    }
}

/// All that is bought: for each role its yarn, or each of those held together.
fn yarns(answer: &CheckAnswer) -> impl Iterator<Item = &CandidateAnswer> {
    let roles = answer.roles.iter();
    roles.flat_map(|role| role.offered.each_yarn())
}

/// `Umberlin DK for Skerrablet, size M`.
fn title(answer: &CheckAnswer) -> String {
    let sizes = yarns(answer).flat_map(|yarn| &yarn.skeins);
    let size = match each_once(sizes.map(|bought| bought.size.clone())).as_slice() {
        [one] if one != ONE_SIZE => format!(", size {one}"),
        _ => String::new(),
    };
    format!("{} for {}{size}", yarns_asked(answer), answer.pattern)
}

/// The yarn that was asked about, with its strands; of one for each colour all of them.
pub fn yarns_asked(answer: &CheckAnswer) -> String {
    let each = answer.yarns.iter();
    and_list(each.map(|yarn| match yarn.ends.as_slice() {
        [] => strands_of(&yarn.title, answer.strands),
        ends => together(ends),
    }))
}

fn parts(answer: &CheckAnswer) -> Vec<Part<'_>> {
    let roles = answer.roles.iter();
    let parts = roles.flat_map(|role| Part::each(&role.key, &role.offered));
    parts.collect()
}

/// The reasons, once for all roles that have the same, with the keys of those.
fn shared_rows<'a>(answer: &'a CheckAnswer, style: &Style) -> Vec<(Vec<Reason>, Vec<&'a str>)> {
    let mut shared: Vec<(Vec<Reason>, Vec<&str>)> = Vec::new();
    for role in &answer.roles {
        let rows = reason_rows(&role.offered.judgement, style);
        match shared.iter_mut().find(|(known, _)| *known == rows) {
            Some((_, keys)) => keys.push(&role.key),
            None => shared.push((rows, vec![&role.key])),
        }
    }
    shared
}

/// That one yarn would take the place of several that the pattern holds together.
fn in_place_of_all(answer: &CheckAnswer) -> Vec<String> {
    let roles = answer.roles.iter();
    let alone = roles.filter(|role| role.offered.ends.is_empty());
    let said = alone.filter_map(|role| one_for_all(&role.key, &role.strand));
    each_once(said)
}

/// How many notes are shown; the others are folded.
const NOTES: usize = 3;

/// What stands in the way of an answer, then what was noticed in what was typed.
fn notes(answer: &CheckAnswer, style: &Style) -> Vec<String> {
    let remarks = what_to_know(&[], &remarks(answer), style);
    remarks
        .into_iter()
        .chain(style.notes(&answer.notes))
        .collect()
}

/// What the card does not say already.
fn remarks(answer: &CheckAnswer) -> Vec<Remark> {
    let remarks = answer.remarks.iter();
    let is_news = |remark: &&Remark| match remark {
        Remark::NotInStock => false,
        Remark::Of(_, of_yarn) => **of_yarn != Remark::NotInStock,
        _ => true,
    };
    remarks.filter(is_news).cloned().collect()
}

/// What of the stash would work instead, a line each, each yarn once; of yarns for each
/// colour, colour by colour.
fn add_instead(page: &mut Page, answer: &CheckAnswer, style: &Style) {
    const HEAD: &str = "From your stash instead";
    if answer.shopping.is_empty() {
        let found = answer.roles.iter().flat_map(|role| &role.instead);
        return add_instead_of(page, HEAD.to_owned(), found, style);
    }
    for role in &answer.roles {
        let head = format!("{HEAD}, for {}", role_name(&role.key));
        add_instead_of(page, head, &role.instead, style);
    }
}

fn add_instead_of<'a>(
    page: &mut Page,
    head: String,
    found: impl IntoIterator<Item = &'a CandidateAnswer>,
    style: &Style,
) {
    let mut named: Vec<&CandidateAnswer> = Vec::new();
    for found in found {
        if !named
            .iter()
            .any(|known| known.candidate.title == found.candidate.title)
        {
            named.push(found);
        }
    }
    named.truncate(3);
    if !named.is_empty() {
        page.section(head);
        page.table(candidates(&named, style));
    }
}

fn add_details(page: &mut Page, answer: &CheckAnswer, style: &Style) {
    for role in &answer.roles {
        let of = match answer.roles.len() {
            1 => String::new(),
            _ => format!(", yarn {}", role.key),
        };
        page.details(format!("What to do{of}"), to_do(role, style));
        page.details(
            format!("How it compares{of}"),
            compared(answer, role, style),
        );
        page.details(
            format!("How much it needs{of}"),
            needed(answer, role, style),
        );
    }
    let mut working = Page::default();
    working.items(Role::Aside, &working_sentences(&answer.working, style));
    let others = notes(answer, style)
        .into_iter()
        .skip(NOTES)
        .collect::<Vec<_>>();
    working.items(Role::Caution, &others);
    working.items(Role::Caution, &cautions(answer, |_| true, caution_text));
    working.text(Role::Plain, SWATCH_LINE);
    page.details(WORKED_OUT, working);
}

/// Conditions in full, and what would help.
fn to_do(role: &RoleAnswer, style: &Style) -> Page {
    let mut page = Page::default();
    let conditions = conditions(role, style);
    page.items(Role::Plain, &conditions);
    let said = |text: &String| {
        conditions
            .iter()
            .any(|known| known.contains(text.trim_end_matches('.')))
    };
    let remedies = role.remedies.iter();
    let remedies = remedies.map(|found| RemedyLine::new(&role.key, found, style).sentence());
    let others: Vec<String> = remedies.filter(|text| !said(text)).collect();
    page.items(Role::Plain, &others);
    page
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

fn offered(answer: &CheckAnswer, role: &RoleAnswer, style: &Style) -> String {
    let facts = &role.offered.candidate.facts;
    facts_in_style(facts, answer.own_gauge.as_ref(), style)
}

/// The cautions of all roles, each once.
fn cautions(
    answer: &CheckAnswer,
    counts: fn(&Caution) -> bool,
    words: fn(&Caution) -> String,
) -> Vec<String> {
    let roles = answer.roles.iter();
    let all = roles.flat_map(|role| &role.offered.judgement.cautions);
    each_once(all.filter(|caution| counts(caution)).map(words))
}

/// A caution that decides stands in the verdict.
fn is_beside(caution: &Caution) -> bool {
    caution.severity == Severity::Beside
}

/// Every value that was compared, and what it rests on.
fn compared(answer: &CheckAnswer, role: &RoleAnswer, style: &Style) -> Page {
    let mut page = Page::default();
    page.text(Role::Plain, format!("Wanted: {}", wanted(role, style)));
    page.text(
        Role::Plain,
        format!("Offered: {}", offered(answer, role, style)),
    );
    for end in &role.offered.ends {
        let facts = facts_in_style(&end.candidate.facts, None, style);
        page.text(Role::Aside, format!("{}: {facts}", end.candidate.title));
    }
    let judgement = &role.offered.judgement;
    for found in &judgement.departures {
        let line = DepartureLine::new(&role.key, found, style);
        let limit = match line.tolerance.strip_prefix("1 (") {
            Some(of_itself) => format!(" ({of_itself}"),
            None => format!(" of {}", line.tolerance),
        };
        let difference = match number(line.departure, 2).as_str() {
            "0" => "no difference".to_owned(),
            times => format!("{times} times the limit{limit}"),
        };
        let words = format!(
            "{}: {}, wanted {}; {difference}",
            criterion_in_full(found.criterion, style),
            line.offered,
            line.wanted,
        );
        page.text(Role::Plain, words);
        page.items(Role::Aside, &line.notes);
    }
    let missing = judgement.not_judged.iter();
    let missing: Vec<String> = missing
        .map(|found| NotJudgedLine::new(&role.key, found, style))
        .map(|line| format!("Not known: {}; {}", line.why, line.measure))
        .collect();
    page.items(Role::Plain, &missing);
    page
}

/// All that is known of what to buy, and where it lies.
fn needed(answer: &CheckAnswer, role: &RoleAnswer, style: &Style) -> Page {
    let mut page = Page::default();
    let parts = Part::each(&role.key, &role.offered);
    if parts.iter().any(|part| !part.offered.skeins.is_empty()) {
        let strands = role.offered.plan.strands;
        page.text(Role::Plain, counted_in(answer.margin, strands, parts.len()));
    }
    for part in &parts {
        if let Some(yarn) = part.yarn {
            page.text(Role::Plain, format!("{yarn}:"));
        }
        add_needed(&mut page, part.offered, style);
    }
    let word = counter(&role.offered.candidate.facts);
    page.part(
        ESTIMATED,
        Role::Doubtful,
        &estimate_sentences(&role.estimates, word, style),
    );
    page
}
