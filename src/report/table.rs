//! A table of a page: its columns, and how they are made from what the rows are about.

use super::Style;

/// Which edge the cells of a column keep to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// Words.
    Left,
    /// Numbers.
    Right,
}

/// A table with a head.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Table {
    /// Head and alignment of each column.
    pub columns: Vec<(String, Align)>,
    /// Rows, each as long as `columns`.
    pub rows: Vec<Vec<String>>,
    /// For each row, where its verdict has an answer of its own, the name by which a page
    /// finds the link to it.
    pub in_full: Vec<String>,
}

impl Table {
    /// A table with these columns and no row yet.
    pub fn new(columns: &[(&str, Align)]) -> Self {
        Self {
            columns: columns
                .iter()
                .map(|(head, align)| ((*head).to_owned(), *align))
                .collect(),
            ..Self::default()
        }
    }

    /// A table with a row for each of these things, to which columns are added.
    pub fn of<T: Copy>(things: impl IntoIterator<Item = T>) -> Columns<T> {
        let things: Vec<T> = things.into_iter().collect();
        let rows = things.iter().map(|_| Vec::new()).collect();
        let columns = Vec::new();
        Columns {
            things,
            table: Self {
                columns,
                rows,
                in_full: Vec::new(),
            },
        }
    }

    /// The table without columns in which no row says anything.
    pub fn without_empty_columns(self) -> Self {
        let says = |place: usize| {
            self.rows
                .iter()
                .any(|row| row.get(place).is_some_and(|cell| !cell.is_empty()))
        };
        let kept: Vec<usize> = (0..self.columns.len())
            .filter(|place| says(*place))
            .collect();
        let pick = |row: &Vec<String>| {
            kept.iter()
                .filter_map(|place| row.get(*place).cloned())
                .collect()
        };
        Self {
            columns: kept
                .iter()
                .filter_map(|place| self.columns.get(*place).cloned())
                .collect(),
            rows: self.rows.iter().map(pick).collect(),
            in_full: self.in_full,
        }
    }
}

/// A table in the making: a row for each thing, and the columns so far.
pub struct Columns<T> {
    things: Vec<T>,
    table: Table,
}

impl<T: Copy> Columns<T> {
    /// A column of words.
    pub fn left<C: Cell>(self, head: &str, cell: impl Fn(T) -> C) -> Self {
        self.column(head, Align::Left, cell)
    }

    /// A column of numbers.
    pub fn right<C: Cell>(self, head: &str, cell: impl Fn(T) -> C) -> Self {
        self.column(head, Align::Right, cell)
    }

    /// Two columns of numbers that are one measure in two units: first what is
    /// metric, then the other, which the style puts in order.
    pub fn pair<C: Cell>(
        self,
        style: &Style,
        what: &str,
        [metric, other]: [&str; 2],
        cells: impl Fn(T) -> [C; 2],
    ) -> Self {
        let [first, second] = style.heads(what, metric, other);
        let ordered = |thing: T| {
            let [metric, other] = cells(thing);
            style.ordered(metric, other)
        };
        let left = self.right(&first, |thing| {
            let [cell, _] = ordered(thing);
            cell
        });
        left.right(&second, |thing| {
            let [_, cell] = ordered(thing);
            cell
        })
    }

    /// Names the answer of its own that each row has.
    pub fn in_full(mut self, name: impl Fn(T) -> String) -> Self {
        self.table.in_full = self.things.iter().map(|thing| name(*thing)).collect();
        self
    }

    fn column<C: Cell>(mut self, head: &str, align: Align, cell: impl Fn(T) -> C) -> Self {
        self.table.columns.push((head.to_owned(), align));
        for (row, thing) in self.table.rows.iter_mut().zip(&self.things) {
            row.push(cell(*thing).text());
        }
        self
    }
}

impl<T> From<Columns<T>> for Table {
    fn from(columns: Columns<T>) -> Self {
        columns.table
    }
}

/// What can stand in a cell of a table; what is not known leaves it empty.
pub trait Cell {
    /// The text of the cell.
    fn text(self) -> String;
}

impl Cell for String {
    fn text(self) -> String {
        self
    }
}

impl Cell for &str {
    fn text(self) -> String {
        self.to_owned()
    }
}

impl Cell for u32 {
    fn text(self) -> String {
        self.to_string()
    }
}

impl<C: Cell> Cell for Option<C> {
    fn text(self) -> String {
        self.map_or_else(String::new, Cell::text)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_column_that_says_nothing_is_not_shown() {
        let mut table = Table::new(&[
            ("size", Align::Left),
            ("cost", Align::Right),
            ("skeins", Align::Right),
        ]);
        table.rows.push(["S", "", "7"].map(str::to_owned).to_vec());
        let shown = table.without_empty_columns();
        assert_eq!(shown.columns.len(), 2);
        assert_eq!(shown.rows, [["S", "7"].map(str::to_owned).to_vec()]);
    }
}
