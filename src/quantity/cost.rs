//! What skeins cost.

use crate::{
    measure::{Length, Mass, Money},
    record::{Price, PriceBasis},
};
use rust_decimal::{Decimal, RoundingStrategy};

/// Cost of `skeins`, exact decimal, rounded half away from zero to the
/// currency's decimals: price x skeins, or price x skeins x (skein / basis) for
/// a price per mass or length. `None` where that basis is not known of a skein.
pub fn cost(
    price: &Price,
    skeins: u32,
    length: Option<Length>,
    mass: Option<Mass>,
) -> Option<Money> {
    let per_skein = match price.per {
        PriceBasis::Skein => Decimal::ONE,
        PriceBasis::Mass(basis) => ratio(mass?.as_grams(), basis.as_grams())?,
        PriceBasis::Length(basis) => ratio(length?.as_metres(), basis.as_metres())?,
    };
    let exact = price
        .money
        .amount
        .checked_mul(per_skein)?
        .checked_mul(Decimal::from(skeins))?;
    let places = u32::from(price.money.currency.exponent().unwrap_or(2));
    let amount = exact.round_dp_with_strategy(places, RoundingStrategy::MidpointAwayFromZero);
    Some(Money {
        amount,
        ..price.money
    })
}

/// part / whole as decimals of the numbers as they are written, so that 100 g
/// at a price for 50 g is exactly two of them.
fn ratio(part: f64, whole: f64) -> Option<Decimal> {
    Decimal::try_from(part)
        .ok()?
        .checked_div(Decimal::try_from(whole).ok()?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use iso_currency::Currency;
    use std::str::FromStr;

    fn price(amount: &str, per: PriceBasis) -> Price {
        Price {
            money: Money {
                amount: Decimal::from_str(amount).unwrap(),
                currency: Currency::GBP,
            },
            per,
        }
    }

    fn text(price: &Price, skeins: u32) -> Option<String> {
        cost(
            price,
            skeins,
            Length::metres(230.0).ok(),
            Mass::grams(100.0).ok(),
        )
        .map(|money| money.to_string())
    }

    /// A worked example of common practice, no source (case C15): 9 x 2.49.
    #[test]
    fn cost_is_exact() {
        assert_eq!(
            text(&price("2.49", PriceBasis::Skein), 9).unwrap(),
            "22.41 GBP"
        );
        assert_eq!(
            text(&price("0.1", PriceBasis::Skein), 3).unwrap(),
            "0.30 GBP"
        );
    }

    #[test]
    fn a_price_for_a_mass_goes_by_the_mass_of_a_skein() {
        let per_fifty = PriceBasis::Mass(Mass::grams(50.0).unwrap());
        assert_eq!(text(&price("6.50", per_fifty), 2).unwrap(), "26.00 GBP");
        assert_eq!(cost(&price("6.50", per_fifty), 2, None, None), None);
    }
}
