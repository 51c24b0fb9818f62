//! What a yarn costs, and for how much of it.

use crate::measure::{Length, Mass, Money};

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
