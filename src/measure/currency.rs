//! Money: exact decimal with its currency.

use iso_currency::Currency;
use rust_decimal::Decimal;

/// An amount of money. Exact: never a float.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Money {
    /// The amount in units of the currency.
    pub amount: Decimal,
    /// ISO 4217 currency.
    pub currency: Currency,
}

impl std::fmt::Display for Money {
    /// `12.95 EUR`, with at least the currency's own decimals. Three decimals get a
    /// fourth where the currency has fewer, since one mark before three digits may
    /// part thousands.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let places = u32::from(self.currency.exponent().unwrap_or(2));
        let mut amount = self.amount.normalize();
        if amount.scale() < places {
            amount.rescale(places);
        } else if amount.scale() == 3 && places < 3 {
            amount.rescale(4);
        }
        write!(f, "{amount} {}", self.currency.code())
    }
}
