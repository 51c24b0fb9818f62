//! Anybody's table as ours: which column is what, by its head and by its cells, and the
//! rows as cells of our own tables. Nothing is decided in silence: the result says what
//! each column holds, and what nobody can know is a question.

mod fields;
mod propose;
mod translate;

pub use fields::{FIELDS, Field, Lack, field_named};
pub use propose::propose;
pub use translate::{LeftOut, OurRow, translate};

use super::sheet::{Sheet, SheetRow};

/// What a person says about a table, because the table does not.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Answers {
    /// Columns with what they hold; none leaves one out.
    pub columns: Vec<(ColumnName, Option<&'static Field>)>,
    /// Currency of bare prices.
    pub currency: Option<String>,
    /// Unit of bare lengths.
    pub length: Option<String>,
    /// Unit of bare masses.
    pub mass: Option<String>,
    /// What bare amounts count: `skeins`, or a unit of mass.
    pub amount: Option<String>,
    /// Who makes all yarns of a table without such a column.
    pub maker: Option<String>,
}

/// How a person names a column.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ColumnName {
    /// By its head, as in the table.
    Head(String),
    /// By its place, from 0.
    Place(usize),
}

impl Answers {
    fn unit(&self, lack: Lack) -> Option<&str> {
        let unit = match lack {
            Lack::Length => &self.length,
            Lack::Mass => &self.mass,
            Lack::Amount => &self.amount,
            Lack::Currency => &self.currency,
        };
        unit.as_deref()
    }
}

/// What one column holds.
#[derive(Debug, Clone, PartialEq)]
pub struct ColumnUse {
    /// Its head.
    pub head: String,
    /// What it holds; none is left out.
    pub field: Option<&'static Field>,
    /// The unit that its bare numbers have.
    pub unit: Option<String>,
    /// Its first cell that is not empty.
    pub sample: String,
}

/// How a table is read.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    /// The place of the row of heads.
    pub head: usize,
    /// Its columns, in their order.
    pub columns: Vec<ColumnUse>,
    /// The mass that a head of lengths names, as in `m/50 g`.
    pub mass: Option<String>,
    /// Whether a comma divides decimals.
    pub decimal_comma: bool,
    /// What must be said before it can be taken.
    pub questions: Vec<Question>,
}

impl Layout {
    /// The place of the column that holds a field.
    pub fn place(&self, field: &str) -> Option<usize> {
        let holds = |column: &ColumnUse| column.field.is_some_and(|held| held.name == field);
        self.columns.iter().position(holds)
    }

    /// Whether some column holds it.
    pub fn has(&self, field: &str) -> bool {
        self.place(field).is_some()
    }
}

/// What only a person can know.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Question {
    /// No column tells which yarn a row is about.
    Name,
    /// No column tells the maker.
    Maker,
    /// Bare numbers lack something.
    Unit(Lack),
}

/// The rows of a table below its heads.
fn body(sheet: &Sheet, head: usize) -> impl Iterator<Item = &SheetRow> {
    sheet.rows.iter().skip(head + 1)
}
