//! Lots, listed and each with its ledger.

use super::{ListEntry, filled};
use crate::{
    app::{Ledger, StockLine, StockList},
    report::{Align, ListFields, Page, Render, Style, Table, list_page},
    words::number,
};
use serde::Serialize;

/// Fields of one lot of a list.
#[derive(Debug, Serialize)]
struct LotFields<'l> {
    /// Its number, by which entries name it.
    number: i64,
    /// The yarn.
    yarn: &'l str,
    /// Its shade.
    shade: &'l str,
    /// Its dye lot.
    lot: Option<&'l str>,
    /// Where it is kept.
    place: &'l str,
    /// What is there.
    held: String,
    /// What of it is reserved.
    reserved: String,
    /// Length of what is there, m.
    held_m: Option<f64>,
}

impl<'l> LotFields<'l> {
    fn new(line: &'l StockLine) -> Self {
        Self {
            number: line.number,
            yarn: &line.yarn,
            shade: &line.lot.shade,
            lot: line.lot.lot.as_deref(),
            place: &line.lot.place,
            held: line.balance.held.to_string(),
            reserved: reserved(line).unwrap_or_default(),
            held_m: line.length.map(|length| length.as_metres()),
        }
    }

    fn row(self) -> Vec<String> {
        vec![
            self.number.to_string(),
            self.yarn.to_owned(),
            self.shade.to_owned(),
            self.lot.map_or_else(String::new, str::to_owned),
            self.place.to_owned(),
            self.held,
            self.held_m
                .map_or_else(String::new, |metres| number(metres, 0)),
            self.reserved,
        ]
    }
}

/// What of a lot is reserved, where anything is.
pub(in crate::report) fn reserved(line: &StockLine) -> Option<String> {
    let reserved = line.balance.reserved;
    (!reserved.is_nothing()).then(|| reserved.to_string())
}

impl Render for StockList {
    fn fields(&self) -> impl Serialize {
        ListFields::new(self.lots.iter().map(LotFields::new))
    }

    fn page(&self, _: &Style) -> Page {
        let mut table = Table::new(&[
            ("no", Align::Right),
            ("yarn", Align::Left),
            ("shade", Align::Left),
            ("lot", Align::Left),
            ("place", Align::Left),
            ("held", Align::Left),
            ("m", Align::Right),
            ("reserved", Align::Left),
        ]);
        let lots = self.lots.iter();
        table.rows = lots.map(|line| LotFields::new(line).row()).collect();
        let title = match &self.yarn {
            Some(yarn) => format!("Stock of {yarn}"),
            None => "Stock".to_owned(),
        };
        let empty = "Nothing is in stock: import a table with `import stock FILE`, or enter a purchase with `stock buy`.";
        list_page(title, table, empty)
    }
}

/// A lot of a list.
pub fn lot_entry(line: &StockLine, style: &Style) -> ListEntry {
    let lot = &line.lot;
    let words = [
        Some(format!("{} held", line.balance.held)),
        line.length.map(|length| style.length(length)),
        reserved(line).map(|reserved| format!("{reserved} of it reserved")),
        filled(&lot.place).map(|place| format!("in {place}")),
        filled(&lot.notes),
    ];
    ListEntry {
        number: line.number,
        title: line.title(),
        words: words.into_iter().flatten().collect::<Vec<_>>().join("; "),
    }
}

/// Fields of one line of a ledger.
#[derive(Debug, Serialize)]
struct LedgerFields<'l> {
    /// The day.
    on: &'l str,
    /// What happened.
    kind: &'static str,
    /// How much, as typed.
    amount: &'l str,
    /// What for, or anything else.
    notes: &'l str,
}

impl Render for Ledger {
    fn fields(&self) -> impl Serialize {
        ListFields::new(self.entries.iter().map(|entry| LedgerFields {
            on: &entry.on,
            kind: entry.kind.name(),
            amount: &entry.amount.text,
            notes: &entry.notes,
        }))
    }

    fn page(&self, _: &Style) -> Page {
        let line = &self.line;
        let title = format!(
            "Ledger of lot {}: {}, {}; {} held",
            line.number, line.yarn, line.lot.shade, line.balance.held
        );
        list_page(title, ledger_table(self), "")
    }
}

/// Everything that was entered of a lot.
pub fn ledger_table(ledger: &Ledger) -> Table {
    let mut table = Table::new(&[
        ("day", Align::Left),
        ("what", Align::Left),
        ("how much", Align::Left),
        ("notes", Align::Left),
    ]);
    let entries = ledger.entries.iter();
    table.rows = entries
        .map(|entry| {
            vec![
                entry.on.clone(),
                entry.kind.name().to_owned(),
                entry.amount.text.clone(),
                entry.notes.clone(),
            ]
        })
        .collect();
    table
}
