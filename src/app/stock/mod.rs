//! Stock: lots, listed and each with its ledger.

mod counting;
mod edit;
mod entries;
mod moving;
mod request;
mod shop;

pub use counting::{
    CountSession, CountedLot, SessionLine, StockCount, add_to_count, begin_count, book_count,
    count_session, count_stock, counts_under_way, drop_count, take_from_count,
};
pub use edit::{colour_to_pick, edit_lot, is_colour, lot_to_edit, save_lot};
use entries::reserved_for;
pub use entries::{buy, enter, enter_of};
pub use moving::{move_lot, rename_shade, rename_shade_of};
pub use request::{BuyRequest, EntryRequest, LotChoice, LotRequest};
pub use shop::{
    LowShade, LowStock, ReservationList, list_reservations, low_stock, release_all, sell,
};

use super::{AppError, FormData, ListPage, Records, YarnFilter, question::candidate::StockLot};
use crate::{
    measure::Length,
    record::{Balance, Entry, Id, Lot, Yarn, counter_in, lot_title},
    store::{LotInStock, LotName, Reader},
    words::fold,
};

/// One lot of a list.
#[derive(Debug, Clone, PartialEq)]
pub struct StockLine {
    /// Its number, by which entries name it.
    pub number: i64,
    /// The yarn.
    pub yarn: String,
    /// The lot.
    pub lot: Lot,
    /// What is left of it.
    pub balance: Balance,
    /// Length of what is there.
    pub length: Option<Length>,
    /// What one is called: the word of what was bought, else of the label, else a skein.
    pub counted_in: &'static str,
    /// What it is reserved for, where that was said.
    pub reserved_for: Vec<String>,
}

impl StockLine {
    pub(super) fn new(
        reader: &Reader<'_>,
        stock: LotInStock,
        yarn: &Yarn,
    ) -> Result<Self, AppError> {
        let reserved_for = match stock.balance.reserved.is_nothing() {
            true => Vec::new(),
            false => reserved_for(reader, stock.lot.id)?,
        };
        let all = StockLot {
            id: stock.lot.id,
            lot: stock.lot.record,
            usable: stock.balance.held,
        };
        Ok(Self {
            number: stock.lot.id.number(),
            yarn: yarn.title(),
            balance: stock.balance,
            length: all.length(&yarn.facts),
            counted_in: counter_in(&stock.opening.amount.text)
                .unwrap_or_else(|| yarn.facts.counter()),
            lot: all.lot,
            reserved_for,
        })
    }

    /// `Vorrelith, Orrin DK, moss, lot A417`.
    pub fn title(&self) -> String {
        self.lot.title(&self.yarn)
    }
}

/// Answer to [`list_stock`].
#[derive(Debug, Clone)]
pub struct StockList {
    /// The yarn, where only one was asked for.
    pub yarn: Option<String>,
    /// Its lots.
    pub lots: Vec<StockLine>,
}

/// Every lot, or those of one yarn.
pub fn list_stock(records: &Records, yarn: Option<&str>) -> Result<StockList, AppError> {
    let chosen = yarn.map(|text| records.yarn_named(text)).transpose()?;
    let reader = records.store()?.reader()?;
    let lots = match &chosen {
        Some(yarn) => reader.lots_of(yarn.id)?,
        None => reader.lots()?,
    };
    let lots = lots.into_iter().map(|stock| line(&reader, stock));
    Ok(StockList {
        lots: lots.collect::<Result<_, AppError>>()?,
        yarn: chosen.map(|yarn| yarn.record.title()),
    })
}

/// What a list of lots is asked for.
#[derive(Debug, Clone, Default)]
pub struct LotQuery {
    /// Words of the yarn, the shade, the lot or the place.
    pub text: String,
    /// What the yarn must be like.
    pub filter: YarnFilter,
    /// Their order.
    pub order: LotOrder,
}

/// The order of a list of lots.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum LotOrder {
    /// By yarn, shade and lot.
    #[default]
    Yarn,
    /// By place.
    Place,
    /// The longest first.
    Length,
}

impl LotQuery {
    /// All that hold these words.
    pub fn text(text: &str) -> Self {
        Self {
            text: text.to_owned(),
            ..Self::default()
        }
    }

    /// That of the fields of a form; the text is in `q`, the order in `sort`.
    pub fn of(typed: &FormData) -> Self {
        Self {
            text: typed.text("q").to_owned(),
            filter: YarnFilter::of(typed),
            order: match typed.text("sort") {
                "place" => LotOrder::Place,
                "length" => LotOrder::Length,
                _ => LotOrder::Yarn,
            },
        }
    }
}

/// At most `count` lots from one on: those whose yarn, shade, lot or place holds all
/// words of the text. Empty lots come last.
pub fn browse_lots(
    records: &Records,
    query: &LotQuery,
    from: usize,
    count: usize,
) -> Result<ListPage<StockLine>, AppError> {
    let reader = records.store()?.reader()?;
    let wanted = fold(&query.text);
    let holds_words = |lot: &LotName| {
        let title = lot_title(&lot.yarn, &lot.shade, &lot.lot);
        let said = fold(&[title.as_str(), &lot.place].join(" "));
        wanted.split(' ').all(|word| said.contains(word))
    };
    let mut names = reader.lot_names()?;
    names.retain(holds_words);
    let lines = names
        .iter()
        .map(|lot| filtered_line(&reader, query, lot))
        .filter_map(Result::transpose);
    // In the order of the names nobody waits for lots behind the page.
    let most = match query.order {
        LotOrder::Yarn => from + count + 1,
        _ => usize::MAX,
    };
    let (mut all, is_whole) = full_before_empty(lines, most)?;
    put_in_order(&mut all, query.order);
    let total = match (is_whole, query.filter.is_empty()) {
        (true, _) => Some(all.len()),
        (false, true) => Some(names.len()),
        (false, false) => None,
    };
    let page = all.into_iter().skip(from).take(count + 1).collect();
    Ok(ListPage::new(page, from, count).of(total))
}

/// The first lots that are not empty, at most so many; where there are fewer, the empty
/// ones behind them, and that these are all.
fn full_before_empty(
    lines: impl Iterator<Item = Result<StockLine, AppError>>,
    most: usize,
) -> Result<(Vec<StockLine>, bool), AppError> {
    let (mut full, mut empty) = (Vec::new(), Vec::new());
    for line in lines {
        let line = line?;
        match line.balance.held.is_nothing() {
            true => empty.push(line),
            false => full.push(line),
        }
        if full.len() >= most {
            return Ok((full, false));
        }
    }
    full.append(&mut empty);
    Ok((full, true))
}

/// A lot whose yarn the filter admits.
fn filtered_line(
    reader: &Reader<'_>,
    query: &LotQuery,
    lot: &LotName,
) -> Result<Option<StockLine>, AppError> {
    let stock = reader.lot(lot.id)?;
    let yarn = reader.yarn(stock.yarn)?.record;
    let admits = query.filter.admits(&yarn);
    admits
        .then(|| StockLine::new(reader, stock, &yarn))
        .transpose()
}

/// A place or a length that is not known comes last; equals keep their order.
fn put_in_order(lines: &mut [StockLine], order: LotOrder) {
    match order {
        LotOrder::Yarn => {}
        LotOrder::Place => {
            lines.sort_by_key(|line| {
                let (is_empty, place) = (line.balance.held.is_nothing(), &line.lot.place);
                (is_empty, place.is_empty(), fold(place))
            });
        }
        LotOrder::Length => {
            let metres = |line: &StockLine| line.length.map_or(-1.0, Length::as_metres);
            lines.sort_by(|a, b| metres(b).total_cmp(&metres(a)));
        }
    }
}

/// A lot and everything that was entered of it.
#[derive(Debug, Clone)]
pub struct Ledger {
    /// The lot.
    pub line: StockLine,
    /// What was entered, in order.
    pub entries: Vec<Entry>,
}

/// The ledger of one lot.
pub fn ledger(records: &Records, lot: i64) -> Result<Ledger, AppError> {
    let reader = records.store()?.reader()?;
    let id = Id::new(lot);
    Ok(Ledger {
        line: line(&reader, reader.lot(id)?)?,
        entries: reader.entries(id)?,
    })
}

pub(super) fn line(reader: &Reader<'_>, stock: LotInStock) -> Result<StockLine, AppError> {
    let yarn = reader.yarn(stock.yarn)?;
    StockLine::new(reader, stock, &yarn.record)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::{TableKind, import_table};

    fn shelf() -> Records {
        let mut records = Records::in_memory().unwrap();
        let yarns = include_str!("../../../sample-stash/yarns.csv");
        import_table(
            &mut records,
            TableKind::Yarns,
            "y",
            yarns.as_bytes(),
            false,
            |_| (),
        )
        .unwrap();
        let stock = include_str!("../../../sample-stash/stock.csv");
        import_table(
            &mut records,
            TableKind::Stock,
            "s",
            stock.as_bytes(),
            false,
            |_| (),
        )
        .unwrap();
        records
    }

    #[test]
    fn lots_are_found_by_any_of_their_words() {
        let records = shelf();
        let all = browse_lots(&records, &LotQuery::text(""), 0, 100).unwrap();
        let first = &all.entries[0];
        let found = browse_lots(&records, &LotQuery::text(&first.title()), 0, 100).unwrap();
        assert!(found.entries.contains(first));
        assert!(
            browse_lots(&records, &LotQuery::text("zzzz"), 0, 9)
                .unwrap()
                .entries
                .is_empty()
        );
    }
}
