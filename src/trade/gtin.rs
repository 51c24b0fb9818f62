//! Article numbers under barcodes and their check digit.

use std::fmt;

/// A GTIN of 8, 12, 13 or 14 digits whose check digit is right.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Gtin(String);

/// Why digits are no GTIN.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum GtinError {
    /// Something that is not a digit, or a wrong number of digits.
    #[error("`{0}` is not a barcode number: it needs 8, 12, 13 or 14 digits")]
    Shape(String),
    /// The last digit does not fit the others.
    #[error("`{given}` is misread: its last digit should be {expected}; read the digits again")]
    CheckDigit {
        /// What was given.
        given: String,
        /// The digit that the others ask for.
        expected: u32,
    },
}

impl Gtin {
    /// Reads digits, spaces and hyphens between them allowed.
    pub fn read(text: &str) -> Result<Self, GtinError> {
        let digits: String = text.chars().filter(|c| !matches!(c, ' ' | '-')).collect();
        let values: Option<Vec<u32>> = digits.chars().map(|c| c.to_digit(10)).collect();
        let shape = || GtinError::Shape(text.to_owned());
        let values = values
            .filter(|v| matches!(v.len(), 8 | 12 | 13 | 14))
            .ok_or_else(shape)?;
        let (last, data) = values.split_last().ok_or_else(shape)?;
        match check_digit(data) {
            expected if expected == *last => Ok(Self(digits)),
            expected => Err(GtinError::CheckDigit {
                given: text.to_owned(),
                expected,
            }),
        }
    }
}

/// The check digit of `data`: weights 3, 1, 3 ... from the right, then what
/// brings the sum to the next multiple of ten (GS1 General Specifications, as
/// shown on GS1's page on calculating a check digit by hand).
fn check_digit(data: &[u32]) -> u32 {
    let weights = [3, 1].into_iter().cycle();
    let sum: u32 = data
        .iter()
        .rev()
        .zip(weights)
        .map(|(digit, weight)| digit * weight)
        .sum();
    (10 - sum % 10) % 10
}

impl fmt::Display for Gtin {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// GS1, "How to calculate a check digit manually"; GS1 Sweden; GS1 India;
    /// GS1 UK leaflet.
    #[test]
    fn the_examples_of_gs1_pass_and_any_other_last_digit_fails() {
        for good in [
            "6291041500213",
            "7300011000017",
            "8904000210037",
            "5012345678900",
        ] {
            assert!(Gtin::read(good).is_ok(), "{good}");
            let (data, last) = good.split_at(12);
            let wrong = (last.parse::<u32>().unwrap() + 1) % 10;
            assert!(matches!(
                Gtin::read(&format!("{data}{wrong}")),
                Err(GtinError::CheckDigit { .. })
            ));
        }
    }

    #[test]
    fn letters_and_wrong_lengths_are_refused() {
        for bad in ["", "123", "629104150021X", "62910415002134567"] {
            assert!(matches!(Gtin::read(bad), Err(GtinError::Shape(_))), "{bad}");
        }
    }
}
