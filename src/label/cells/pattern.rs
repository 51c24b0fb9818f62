//! Small cells of pattern files.

use super::whole::{Asked, Cell, whole};
use crate::{
    label::grammar::words,
    label::reading::{Parsed, Tokens, any_word, exact, plain, symbol, word},
    record::{Fit, Multiple, Purpose},
};
use winnow::{
    Parser,
    combinator::{alt, opt, preceded},
    error::EmptyError,
};

/// `4 + 2`, `6`.
pub fn multiple(text: &str) -> Cell<Multiple> {
    let asked = Asked {
        what: "a stitch multiple",
        allowed: "`4 + 2` or `6`: stitches of one repeat, then those beyond it",
    };
    whole(text, asked, |input| {
        opt((word(&["multiple", "multiples"]), opt(word(&["of"])))).parse_next(input)?;
        let stitches = whole_number
            .verify(|stitches: &u32| *stitches > 0)
            .parse_next(input)?;
        opt(word(&["st", "sts", "stitches"])).parse_next(input)?;
        let plus = opt(preceded(
            alt((symbol("+").void(), word(&["plus"]).void())),
            whole_number,
        ))
        .parse_next(input)?;
        opt(word(&["st", "sts", "stitches"])).parse_next(input)?;
        Ok(plain(Multiple {
            stitches,
            plus: plus.unwrap_or(0),
        }))
    })
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a whole number from 0 to 100 000, checked just before"
)]
fn whole_number(input: &mut Tokens<'_>) -> Parsed<u32> {
    let value = exact(input)?;
    match (0.0..=100_000.0).contains(&value) && value.fract() == 0.0 {
        true => Ok(value as u32),
        false => Err(EmptyError),
    }
}

/// `hot pad`, `garment`, `child's nightwear`.
pub fn purpose(text: &str) -> Cell<Purpose> {
    let asked = Asked {
        what: "a purpose",
        allowed: "`garment`, `accessory`, `home`, `hot pad`, `child's garment`, `child's nightwear` or `baby`",
    };
    whole(text, asked, |input| words::purpose_alone(input).map(plain))
}

/// `fitted`, `relaxed`, `unfitted`.
pub fn fit(text: &str) -> Cell<Fit> {
    let asked = Asked {
        what: "a fit",
        allowed: "`fitted`, `relaxed` or `unfitted`",
    };
    whole(text, asked, |input| words::fit(input).map(plain))
}

/// `yes` or `no`.
pub fn yes_no(text: &str) -> Cell<bool> {
    whole(
        text,
        Asked {
            what: "yes or no",
            allowed: "`yes` or `no`",
        },
        |input| {
            any_word
                .verify_map(|word| match word {
                    "yes" | "y" | "true" => Some(true),
                    "no" | "n" | "false" => Some(false),
                    _ => None,
                })
                .map(plain)
                .parse_next(input)
        },
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_name_of_a_purpose_and_a_fit_reads_back() {
        for asked in Purpose::ALL {
            assert_eq!(
                purpose(asked.name()).map(|found| found.value),
                Ok(asked),
                "{}",
                asked.name()
            );
        }
        for asked in Fit::ALL {
            assert_eq!(fit(asked.name()).map(|found| found.value), Ok(asked));
        }
    }

    #[test]
    fn a_multiple_has_stitches_beyond_it_or_not() {
        assert_eq!(
            multiple("4 + 2").unwrap().value,
            Multiple {
                stitches: 4,
                plus: 2
            }
        );
        assert_eq!(
            multiple("6").unwrap().value,
            Multiple {
                stitches: 6,
                plus: 0
            }
        );
        assert!(multiple("0").is_err() && multiple("2.5").is_err());
        assert!(
            yes_no("yes").unwrap().value && !yes_no("No").unwrap().value && yes_no("ja?").is_err()
        );
    }
}
