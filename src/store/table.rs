//! Statements made from a table's list of columns, which stands once.

use super::facts::BLEND;

/// A table whose key is `id`.
pub(super) struct Table {
    /// Its name.
    pub(super) name: &'static str,
    /// What is written, in the order of the cells.
    pub(super) columns: &'static [&'static str],
}

impl Table {
    /// A new row of these cells.
    pub(super) fn insert(&self) -> String {
        let cells: Vec<&str> = self.columns.iter().map(|column| cell(column)).collect();
        let (name, columns, cells) = (self.name, self.columns.join(", "), cells.join(", "));
        format!("INSERT INTO {name} ({columns}) VALUES ({cells})")
    }

    /// These cells into the row whose id comes after them.
    pub(super) fn update(&self) -> String {
        let set = self.columns.iter();
        let set: Vec<String> = set
            .map(|column| format!("{column} = {}", cell(column)))
            .collect();
        format!("UPDATE {} SET {} WHERE id = ?", self.name, set.join(", "))
    }

    /// As [`Table::update`], where the row still has the version that comes last.
    pub(super) fn update_version(&self) -> String {
        let plain = self.update();
        plain.replacen(" SET ", " SET version = version + 1, ", 1) + " AND version = ?"
    }

    /// The columns, each with the table's name.
    pub(super) fn columns(&self) -> String {
        let named = self
            .columns
            .iter()
            .map(|column| format!("{}.{column}", self.name));
        named.collect::<Vec<_>>().join(", ")
    }
}

/// A cell to be bound; a blend is looked up by its parts.
fn cell(column: &str) -> &'static str {
    match column {
        BLEND => "(SELECT id FROM blend WHERE parts = ?)",
        _ => "?",
    }
}
