//! The other way round: the patterns that a yarn would work for.

use super::{
    Page, Render, Role, SWATCH_LINE, Style, Table,
    candidate::{cautions, skeins},
    card::{stash_in_short, stash_of_sizes},
    json::{fields_of, list},
    judgement::{
        VERDICTS, cautions_for, conditions_in_short, conditions_of, each_once, news, said_of,
        verdict_in_short, verdict_sentence, verdict_words,
    },
    looked_through::left_out_counts,
    per_size::{counts_from_to, role_name},
    purchase::counter,
    why_left_out,
    working::{add_working, assumptions, left_out_sentence, working_sentences},
};
use crate::{
    app::{CandidateAnswer, LeftOutReason, SizePurchase, SuitedRole, SuitsAnswer},
    matching::Verdict,
    words::{and_list, count_of_items, joined, uncapitalized},
};

/// So many patterns are named in a headline; more are counted.
const NAMED: usize = 6;

fields_of! {
    /// The patterns that a yarn would work for, the best first.
    SuitsFields(answer: &SuitsAnswer, style: &Style) {
        /// The yarn.
        candidate: String = answer.candidate.title.clone(),
        /// A row for each yarn of each pattern.
        patterns: Vec<SuitedFields> = list(&answer.rows, |row| SuitedFields::of(row, style)),
        /// Those that were left out, by reason.
        left_out: Vec<LeftOutPatterns> =
            list(left_out_counts(&answer.working), LeftOutPatterns::of),
        /// How it was worked out.
        working: Vec<String> = working_sentences(&answer.working, style),
        /// What was noticed in what was typed.
        warnings: Vec<String> = style.notes(&answer.notes),
        /// That only a washed swatch proves it.
        swatch: &'static str = SWATCH_LINE,
    }
}

fields_of! {
    /// Yarns of patterns that were left out for one reason.
    LeftOutPatterns(left_out: &(LeftOutReason, u64)) {
        /// Why.
        why: String = why_left_out(&left_out.0),
        /// How many.
        patterns: u64 = left_out.1,
    }
}

fields_of! {
    /// One yarn of a pattern.
    SuitedFields(row: &SuitedRole, style: &Style) where offered = &row.role.offered; {
        /// The pattern.
        pattern: String = row.pattern.clone(),
        /// Key of the pattern's yarn.
        yarn: String = row.role.key.clone(),
        /// `should work`, `could work, if ...`, `cannot say` or `will not work`.
        #[schemars(extend("enum" = VERDICTS))]
        verdict: &'static str = verdict_words(offered.judgement.verdict),
        /// Difference over all criteria, where 1 is the limit.
        overall: Option<f64> = offered.judgement.overall,
        /// What has to be met, in sentences.
        conditions: Vec<String> = conditions_of(offered, style),
        /// What can go wrong.
        cautions: Vec<String> = cautions(offered),
        /// What to buy for each size.
        sizes: Vec<SuitedSize> = SuitedSize::each(offered),
    }
}

fields_of! {
    /// What to buy for one size.
    SuitedSize(found: &CandidateAnswer, bought: &SizePurchase) {
        /// The size.
        size: String = bought.size.clone(),
        /// Whole skeins to buy, spare included.
        skeins: u32 = bought.purchase.skeins,
        /// Whether your stash has enough; `null` for a yarn that is not in your records.
        enough: Option<bool> = found
            .cover
            .iter()
            .find(|cover| cover.size == bought.size)
            .map(|cover| cover.cover.covers())
            .or_else(|| found.candidate.kept.then_some(false)),
    }
}

impl SuitedSize {
    pub(super) fn each(found: &CandidateAnswer) -> Vec<Self> {
        list(&found.skeins, |bought| Self::of(found, bought))
    }
}

impl Render for SuitsAnswer {
    type Fields = SuitsFields;

    fn fields(&self) -> Self::Fields {
        SuitsFields::of(self, &Style::default())
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled(format!("Patterns for {}", self.candidate.title));
        let (role, said) = suits_headline(self, style);
        page.text(role, said);
        if self.rows.is_empty() {
            return page;
        }
        let usable: Vec<&SuitedRole> = of(self, |verdict| verdict <= Verdict::CouldWork);
        page.table(suits_table(&usable));
        page.items(Role::Plain, &conditions(&usable, style));
        let unsure = of(self, |verdict| verdict == Verdict::CannotSay);
        page.items(Role::Plain, &sentences(&unsure, style));
        let refused = of(self, |verdict| verdict == Verdict::WillNotWork);
        let is_said = nothing_as_wished(self);
        if !refused.is_empty() && (is_said || refused.len() < self.rows.len()) {
            let names = names_of(&refused, self);
            let said = format!("It will not work for {}.", listed(&names, "pattern"));
            page.text(Role::Aside, said);
        }
        let left_out = left_out_counts(&self.working);
        if !left_out.is_empty() && !is_said {
            page.text(Role::Aside, left_out_sentence(left_out));
        }
        page.items(Role::Caution, &cautions_of(&usable));
        page.items(Role::Caution, &style.notes(&self.notes));
        page.text(Role::Aside, assumptions(&self.working, style));
        let mut each = Page::default();
        let rows = usable.iter().map(|row| (named(row), &row.role.offered));
        each.table(each_size("pattern", rows));
        page.details("Each size", each);
        if !refused.is_empty() {
            let mut folded = Page::default();
            folded.items(Role::Plain, &sentences(&refused, style));
            page.details("Will not work for", folded);
        }
        add_working(&mut page, &working_sentences(&self.working, style));
        page
    }
}

fn of(answer: &SuitsAnswer, verdict: impl Fn(Verdict) -> bool) -> Vec<&SuitedRole> {
    let rows = answer.rows.iter();
    rows.filter(|row| verdict(row.role.offered.judgement.verdict))
        .collect()
}

/// `Skerrablet`, `Jotterhelm (colour MC)`.
pub(super) fn titled(pattern: &str, key: &str, is_only: bool) -> String {
    match is_only {
        true => pattern.to_owned(),
        false => format!("{pattern} ({})", role_name(key)),
    }
}

fn named(row: &SuitedRole) -> String {
    titled(&row.pattern, &row.role.key, row.is_only)
}

/// The patterns of rows, each once; with the colour where the yarn works for another.
fn names_of(rows: &[&SuitedRole], answer: &SuitsAnswer) -> Vec<String> {
    let names = rows.iter().map(|row| {
        let of_pattern = answer.rows.iter().filter(|it| it.pattern == row.pattern);
        let others = rows.iter().filter(|it| it.pattern == row.pattern);
        match of_pattern.count() == others.count() {
            true => row.pattern.clone(),
            false => named(row),
        }
    });
    each_once(names)
}

/// Names, or how many of them there are.
pub(super) fn listed(names: &[String], what: &str) -> String {
    match names.len() > NAMED {
        true => count_of_items(names.len(), what),
        false => and_list(names),
    }
}

/// What can go wrong with each that should or could work.
fn cautions_of(usable: &[&SuitedRole]) -> Vec<String> {
    let rows = usable.iter();
    cautions_for(rows.map(|row| (named(row), &row.role.offered.judgement)))
}

/// Whether all that should or could work was left out.
fn nothing_as_wished(answer: &SuitsAnswer) -> bool {
    let usable = of(answer, |verdict| verdict <= Verdict::CouldWork);
    usable.is_empty() && !left_out_counts(&answer.working).is_empty()
}

/// `It should work for Skerrablet and could work for Hobplate.`
fn suits_headline(answer: &SuitsAnswer, style: &Style) -> (Role, String) {
    if answer.patterns == 0 {
        let add = style.either(
            "with `pattern add`, or import one with `import pattern FILE`",
            "under Patterns",
        );
        return (
            Role::Plain,
            format!("You have no patterns yet: add one {add}."),
        );
    }
    let left_out = left_out_counts(&answer.working);
    if nothing_as_wished(answer) {
        let said = left_out_sentence(left_out);
        return (Role::Bad, format!("Nothing is as you wish. {said}"));
    }
    let said = [
        (Verdict::ShouldWork, "should work for"),
        (Verdict::CouldWork, "could work for"),
    ]
    .into_iter()
    .filter_map(|(verdict, words)| {
        let rows = of(answer, |found| found == verdict);
        let names: Vec<String> = rows.into_iter().map(named).collect();
        let listed = listed(&names, "pattern");
        (!names.is_empty()).then(|| format!("{words} {listed}"))
    });
    let said = joined(said, " and ");
    let best = answer.rows.first();
    let best = best.map_or(Verdict::WillNotWork, |row| {
        row.role.offered.judgement.verdict
    });
    let patterns = match answer.patterns {
        1 => "your only pattern".to_owned(),
        n => format!("any of your {n} patterns"),
    };
    let said = match best {
        Verdict::ShouldWork | Verdict::CouldWork => format!("It {said}."),
        Verdict::CannotSay => format!("It is not known to work for {patterns}."),
        Verdict::WillNotWork => format!("It will not work for {patterns}."),
    };
    (news(best), said)
}

fn suits_table(rows: &[&SuitedRole]) -> Table {
    let word = rows.first();
    let word = word.map_or("skein", |row| counter(&row.role.offered.candidate.facts));
    let columns = Table::of(rows.iter().copied())
        .left("pattern", |row| row.pattern.as_str())
        .left("for", |row| {
            (!row.is_only).then(|| role_name(&row.role.key))
        })
        .left("verdict", |row| {
            verdict_in_short(row.role.offered.judgement.verdict)
        })
        .right(&format!("{word}s"), |row| {
            counts_from_to(&skeins(&row.role.offered))
        })
        .left("stash", |row| {
            let offered = &row.role.offered;
            let said = stash_of_sizes(offered)?;
            Some(match offered.skeins.as_slice() {
                [_] => said,
                _ => format!("enough for {said}"),
            })
        });
    columns.into()
}

/// What each size takes of each named yarn or pattern, a row each.
pub(super) fn each_size<'a>(
    head: &str,
    rows: impl Iterator<Item = (String, &'a CandidateAnswer)>,
) -> Table {
    let sizes: Vec<_> = rows
        .flat_map(|(name, found)| {
            let bought = found.skeins.iter();
            bought.map(move |bought| (name.clone(), found, bought))
        })
        .collect();
    let columns = Table::of(&sizes)
        .left(head, |(name, ..)| name.as_str())
        .left("size", |(.., bought)| bought.size.as_str())
        .right("skeins", |(.., bought)| bought.purchase.skeins)
        .right("cost", |(.., bought)| {
            bought.cost.as_ref().map(ToString::to_string)
        })
        .left("stash", |(_, found, bought)| {
            stash_in_short(found, &bought.size)
        });
    columns.into()
}

/// `could work if you rework the stitch counts`
pub(super) fn could_work(found: &CandidateAnswer, style: &Style) -> String {
    format!("could work if {}", conditions_in_short(found, style))
}

/// What has to be met, where it could work.
fn conditions(rows: &[&SuitedRole], style: &Style) -> Vec<String> {
    let could = rows.iter();
    let could = could.filter(|row| row.role.offered.judgement.verdict == Verdict::CouldWork);
    said_of(could.map(|row| (named(row), could_work(&row.role.offered, style))))
}

/// Each verdict with its reason, once for all rows that have the same.
fn sentences(rows: &[&SuitedRole], style: &Style) -> Vec<String> {
    let verdict = |row: &SuitedRole| uncapitalized(&verdict_sentence(&row.role.offered, style));
    said_of(rows.iter().map(|row| (named(row), verdict(row))))
}
