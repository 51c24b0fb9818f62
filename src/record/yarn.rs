//! A yarn of the user's own records.

use super::{Name, YarnFacts};
use crate::trade::Gtin;

/// A yarn: who makes it, what it is called, what its label says.
#[derive(Debug, Clone, PartialEq)]
pub struct Yarn {
    /// Who makes it.
    pub maker: Name,
    /// What it is called.
    pub name: Name,
    /// What its label says.
    pub facts: YarnFacts,
    /// Article number under the barcode.
    pub gtin: Option<Gtin>,
    /// Shades it comes in.
    pub shades: Vec<String>,
    /// Whether it is no longer made.
    pub discontinued: bool,
    /// Anything else.
    pub notes: String,
}

impl Yarn {
    /// `maker, name`, as people say it.
    pub fn title(&self) -> String {
        format!("{}, {}", self.maker, self.name)
    }
}
