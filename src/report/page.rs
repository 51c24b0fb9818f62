//! A page as blocks, whatever it is later written as.

use super::Rail;

/// What a piece of text is, so that each writer can show it in its own way.
/// Never the only carrier of meaning: the words say it too.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// Running text.
    Plain,
    /// Good news.
    Good,
    /// A condition to meet.
    Doubtful,
    /// Bad news.
    Bad,
    /// A caution.
    Caution,
    /// Working, sources, asides.
    Aside,
}

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
}

impl Table {
    /// A table with these columns and no row yet.
    pub fn new(columns: &[(&str, Align)]) -> Self {
        Self {
            columns: columns
                .iter()
                .map(|(head, align)| ((*head).to_owned(), *align))
                .collect(),
            rows: Vec::new(),
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
        }
    }
}

/// One block of a page.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// The title of the page.
    Title(String),
    /// The head of a part.
    Section(String),
    /// A paragraph.
    Text(Role, String),
    /// Points, one below the other.
    Items(Role, Vec<String>),
    /// A table.
    Table(Table),
    /// Rails, with the words that stand above each.
    Rail(String, Rail),
}

/// Blocks in reading order.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Page {
    /// The blocks.
    pub blocks: Vec<Block>,
}

impl Page {
    /// A page with a title.
    pub fn titled(title: impl Into<String>) -> Self {
        Self {
            blocks: vec![Block::Title(title.into())],
        }
    }

    /// Begins a part.
    pub fn section(&mut self, head: impl Into<String>) {
        self.blocks.push(Block::Section(head.into()));
    }

    /// Adds a paragraph.
    pub fn text(&mut self, role: Role, text: impl Into<String>) {
        self.blocks.push(Block::Text(role, text.into()));
    }

    /// Adds points; nothing for none.
    pub fn items(&mut self, role: Role, items: &[String]) {
        if !items.is_empty() {
            self.blocks.push(Block::Items(role, items.to_vec()));
        }
    }

    /// A part with points; nothing for none.
    pub fn part(&mut self, head: &str, role: Role, items: &[String]) {
        if !items.is_empty() {
            self.section(head);
            self.items(role, items);
        }
    }

    /// Adds a table; nothing for one without rows.
    pub fn table(&mut self, table: Table) {
        if !table.rows.is_empty() {
            self.blocks
                .push(Block::Table(table.without_empty_columns()));
        }
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
