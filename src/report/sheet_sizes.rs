//! The tables of a materials sheet: a row for each size, a column for each yarn.

use super::{Columns, Page, Style, Table, alternative, per_size::role_name, purchase::counter};
use crate::{
    app::{Alternative, Material, SheetAnswer},
    matching::Verdict,
    measure::Length,
    words::{capitalized, number},
};

/// As many yarns as one table holds on paper.
const COLUMNS: usize = 6;

/// A row for each size: what it needs, and what to buy of the yarn and of each other.
pub(super) fn add_sizes(page: &mut Page, answer: &SheetAnswer, own: &Material, style: &Style) {
    let works = |found: &&Alternative| found.answer.judgement.verdict != Verdict::WillNotWork;
    let others: Vec<&Alternative> = of_material(answer, own).filter(works).collect();
    let parts = others.len().div_ceil(COLUMNS).max(1);
    let each = others.len().div_ceil(parts).max(1);
    let spare = match number(answer.margin.as_percent(), 1).as_str() {
        "0" => String::new(),
        percent => format!(", {percent} % spare counted in"),
    };
    let of = match answer.materials.as_slice() {
        [_] => String::new(),
        _ => format!("{}: ", capitalized(&role_name(&own.key))),
    };
    let head = capitalized(&format!("{of}{}s for each size{spare}", word(answer)));
    let mut parts = others.chunks(each);
    let first = own_columns(answer, own, style);
    let first = with_others(first, parts.next().unwrap_or_default(), style);
    let sizes = || Table::of(&answer.sizes).left("size", |size| size.as_str());
    let rest = parts.map(|more| with_others(sizes(), more, style));
    let tables = std::iter::once(first).chain(rest);
    let tables: Vec<Table> = tables.filter(|table| table.columns.len() > 1).collect();
    if !tables.is_empty() {
        page.section(head);
    }
    tables.into_iter().for_each(|table| page.table(table));
}

fn own_columns<'a>(answer: &'a SheetAnswer, own: &Material, style: &Style) -> Columns<&'a String> {
    let need = |size: &String, amount: fn(Length) -> f64| {
        let mut needs = own.needs.iter();
        let need = needs.find(|(known, _)| known == size);
        need.map(|(_, need)| number(amount(need.buy_for), 0))
    };
    Table::of(&answer.sizes)
        .left("size", |size| size.as_str())
        .pair(style, "needed", ["m", "yd"], |size| {
            [need(size, Length::as_metres), need(size, Length::as_yards)]
        })
        .right(
            &alternative::head(own.called.as_deref(), &own.facts, style),
            |size| alternative::skeins_of(&own.skeins, size),
        )
}

fn with_others(mut columns: Columns<&String>, others: &[&Alternative], style: &Style) -> Table {
    for found in others {
        columns = columns.right(&alternative::head_of(found, style), |size| {
            alternative::skeins_of(&found.answer.skeins, size)
        });
    }
    Table::from(columns).without_empty_columns()
}

/// What one of all yarns of the sheet is called: a ball where all are balls.
pub(super) fn word(answer: &SheetAnswer) -> &'static str {
    let own = answer.materials.iter().map(|own| counter(&own.facts));
    let others = answer.alternatives.iter();
    let others = others.map(|found| counter(&found.answer.candidate.facts));
    let mut words = own.chain(others);
    let first = words.next().unwrap_or("skein");
    if words.all(|word| word == first) {
        first
    } else {
        "skein"
    }
}

/// What could replace one yarn.
pub(super) fn of_material<'a>(
    answer: &'a SheetAnswer,
    own: &'a Material,
) -> impl Iterator<Item = &'a Alternative> {
    let found = answer.alternatives.iter();
    found.filter(|found| found.key == own.key)
}
