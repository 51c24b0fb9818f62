//! Skeins for one size of one yarn: how many, and what they cost. What is counted is
//! rounded up to whole skeins or to a designer's step.

use crate::{
    measure::{Length, Mass, MeasureError, Money, Ratio},
    record::{NeedRange, Price, PriceBasis},
};
use rust_decimal::{Decimal, RoundingStrategy};

/// Margin where none is stated, %: patterns commonly carry about as much
/// (common practice, no source).
pub const DEFAULT_MARGIN: u8 = 10;

/// Why a purchase cannot be worked out.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum QuantityError {
    /// A skein without length.
    #[error("a ball of 0 m has no yarn: write the length of one ball")]
    EmptySkein,
    /// More skeins than anyone counts.
    #[error(
        "{0} m in balls of {1} m are too many to count: check the yarn needed and the length of one ball"
    )]
    TooMany(f64, f64),
    /// A quantity that is not possible.
    #[error(transparent)]
    Measure(#[from] MeasureError),
}

/// What to buy for one need.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Purchase {
    /// Strand metres: what may do at least, and what is bought for.
    pub need: NeedRange,
    /// Length of one skein.
    pub skein: Length,
    /// Margin bought beyond the need.
    pub margin: Ratio,
    /// Skeins to buy.
    pub skeins: u32,
    /// Skeins that might do, at the lower end of the need.
    pub fewest: u32,
    /// Length bought, m.
    pub bought: Length,
}

impl Purchase {
    /// What is left over, m: bought - need (the margin is part of it).
    pub fn left_over_m(&self) -> f64 {
        self.bought.as_metres() - self.need.buy_for.as_metres()
    }

    /// What is left over, in skeins.
    pub fn left_over_skeins(&self) -> f64 {
        self.left_over_m() / self.skein.as_metres()
    }

    /// What one skein fewer would lack of the need, m; negative where one fewer
    /// still covers the need and only the margin would suffer.
    pub fn one_fewer_lacks_m(&self) -> f64 {
        self.skein.as_metres() - self.left_over_m()
    }
}

/// Skeins for a need: n = ceil(need x (1 + margin) / skein), need in strand
/// metres, never summed over colours before rounding.
pub fn purchase(need: NeedRange, skein: Length, margin: Ratio) -> Result<Purchase, QuantityError> {
    let skeins = skeins_for(need.buy_for, skein, margin)?;
    let fewest = skeins_for(need.at_least, skein, margin)?.max(1).min(skeins);
    let bought = Length::metres(f64::from(skeins) * skein.as_metres())?;
    Ok(Purchase {
        need,
        skein,
        margin,
        skeins,
        fewest,
        bought,
    })
}

fn skeins_for(need: Length, skein: Length, margin: Ratio) -> Result<u32, QuantityError> {
    if skein.as_metres() <= 0.0 {
        return Err(QuantityError::EmptySkein);
    }
    let exact = need.as_metres() * (1.0 + margin.as_fraction()) / skein.as_metres();
    whole_up(exact).ok_or(QuantityError::TooMany(need.as_metres(), skein.as_metres()))
}

/// A need of a pattern in strand metres of another yarn, m: need / strands of
/// the pattern x strands of the yarn x k, where k is the change of need that
/// another gauge brings.
pub fn strand_need(
    need: NeedRange,
    of_pattern: u8,
    of_yarn: u8,
    k: f64,
) -> Result<NeedRange, QuantityError> {
    let factor = f64::from(of_yarn) / f64::from(of_pattern) * k;
    Ok(NeedRange {
        at_least: Length::metres(need.at_least.as_metres() * factor)?,
        buy_for: Length::metres(need.buy_for.as_metres() * factor)?,
    })
}

/// The sum of several costs; none where one is not known or in another currency.
pub fn total<'m>(costs: impl IntoIterator<Item = Option<&'m Money>>) -> Option<Money> {
    let mut costs = costs.into_iter();
    let first = *costs.next()??;
    costs.try_fold(first, |sum, cost| {
        let cost = cost.filter(|cost| cost.currency == sum.currency)?;
        let amount = sum.amount.checked_add(cost.amount)?;
        Some(Money { amount, ..sum })
    })
}

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

/// The least whole number not below `x`, where `x` may lie 1e-9 above a whole
/// number by rounding alone: ceil(x - 1e-9), so that an exact fit needs no extra
/// skein. `None` when `x` is negative, not finite, or too many to count.
pub fn whole_up(x: f64) -> Option<u32> {
    let up = (x - 1e-9).ceil().max(0.0);
    (x >= 0.0 && up <= f64::from(u32::MAX)).then(|| truncate(up))
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a whole number within u32"
)]
fn truncate(whole: f64) -> u32 {
    whole as u32
}

/// The least whole number of `step` that is not below `amount`: step x
/// ceil(amount / step - 1e-9).
pub fn up_to_step(amount: f64, step: f64) -> f64 {
    (amount / step - 1e-9).ceil().max(0.0) * step
}

#[cfg(test)]
mod tests {
    mod purchase {
        use super::super::*;
        use crate::record::Need;
        use proptest::prelude::*;

        fn metres(m: f64) -> Length {
            Length::metres(m).unwrap()
        }

        fn yards(yd: f64) -> Length {
            metres(yd * 0.9144)
        }

        fn of_skeins(count: f64, skein: Length) -> NeedRange {
            Need::Skeins { count, skein }
                .in_metres(None)
                .unwrap()
                .unwrap()
        }

        fn percent(p: f64) -> Ratio {
            Ratio::percent(p).unwrap()
        }

        /// FlatOrRound examples of common practice, no source, against recomputed values
        /// (cases C01 to C15): skeins of another length for a count of skeins.
        #[test]
        fn counts_of_skeins_convert_to_skeins_of_another_length() {
            let rows = [
                (9.0, yards(200.0), yards(109.0), 17),
                (6.0, metres(100.0), metres(90.0), 7),
                (12.0, yards(145.0), yards(163.0), 11),
                (10.0, metres(156.0), metres(230.0), 7),
                (5.0, metres(338.0), metres(124.0), 14),
                (3.0, metres(135.0), metres(124.0), 4),
                (6.0, metres(180.0), metres(125.0), 9),
                (2.0, yards(525.0), yards(123.0), 9),
            ];
            for (count, old, new, expected) in rows {
                let bought = purchase(of_skeins(count, old), new, percent(0.0)).unwrap();
                assert_eq!(bought.skeins, expected, "{count} x {old:?} in {new:?}");
            }
        }

        #[test]
        fn left_over_and_lack_of_one_fewer_add_up_to_a_skein() {
            let bought =
                purchase(of_skeins(9.0, yards(200.0)), yards(109.0), percent(0.0)).unwrap();
            assert!((bought.left_over_m() - yards(53.0).as_metres()).abs() < 1e-9);
            assert!((bought.one_fewer_lacks_m() - yards(56.0).as_metres()).abs() < 1e-9);
            assert!((bought.left_over_skeins() - 53.0 / 109.0).abs() < 1e-9);
            assert_eq!(bought.fewest, 15);
        }

        #[test]
        fn a_margin_may_cost_a_skein_that_the_need_alone_does_not() {
            let need = NeedRange {
                at_least: metres(580.0),
                buy_for: metres(580.0),
            };
            assert_eq!(
                purchase(need, metres(100.0), percent(0.0)).unwrap().skeins,
                6
            );
            let with_margin = purchase(need, metres(100.0), percent(10.0)).unwrap();
            assert_eq!(with_margin.skeins, 7);
            assert!(with_margin.one_fewer_lacks_m() < 0.0);
        }

        #[test]
        fn the_same_count_of_the_same_skein_may_be_one_too_many() {
            let bought =
                purchase(of_skeins(9.0, metres(125.0)), metres(125.0), percent(0.0)).unwrap();
            assert_eq!((bought.skeins, bought.fewest), (9, 8));
        }

        #[test]
        fn strands_multiply_the_strand_metres() {
            let need = NeedRange {
                at_least: metres(500.0),
                buy_for: metres(600.0),
            };
            let doubled = strand_need(need, 1, 2, 1.0).unwrap();
            assert_eq!(doubled.buy_for, metres(1200.0));
            assert_eq!(doubled.at_least, metres(1000.0));
            let single_for_double = strand_need(need, 2, 1, 1.1).unwrap();
            assert!((single_for_double.buy_for.as_metres() - 330.0).abs() < 1e-9);
            assert!((single_for_double.at_least.as_metres() - 275.0).abs() < 1e-9);
        }

        #[test]
        fn an_empty_skein_and_a_huge_count_are_refused() {
            let need = NeedRange {
                at_least: metres(1.0),
                buy_for: metres(1e9),
            };
            assert_eq!(
                purchase(need, metres(0.0), percent(0.0)),
                Err(QuantityError::EmptySkein)
            );
            assert!(matches!(
                purchase(need, metres(1e-3), percent(0.0)),
                Err(QuantityError::TooMany(..))
            ));
        }

        proptest! {
            #[test]
            fn prop_more_need_never_takes_fewer_skeins(a in 0.0..1e5f64, more in 0.0..1e5f64, skein in 1.0..1e4f64, margin in 0.0..50.0f64) {
                let of = |m: f64| NeedRange { at_least: metres(m), buy_for: metres(m) };
                let small = purchase(of(a), metres(skein), percent(margin)).unwrap();
                let large = purchase(of(a + more), metres(skein), percent(margin)).unwrap();
                prop_assert!(large.skeins >= small.skeins);
            }

            #[test]
            fn prop_what_is_bought_covers_and_one_fewer_does_not(need in 0.1..1e5f64, skein in 1.0..1e4f64) {
                let need = NeedRange { at_least: metres(need), buy_for: metres(need) };
                let bought = purchase(need, metres(skein), percent(0.0)).unwrap();
                prop_assert!(bought.left_over_m() >= -1e-6 * skein);
                prop_assert!(bought.one_fewer_lacks_m() > -1e-6 * skein);
            }
        }
    }

    mod cost {
        use super::super::*;
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

    mod ceiling {
        use super::super::*;

        #[test]
        fn an_exact_fit_needs_no_extra_skein_and_a_hair_more_does() {
            assert_eq!(whole_up(0.1 + 0.2 - 0.3 + 6.0), Some(6));
            assert_eq!(whole_up(6.000_001), Some(7));
            assert_eq!(whole_up(0.0), Some(0));
        }

        #[test]
        fn what_cannot_be_counted_is_not_counted() {
            assert_eq!(whole_up(-0.5), None);
            assert_eq!(whole_up(f64::NAN), None);
            assert_eq!(whole_up(1e12), None);
        }
    }

    mod round_step {
        use super::super::*;

        #[test]
        fn a_whole_step_stays_and_a_hair_more_is_the_next() {
            assert_eq!(up_to_step(1200.0, 50.0), 1200.0);
            assert_eq!(up_to_step(1200.1, 50.0), 1250.0);
            assert_eq!(up_to_step(0.0, 50.0), 0.0);
        }
    }
}
