//! What a table of records looks like: two lines as an example, then every column.

use crate::{
    app::{
        Column, PROJECT_COLUMNS, RESERVATION_COLUMNS, STOCK_COLUMNS, SWATCH_COLUMNS, YARN_COLUMNS,
    },
    report::{Page, Role, Style, Table},
};

/// What a table holds, its columns, and those that an example shows.
type Kind = (&'static str, &'static [Column], &'static [&'static str]);

const KINDS: [Kind; 5] = [
    (
        "A table of yarns",
        YARN_COLUMNS,
        &["maker", "name", "length", "mass", "fibre", "gauge"],
    ),
    (
        "A table of your stash",
        STOCK_COLUMNS,
        &["maker", "name", "shade", "lot", "amount", "place"],
    ),
    (
        "A table of swatches",
        SWATCH_COLUMNS,
        &["maker", "name", "needle", "after"],
    ),
    (
        "A table of your projects",
        PROJECT_COLUMNS,
        &["name", "pattern", "size", "without"],
    ),
    (
        "A table of what is reserved",
        RESERVATION_COLUMNS,
        &["maker", "name", "shade", "lot", "place", "amount", "for"],
    ),
];

/// What each kind of table looks like.
pub fn table_columns(_: &Style) -> Page {
    let mut page = Page::default();
    for (head, columns, shown) in KINDS {
        page.section(head);
        page.text(Role::Plain, needed_words(columns));
        for line in example(columns, shown) {
            page.text(Role::Aside, format!("`{line}`"));
        }
        let mut all = Page::default();
        all.table(
            Table::of(columns)
                .left("column", |column| column.name)
                .left("what it holds", |column| column.holds.replace('`', ""))
                .left("as in", |column| column.example),
        );
        page.details("All columns", all);
    }
    page
}

/// `Needed: maker, name, amount. Other columns may be left out.`
fn needed_words(columns: &[Column]) -> String {
    let needed = columns.iter().filter(|column| column.is_needed());
    let needed: Vec<&str> = needed.map(|column| column.name).collect();
    format!(
        "Needed: {}. The others may be left out; the columns may be in any order.",
        needed.join(", ")
    )
}

/// The line of the columns, and a row.
fn example(columns: &[Column], shown: &[&str]) -> [String; 2] {
    let shown = shown.iter();
    let shown = shown.filter_map(|name| columns.iter().find(|column| column.name == *name));
    let shown: Vec<&Column> = shown.collect();
    let line = |cell: fn(&Column) -> &str| {
        let cells: Vec<&str> = shown.iter().map(|column| cell(column)).collect();
        cells.join(",")
    };
    [line(|column| column.name), line(|column| column.example)]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_example_shows_every_needed_column_and_none_that_is_unknown() {
        for (head, columns, shown) in KINDS {
            for line in example(columns, shown) {
                assert_eq!(line.split(',').count(), shown.len(), "{head}: {line}");
            }
            for column in columns.iter().filter(|column| column.is_needed()) {
                assert!(shown.contains(&column.name), "{head}: {}", column.name);
            }
        }
    }
}
