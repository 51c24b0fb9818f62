//! A mass.

use super::{
    length::of,
    whole::{Asked, Cell, whole},
};
use crate::measure::{Mass, units::Dimension};

const ASKED: Asked = Asked {
    what: "a mass",
    allowed: "`50 g`, `1 3/4 oz` or `50 g (1.75 oz)`",
};

/// `50 g`, `1 3/4 oz`, `50 g (1.75 oz)`.
pub fn mass(text: &str) -> Cell<Mass> {
    whole(text, ASKED, |input| {
        of(input, Dimension::Mass, ASKED.allowed, Mass::grams)
    })
}
