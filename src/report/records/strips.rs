//! Records as the rows of a page's list: what is looked for first stands first.

use super::{
    stock::{held, reserved_words},
    yarns::{blend, class_names, remarks},
};
use crate::{
    app::{ListedYarn, PatternChoice, StockLine},
    measure::Length,
    report::{Style, Table, chip::shade_name, sizes_as_patterns_write_them},
    words::number,
};

/// Yarns of a list.
pub fn yarn_rows(yarns: &[ListedYarn], style: &Style) -> Table {
    let facts = |listed: &'_ ListedYarn| listed.yarn.record.facts.clone();
    let [per_mass, _] = style.ordered("metres per 100 g", "yards per 100 g");
    let columns = Table::of(yarns)
        .left("yarn", |listed| listed.yarn.record.title())
        .right(per_mass, |listed| {
            let grist = facts(listed).grist()?;
            let length = Length::metres(grist.as_metres_per_100_g()).ok()?;
            let [per_mass, _] = style.ordered(length.as_metres(), length.as_yards());
            Some(number(per_mass, 0))
        })
        .left("weight", class_names)
        .left("one skein", |listed| {
            let facts = facts(listed);
            style.skein(facts.skein_length(), facts.skein_mass())
        })
        .left("fibre", blend)
        .left("note", |listed| remarks(listed).join(", "));
    columns.into()
}

/// Lots of a list.
pub fn lot_rows(lots: &[StockLine], style: &Style) -> Table {
    let columns = Table::of(lots)
        .left("yarn", |line| line.yarn.as_str())
        .left("shade", |line| shade_name(&line.lot, style))
        .left("lot", |line| line.lot.lot.as_deref())
        .left("you have", held)
        .right("length", |line| {
            line.length.map(|length| style.length(length))
        })
        .left("reserved", reserved_words)
        .left("place", |line| line.lot.place.as_str());
    columns.into()
}

/// Patterns of a list.
pub fn pattern_rows(patterns: &[PatternChoice], _: &Style) -> Table {
    let columns = Table::of(patterns)
        .left("pattern", |pattern| pattern.name.as_str())
        .left("for", |pattern| pattern.purpose)
        .left("sizes", |pattern| {
            sizes_as_patterns_write_them(&pattern.sizes)
        })
        .left("yarns", |pattern| pattern.yarns.join(", "));
    columns.into()
}
