//! Lots, listed and each with its ledger.

use super::{ListEntry, filled};
use crate::{
    app::{Ledger, StockLine, StockList},
    record::{Entry, StockAmount, lot_title},
    report::{
        Columns, Page, Render, Role, Style, Table,
        chip::shade_name,
        json::fields_of,
        judgement::each_once,
        listing::{ListFields, list_fields, list_page},
        record_change::held_words,
    },
    words::{and_list, count_of_items, joined, number},
};

/// What of a lot is reserved, where anything is.
pub(in crate::report) fn reserved(line: &StockLine) -> Option<String> {
    let reserved = line.balance.reserved;
    (!reserved.is_nothing()).then(|| counted(reserved, line))
}

/// What is left of a lot: `3 balls`.
pub(in crate::report) fn held(line: &StockLine) -> String {
    counted(line.balance.held, line)
}

/// An amount of a lot, in the word that was used for it.
pub(in crate::report) fn counted(amount: StockAmount, line: &StockLine) -> String {
    amount.counted_in(line.counted_in)
}

/// `Your stash: 46 lots of 38 yarns`, `Stash: Umberlin DK, 950 m in 2 lots`.
fn title(list: &StockList) -> String {
    let lots = count_of_items(list.lots.len(), "lot");
    let yarns = each_once(list.lots.iter().map(|line| line.yarn.clone()));
    match (&list.yarn, list.lots.as_slice()) {
        (Some(yarn), []) => format!("Stash: {yarn}"),
        (Some(yarn), [_]) => format!("Stash: {yarn}"),
        (Some(yarn), _) => format!("Stash: {yarn}, {lots}"),
        (None, []) => "Your stash".to_owned(),
        (None, _) => format!(
            "Your stash: {lots} of {}",
            count_of_items(yarns.len(), "yarn")
        ),
    }
}

/// The same for programs; empty where nothing is.
fn in_skeins(amount: StockAmount) -> String {
    match amount.is_nothing() {
        true => String::new(),
        false => amount.to_string(),
    }
}

/// The same with what for: `2 skeins for a hat`.
pub(in crate::report) fn reserved_words(line: &StockLine) -> Option<String> {
    let reserved = reserved(line)?;
    Some(match line.reserved_for.as_slice() {
        [] => reserved,
        whom => format!("{reserved} for {}", and_list(whom)),
    })
}

fields_of! {
    /// A lot of your stash.
    StockRow(line: &StockLine) where colour = line.lot.colour.as_ref(); {
        /// Number by which entries name it.
        number: i64 = line.number,
        /// The yarn.
        yarn: String = line.yarn.clone(),
        /// The shade.
        shade: String = line.lot.shade.clone(),
        /// Colour of the shade, as typed.
        colour: Option<String> = colour.map(|colour| colour.text.clone()),
        /// The same as `#rrggbb`.
        colour_hex: Option<String> = colour.map(|colour| colour.value.to_string()),
        /// The dye lot, where it is recorded.
        lot: Option<String> = line.lot.lot.clone(),
        /// Where it is.
        place: String = line.lot.place.clone(),
        /// How much is left.
        held: String = line.balance.held.to_string(),
        /// How much of it is reserved.
        reserved: String = in_skeins(line.balance.reserved),
        /// For whom or what.
        reserved_for: Vec<String> = line.reserved_for.clone(),
        /// Metres that are left.
        held_m: Option<f64> = line.length.map(|length| length.as_metres()),
    }
}

impl Render for StockList {
    type Fields = ListFields<StockRow>;

    fn fields(&self) -> Self::Fields {
        list_fields(&self.lots, StockRow::of)
    }

    fn page(&self, style: &Style) -> Page {
        let table = lots_table(&self.lots, style, |line| Some(line.yarn.as_str()));
        let title = title(self);
        let empty = "Your stash is empty: import a table with `import stock FILE`, or add yarn with `stock buy`.";
        let mut page = list_page(title, table, empty);
        let whom = self
            .lots
            .iter()
            .filter(|line| !line.reserved_for.is_empty());
        let whom: Vec<String> = whom
            .filter_map(|line| Some(format!("Lot {}: {}", line.number, reserved_words(line)?)))
            .collect();
        page.part("Reserved", Role::Plain, &whom);
        page
    }
}

/// Lots, those of which nothing is left last; `yarn` tells which yarn one is of.
pub(super) fn lots_table<'t>(
    lots: &'t [StockLine],
    style: &Style,
    yarn: fn(&StockLine) -> Option<&str>,
) -> Columns<&'t StockLine> {
    let is_empty = |line: &&StockLine| line.balance.held.is_nothing();
    let (empty, some): (Vec<_>, Vec<_>) = lots.iter().partition(is_empty);
    let words = each_once(lots.iter().map(|line| line.counted_in.to_owned()));
    let (head, is_one_word) = match words.as_slice() {
        [one] => (format!("{one}s"), true),
        _ => ("left".to_owned(), false),
    };
    let left = |line: &StockLine| match is_one_word {
        true => line.balance.held.numbers(),
        false => held(line),
    };
    Table::of(some.into_iter().chain(empty))
        .right("no", |line| line.number.to_string())
        .left("yarn", |line| yarn(line))
        .left("shade", |line| shade_name(&line.lot, style))
        .left("lot", |line| line.lot.lot.as_deref())
        .left("place", |line| line.lot.place.as_str())
        .left(&head, left)
        .right("m", |line| {
            line.length.map(|length| number(length.as_metres(), 0))
        })
        .left("reserved", reserved)
}

/// The title of a lot, with the chip of its shade, as the title of a page.
pub fn lot_heading(line: &StockLine, style: &Style) -> Page {
    let lot = line.lot.lot.as_deref().unwrap_or_default();
    let shade = shade_name(&line.lot, style);
    Page::titled(lot_title(&line.yarn, &shade, lot))
}

/// A lot of a list.
pub fn lot_entry(line: &StockLine, style: &Style) -> ListEntry {
    let lot = &line.lot;
    let words = [
        Some(format!("You have {}", held(line))),
        line.length.map(|length| style.length(length)),
        reserved(line).map(|reserved| match line.reserved_for.as_slice() {
            [] => format!("{reserved} of it reserved"),
            whom => format!("{reserved} of it reserved for {}", and_list(whom)),
        }),
        filled(&lot.place).map(|place| format!("in {place}")),
        filled(&lot.notes),
    ];
    ListEntry {
        number: line.number,
        title: line.title(),
        words: joined(words.into_iter().flatten(), "; "),
    }
}

fields_of! {
    /// What happened to a lot.
    LedgerRow(entry: &Entry) {
        /// The day.
        on: String = entry.on.clone(),
        /// What happened.
        kind: &'static str = entry.kind.name(),
        /// How much, as typed.
        amount: String = entry.amount.text.clone(),
        /// What for.
        notes: String = entry.notes.clone(),
    }
}

impl Render for Ledger {
    type Fields = ListFields<LedgerRow>;

    fn fields(&self) -> Self::Fields {
        list_fields(&self.entries, LedgerRow::of)
    }

    fn page(&self, style: &Style) -> Page {
        let line = &self.line;
        let shade = shade_name(&line.lot, style);
        let title = format!(
            "Lot {}: {}, {shade}; {} left",
            line.number,
            line.yarn,
            held_words(line)
        );
        list_page(title, ledger_table(self), "")
    }
}

/// Everything that was entered of a lot.
pub fn ledger_table(ledger: &Ledger) -> Table {
    let columns = Table::of(&ledger.entries)
        .left("day", |entry| entry.on.as_str())
        .left("what", |entry| entry.kind.name())
        .left("how much", |entry| entry.amount.text.as_str())
        .left("notes", |entry| entry.notes.as_str());
    columns.into()
}
