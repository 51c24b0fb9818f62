//! What to buy where each colour of a pattern has a yarn of its own.

use crate::{
    app::{CheckAnswer, ShoppingLine},
    quantity::total,
    report::{
        Page, Role, Style, Table, chip::with_chip, json::fields_of, judgement::each_once,
        per_size::measures_of_sizes, purchase::counted,
    },
    words::{and_list, safe},
};

fields_of! {
    /// What to buy of one shade for one size; of a shade that several colours share, for
    /// all of them.
    ShoppingFields(line: &ShoppingLine) {
        /// The size.
        size: String = line.size.clone(),
        /// The yarn.
        yarn: String = line.yarn.clone(),
        /// The shade, where one is meant or some of it is in your stash.
        shade: Option<String> = line.shade.clone(),
        /// Keys of the pattern's yarns that it is for.
        r#for: Vec<String> = line.roles.clone(),
        /// Metres of yarn needed, all strands, without spare.
        need_m: f64 = line.need.as_metres(),
        /// Whole skeins for all of it, spare included, with none in your stash.
        skeins: u32 = line.skeins,
        /// Whole skeins to buy beside what your stash has.
        buy_skeins: u32 = line.buy,
        /// Cost of those with its currency, where the price is known.
        cost: Option<String> = line.cost.as_ref().map(ToString::to_string),
    }
}

/// What is to be bought, a row for each shade and size, and what all of it costs.
pub(super) fn add_shopping(page: &mut Page, answer: &CheckAnswer, style: &Style) {
    if answer.shopping.is_empty() {
        return;
    }
    page.section(match answer.is_usable() {
        true => "Shopping list",
        false => "What you would have to buy",
    });
    let lines = answer.shopping.iter().filter(|line| line.buy > 0);
    let lines: Vec<&ShoppingLine> = lines.collect();
    if lines.is_empty() {
        page.text(Role::Plain, "Nothing to buy: your stash has enough.");
        return;
    }
    let sizes = each_once(answer.shopping.iter().map(|line| line.size.clone()));
    let table = Table::of(lines.iter().copied())
        .left("size", |line| {
            (sizes.len() > 1).then_some(line.size.as_str())
        })
        .left("buy", |line| counted(line.buy, line.counter))
        .left("yarn", |line| line.yarn.as_str())
        .left("shade", |line| shade(line, style))
        .left("for", |line| and_list(&line.roles))
        .right("cost", |line| line.cost.as_ref().map(ToString::to_string));
    page.table(table);
    if lines.len() > 1 {
        let sums: Option<Vec<String>> = sizes.iter().map(|size| sum(&lines, size)).collect();
        if let Some(sums) = sums {
            page.text(
                Role::Plain,
                format!("Together: {}.", measures_of_sizes(&sums)),
            );
        }
    }
}

fn shade(line: &ShoppingLine, style: &Style) -> Option<String> {
    let name = line.shade.as_deref()?;
    Some(with_chip(&safe(name), line.colour.as_ref(), style))
}

/// What is bought for one size costs, where all prices are known.
fn sum(lines: &[&ShoppingLine], size: &str) -> Option<String> {
    let of_size = lines.iter().filter(|line| line.size == size);
    total(of_size.map(|line| line.cost.as_ref())).map(|sum| sum.to_string())
}
