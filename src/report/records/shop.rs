//! What the shop floor asks: reservations, what runs low, and a count of the shelves.

use super::{counted, held};
use crate::{
    app::{
        CountedLot, KeptCount, LowShade, LowStock, Reservation, ReservationList, SessionLine,
        StockCount, StockLine,
    },
    report::{
        Page, Render, Role, Style, Table,
        json::{fields_of, list},
        listing::{ListFields, list_fields, list_page},
        record_change::MADE_BEFORE,
    },
    words::{count_of, count_of_items, number, safe},
};

fields_of! {
    /// What is reserved of a lot.
    ReservationRow(it: &Reservation) {
        /// For whom or what.
        r#for: String = it.what_for.clone(),
        /// Number of the lot.
        number: i64 = it.lot,
        /// The lot.
        lot: String = it.title.clone(),
        /// How much.
        reserved: String = it.amount.to_string(),
    }
}

impl Render for ReservationList {
    type Fields = ListFields<ReservationRow>;

    fn fields(&self) -> Self::Fields {
        list_fields(&self.reservations, ReservationRow::of)
    }

    fn page(&self, _: &Style) -> Page {
        let table = Table::of(&self.reservations)
            .left("for", |it| match it.what_for.as_str() {
                "" => "not said",
                what_for => what_for,
            })
            .left("reserved", |it| it.amount.to_string())
            .left("lot", |it| it.title.as_str())
            .right("no", |it| it.lot.to_string());
        let title = match &self.what_for {
            Some(what_for) => format!("Reserved for {}", safe(what_for)),
            None => "Reserved, by whom or what it is for".to_owned(),
        };
        list_page(title, table, "Nothing is reserved.")
    }
}

/// What is reserved for one, as a table.
pub fn reservation_table(all: &[Reservation]) -> Table {
    let columns = Table::of(all)
        .left("lot", |it| it.title.as_str())
        .right("reserved", |it| it.amount.to_string());
    columns.into()
}

fields_of! {
    /// A shade that runs low.
    LowRow(it: &LowShade) {
        /// The yarn.
        yarn: String = it.yarn.clone(),
        /// The shade.
        shade: String = it.shade.clone(),
        /// Skeins that are free.
        free_skeins: f64 = it.free,
        /// It runs low below so many.
        low_below: f64 = it.below,
        /// In how many lots.
        lots: usize = it.lots,
    }
}

impl Render for LowStock {
    type Fields = ListFields<LowRow>;

    fn fields(&self) -> Self::Fields {
        list_fields(&self.shades, LowRow::of)
    }

    fn page(&self, _: &Style) -> Page {
        let table = Table::of(&self.shades)
            .left("yarn", |it| it.yarn.as_str())
            .left("shade", |it| it.shade.as_str())
            .right("skeins free", |it| number(it.free, 1))
            .right("low below", |it| {
                (it.below != self.below).then(|| number(it.below, 0))
            });
        let below = count_of(self.below, "skein");
        let or = match self.is_by_yarn {
            true => ", or fewer than the yarn's own limit",
            false => "",
        };
        let title = format!("Running low: fewer than {below} free{or}");
        let none = "No shade in your stash runs low.".to_owned();
        list_page(title, table, &none)
    }
}

fields_of! {
    /// A count of the shelves.
    CountFields(count: &StockCount) {
        /// Whether the differences are recorded.
        booked: bool = count.is_booked,
        /// What was counted.
        rows: Vec<CountedRow> = list(&count.counted, CountedRow::of),
        /// What is in your records and was not counted.
        not_counted: Vec<MissedRow> = list(&count.missed, MissedRow::of),
        /// That the same was recorded before.
        warnings: Vec<&'static str> =
            count.made_before.then_some(MADE_BEFORE).into_iter().collect(),
    }
}

fields_of! {
    /// A lot that was counted.
    CountedRow(it: &CountedLot) {
        /// Its number.
        number: i64 = it.line.number,
        /// The lot.
        lot: String = it.line.title(),
        /// How much your records say.
        recorded: String = it.line.balance.held.to_string(),
        /// How much was counted.
        counted: String = it.counted.to_string(),
        /// Whether these differ.
        differs: bool = it.differs(),
    }
}

fields_of! {
    /// A lot that was not counted.
    MissedRow(line: &StockLine) {
        /// Its number.
        number: i64 = line.number,
        /// The lot.
        lot: String = line.title(),
        /// How much your records say.
        recorded: String = line.balance.held.to_string(),
    }
}

impl Render for StockCount {
    type Fields = CountFields;

    fn fields(&self) -> Self::Fields {
        CountFields::of(self)
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled(count_title(self));
        page.blocks.extend(count_rest(self, style).blocks);
        page
    }
}

/// `12 lots counted: 3 differences`.
pub fn count_title(count: &StockCount) -> String {
    let lots = count_of_items(count.counted.len(), "lot");
    let differing = count.differences().count();
    let differences = count_of_items(differing, "difference");
    match (differing, count.is_booked) {
        _ if count.made_before => format!("{lots} counted: {MADE_BEFORE}"),
        (0, _) => format!("{lots} counted: all as recorded"),
        (_, false) => format!("{lots} counted: {differences}"),
        (_, true) => format!("{lots} counted: {differences} recorded"),
    }
}

/// The differences, and what was not counted.
pub fn count_rest(count: &StockCount, style: &Style) -> Page {
    let table = Table::of(count.differences())
        .right("no", |it| it.line.number.to_string())
        .left("lot", |it| it.line.title())
        .left("recorded", |it| held(&it.line))
        .left("counted", |it| counted(it.counted, &it.line));
    let mut page = Page::default();
    page.table(table);
    let is_open = !count.is_booked && !count.made_before;
    if is_open && count.differences().next().is_some() {
        let how = style.either(
            "--book records what you counted",
            "press the button below to record what you counted",
        );
        page.text(Role::Plain, format!("Nothing is recorded yet: {how}."));
    }
    let missed = count.missed.iter();
    let missed =
        missed.map(|line| format!("Lot {}: {}, {}", line.number, line.title(), held(line)));
    let missed: Vec<String> = missed.collect();
    if !missed.is_empty() {
        let lots = count_of_items(missed.len(), "other lot");
        page.text(
            Role::Plain,
            format!("{lots} not counted, left as recorded."),
        );
    }
    let mut each = Page::default();
    each.items(Role::Plain, &missed);
    page.details("Not counted, left as recorded", each);
    page
}

/// `Count of window, begun on 2026-03-01`.
pub fn count_words(count: &KeptCount) -> String {
    let place = match count.place.as_str() {
        "" => "all places".to_owned(),
        place => safe(place),
    };
    format!("Count of {place}, begun on {}", count.begun_on)
}

/// `2 balls of Ferrivale, Umberlin DK, slate, lot 4711`.
pub fn session_line_words(line: &SessionLine) -> String {
    format!(
        "{} of {}",
        counted(line.counted, &line.line),
        line.line.title()
    )
}
