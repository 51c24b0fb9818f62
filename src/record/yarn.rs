//! A yarn of the user's own records: what it is called, how it may be washed, what
//! it costs and for how much of it.

use super::{Name, YarnFacts};
use crate::{
    measure::{Length, Mass, Money},
    trade::Gtin,
};

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

/// What a label allows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Care {
    /// Takes a machine wash.
    MachineWash,
    /// By hand only.
    HandWash,
    /// Dry cleaning only.
    DryClean,
}

impl Care {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::MachineWash, Self::HandWash, Self::DryClean];

    /// The words used here.
    pub fn name(self) -> &'static str {
        match self {
            Self::MachineWash => "machine wash",
            Self::HandWash => "hand wash",
            Self::DryClean => "dry clean",
        }
    }
}

/// A price and the quantity it buys.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Price {
    /// The money.
    pub money: Money,
    /// What it buys.
    pub per: PriceBasis,
}

/// The quantity that a price buys.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PriceBasis {
    /// One skein as sold.
    Skein,
    /// So much mass, such as 50 g or 1 oz.
    Mass(Mass),
    /// So much length.
    Length(Length),
}
