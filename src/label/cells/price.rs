//! A price.

use super::whole::{Asked, Cell, whole};
use crate::{
    label::grammar::price::{PRICE_ALLOWED, price as grammar},
    record::Price,
};

/// `6.50 GBP`, `12,95 €`, `£6.50/50g`.
pub fn price(text: &str) -> Cell<Price> {
    whole(
        text,
        Asked {
            what: "a price",
            allowed: PRICE_ALLOWED,
        },
        grammar,
    )
}
