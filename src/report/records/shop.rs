//! What the shop floor asks: reservations, what runs low, and a count of the shelves.

use super::{counted, held};
use crate::{
    app::{CountedLot, LowStock, ReservationList, StockCount, StockLine},
    report::{
        Page, Render, Role, Style, Table,
        json::list,
        listing::{list_fields, list_page},
    },
    words::{count_of_items, number, safe},
};
use serde::Serialize;
use serde_json::json;

impl Render for ReservationList {
    fn fields(&self) -> impl Serialize {
        list_fields(&self.reservations, |it| {
            json!({
                "for": it.what_for,
                "number": it.lot,
                "lot": it.title,
                "reserved": it.amount.to_string(),
            })
        })
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

impl Render for LowStock {
    fn fields(&self) -> impl Serialize {
        list_fields(&self.shades, |it| {
            json!({
                "yarn": it.yarn,
                "shade": it.shade,
                "free_skeins": it.free,
                "lots": it.lots,
            })
        })
    }

    fn page(&self, _: &Style) -> Page {
        let table = Table::of(&self.shades)
            .left("yarn", |it| it.yarn.as_str())
            .left("shade", |it| it.shade.as_str())
            .right("balls free", |it| number(it.free, 1));
        let below = number(self.below, 0);
        let title = format!("Running low: fewer than {below} balls free");
        let none = format!("Of every shade in your stash {below} balls or more are free.");
        list_page(title, table, &none)
    }
}

fn difference(it: &CountedLot) -> serde_json::Value {
    json!({
        "number": it.line.number,
        "lot": it.line.title(),
        "recorded": it.line.balance.held.to_string(),
        "counted": it.counted.to_string(),
        "differs": it.differs(),
    })
}

impl Render for StockCount {
    fn fields(&self) -> impl Serialize {
        let missed = |line: &StockLine| {
            json!({
                "number": line.number,
                "lot": line.title(),
                "recorded": line.balance.held.to_string(),
            })
        };
        json!({
            "booked": self.is_booked,
            "rows": list(&self.counted, difference),
            "not_counted": list(&self.missed, missed),
            "warnings": [],
        })
    }

    fn page(&self, _: &Style) -> Page {
        let table = Table::of(self.differences())
            .right("no", |it| it.line.number.to_string())
            .left("lot", |it| it.line.title())
            .left("recorded", |it| held(&it.line))
            .left("counted", |it| counted(it.counted, &it.line));
        let lots = count_of_items(self.counted.len(), "lot");
        let differing = self.differences().count();
        let title = match (differing, self.is_booked) {
            (0, _) => format!("{lots} counted: all as recorded"),
            (count, false) => format!("{lots} counted: {}", count_of_items(count, "difference")),
            (count, true) => {
                let differences = count_of_items(count, "difference");
                format!("{lots} counted: {differences} recorded")
            }
        };
        let mut page = Page::titled(title);
        page.table(table);
        if differing > 0 && !self.is_booked {
            page.text(
                Role::Plain,
                "Nothing is recorded yet: --book records what you counted.",
            );
        }
        let missed = self.missed.iter();
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
}
