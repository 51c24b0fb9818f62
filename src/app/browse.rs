//! Lists a page at a time, each entry with its number.

use super::{AppError, Records, question::candidate::LotHeld};
use crate::{
    record::{Id, Stored, Yarn},
    report::{facts_words, metres_and_yards},
    store::{Found, LotInStock, LotName, Reader},
    words::fold,
};

/// One kept thing of a list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// Its number.
    pub number: i64,
    /// What people call it.
    pub title: String,
    /// What is known of it, in words.
    pub words: String,
}

/// One page of a list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Browsed {
    /// The entries.
    pub entries: Vec<Entry>,
    /// How many come before them.
    pub from: usize,
    /// Whether more follow.
    pub more: bool,
}

impl Browsed {
    fn of(mut entries: Vec<Entry>, from: usize, count: usize) -> Self {
        let more = entries.len() > count;
        entries.truncate(count);
        Self {
            entries,
            from,
            more,
        }
    }
}

/// Yarns by maker and name; with a text those that it may mean, best first.
pub fn browse_yarns(
    records: &Records,
    text: &str,
    from: usize,
    count: usize,
) -> Result<Browsed, AppError> {
    let reader = records.store()?.reader()?;
    let entries = match text.trim() {
        "" => {
            let yarns = reader.yarns_from(from, count + 1)?;
            yarns.iter().map(|yarn| yarn_entry(yarn, false)).collect()
        }
        text => {
            let hits = reader.search_yarns(text, from + count + 1)?.into_iter();
            hits.skip(from)
                .map(|hit| yarn_entry(&hit.yarn, hit.found == Found::ByLikeness))
                .collect()
        }
    };
    Ok(Browsed::of(entries, from, count))
}

fn yarn_entry(yarn: &Stored<Yarn>, by_likeness: bool) -> Entry {
    let remarks = [
        (yarn.record.discontinued, "; no longer made"),
        (by_likeness, "; only like what was typed"),
    ];
    let remarks = remarks.iter().filter(|(holds, _)| *holds);
    Entry {
        number: yarn.id.number(),
        title: yarn.record.title(),
        words: facts_words(&yarn.record.facts, None)
            + &remarks.map(|(_, remark)| *remark).collect::<String>(),
    }
}

/// At most `count` titles of yarns that `text`, which is still being typed, may mean,
/// best first.
pub fn suggest_yarns(records: &Records, text: &str, count: usize) -> Result<Vec<String>, AppError> {
    let hits = records.store()?.reader()?.suggest_yarns(text, count)?;
    Ok(hits
        .into_iter()
        .map(|hit| hit.yarn.record.title())
        .collect())
}

/// Lots; with a text those whose yarn, shade, lot or place holds all its words.
pub fn browse_lots(
    records: &Records,
    text: &str,
    from: usize,
    count: usize,
) -> Result<Browsed, AppError> {
    let reader = records.store()?.reader()?;
    let wanted = fold(text);
    let held = |lot: &LotName| {
        let title = lot_title(&lot.yarn, &lot.shade, &lot.lot);
        let said = fold(&format!("{title} {}", lot.place));
        wanted.split(' ').all(|word| said.contains(word))
    };
    let lots = reader.lot_names()?.into_iter();
    let page = lots.filter(held).skip(from).take(count + 1);
    let entries = page
        .map(|lot| entry_in(&reader, lot.id.number()))
        .collect::<Result<Vec<Entry>, AppError>>()?;
    Ok(Browsed::of(entries, from, count))
}

/// `Vorrelith, Orrin DK, moss, lot A417`.
fn lot_title(yarn: &str, shade: &str, lot: &str) -> String {
    let named = [Some(yarn.to_owned()), said("", shade), said("lot ", lot)];
    named.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// One lot as an entry.
pub(super) fn lot_entry(stock: &LotInStock, yarn: &Yarn) -> Entry {
    let lot = &stock.lot.record;
    let dye_lot = lot.lot.as_deref().unwrap_or_default();
    let title = lot_title(&yarn.title(), &lot.shade, dye_lot);
    let all = LotHeld {
        lot: lot.clone(),
        usable: stock.balance.held,
    };
    let length = all.length(&yarn.facts).map(metres_and_yards);
    let reserved = stock.balance.reserved;
    let words = [
        Some(format!("{} held", stock.balance.held)),
        length,
        (!reserved.is_nothing()).then(|| format!("{reserved} of it reserved")),
        said("in ", &lot.place),
        said("", &lot.notes),
    ];
    Entry {
        number: stock.lot.id.number(),
        title,
        words: words.into_iter().flatten().collect::<Vec<_>>().join("; "),
    }
}

fn said(before: &str, text: &str) -> Option<String> {
    (!text.is_empty()).then(|| format!("{before}{text}"))
}

/// One lot.
pub fn lot_entry_of(records: &Records, number: i64) -> Result<Entry, AppError> {
    let reader = records.store()?.reader()?;
    entry_in(&reader, number)
}

fn entry_in(reader: &Reader<'_>, number: i64) -> Result<Entry, AppError> {
    let lot = reader.lot(Id::new(number))?;
    Ok(lot_entry(&lot, &reader.yarn(lot.yarn)?.record))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::{import_stock, import_yarns};

    fn shelf() -> Records {
        let mut records = Records::in_memory().unwrap();
        let yarns = include_str!("../../sample-stash/yarns.csv");
        import_yarns(&mut records, "y", yarns.as_bytes(), false, |_| ()).unwrap();
        let stock = include_str!("../../sample-stash/stock.csv");
        import_stock(&mut records, "s", stock.as_bytes(), false, |_| ()).unwrap();
        records
    }

    #[test]
    fn the_pages_of_a_list_hold_every_entry_once() {
        let records = shelf();
        let mut numbers = Vec::new();
        loop {
            let page = browse_yarns(&records, "", numbers.len(), 25).unwrap();
            numbers.extend(page.entries.iter().map(|entry| entry.number));
            if !page.more {
                break;
            }
        }
        let seen: std::collections::BTreeSet<i64> = numbers.iter().copied().collect();
        assert_eq!((numbers.len(), seen.len()), (61, 61));
    }

    #[test]
    fn a_misspelt_name_is_suggested_and_marked_in_the_list() {
        let records = shelf();
        assert!(
            suggest_yarns(&records, "Umberlin", 5)
                .unwrap()
                .iter()
                .any(|t| t.contains("Umberlin"))
        );
        let found = browse_yarns(&records, "Umbrelin", 0, 5).unwrap();
        assert!(found.entries[0].title.contains("Umberlin"));
        assert!(found.entries[0].words.ends_with("only like what was typed"));
    }

    #[test]
    fn lots_are_found_by_any_of_their_words() {
        let records = shelf();
        let all = browse_lots(&records, "", 0, 100).unwrap();
        let first = &all.entries[0];
        let found = browse_lots(&records, &first.title, 0, 100).unwrap();
        assert!(found.entries.contains(first));
        assert!(
            browse_lots(&records, "zzzz", 0, 9)
                .unwrap()
                .entries
                .is_empty()
        );
    }
}
