//! What the asker will and will not have beside fibres: at most so much money, enough in
//! the stash, from one lot, words of a shade, a place. A limit, never a score: a yarn
//! that does not meet it is left out, and the reason is counted.

use super::{
    amounts::SizePurchase,
    answer::Working,
    candidate::{Candidate, StockLot},
    cover::SizeCover,
};
use crate::{
    app::{InputReader, WishesRequest, input::filled},
    label::cells,
    matching::Exclusion,
    measure::Money,
    record::Price,
    trade::Colour,
    words::fold,
};
use iso_currency::Currency;
use rust_decimal::Decimal;

/// What the asker will have of a yarn, beside its fibres.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Wishes {
    /// The most that all balls of a yarn may cost.
    pub max_cost: Option<Money>,
    /// Whether the stash must have enough of one shade.
    pub is_enough: bool,
    /// Whether one lot must be enough.
    pub is_one_lot: bool,
    /// Words of a shade, as typed.
    pub shade: Option<String>,
    /// Words of a place, as typed.
    pub place: Option<String>,
}

/// Why a yarn does not meet what is wished for.
#[derive(Debug, Clone, PartialEq)]
pub enum UnmetWish {
    /// None of it is in the stash.
    NotInStash,
    /// It has no shade of these words.
    OtherShade(String),
    /// None of it is in this place.
    OtherPlace(String),
    /// The stash has not enough of one shade.
    NotEnough,
    /// No lot alone is enough.
    NotEnoughInOneLot,
    /// It is not known how much is needed, or how far a ball goes.
    AmountNotKnown,
    /// It costs more than this.
    CostsMore(Money),
    /// What it costs is not known.
    CostNotKnown,
    /// Its price is in another currency than this.
    OtherCurrency(Currency),
}

/// Why a yarn is left out of a list.
#[derive(Debug, Clone, PartialEq)]
pub enum LeftOutReason {
    /// For what it holds.
    Fibre(Exclusion),
    /// For what else is wished for.
    Wish(UnmetWish),
    /// How far a ball of it goes is not known, and has to be.
    LengthNotKnown,
}

impl Wishes {
    pub(in crate::app) fn read(
        reader: &mut InputReader,
        request: &WishesRequest,
        working: &mut Vec<Working>,
    ) -> Self {
        let words = |text: &Option<String>| filled(text.as_deref()).map(str::to_owned);
        let wishes = Self {
            max_cost: reader.optional("max-cost", &request.max_cost, cells::money),
            is_enough: request.enough,
            is_one_lot: request.one_lot,
            shade: words(&request.stash.shade),
            place: words(&request.stash.place),
        };
        if !wishes.is_empty() {
            working.push(Working::Wishes(wishes.clone()));
        }
        wishes
    }

    /// Whether nothing is wished for.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// Whether only yarns of the stash can meet it.
    pub(in crate::app) fn is_of_stash(&self) -> bool {
        self.is_enough || self.is_one_lot || self.place.is_some()
    }

    /// Leaves a candidate the lots that are meant; why it does not meet the wish where
    /// none is left.
    pub(in crate::app) fn keep_lots(&self, candidate: &mut Candidate) -> Option<UnmetWish> {
        if candidate.lots.is_empty() {
            return self.is_of_stash().then_some(UnmetWish::NotInStash);
        }
        if let Some(shade) = &self.shade {
            candidate
                .lots
                .retain(|held| is_shade(&held.lot.shade, colour(held), shade));
            if candidate.lots.is_empty() {
                return Some(UnmetWish::OtherShade(shade.clone()));
            }
        }
        let place = self.place.as_ref()?;
        candidate
            .lots
            .retain(|held| holds_words(&fold(&held.lot.place), place));
        let is_none = candidate.lots.is_empty();
        is_none.then(|| UnmetWish::OtherPlace(place.clone()))
    }

    /// Whether a shade is meant, and then this lot of it.
    pub(in crate::app) fn is_lot_meant(&self, held: &StockLot) -> bool {
        let place = self.place.as_deref();
        self.is_shade_meant(&held.lot.shade, colour(held))
            && place.is_none_or(|place| holds_words(&fold(&held.lot.place), place))
    }

    /// Why none of these lots is meant; the shade comes before the place.
    pub(in crate::app) fn none_meant(&self, lots: &[StockLot]) -> Option<UnmetWish> {
        if lots.iter().any(|held| self.is_lot_meant(held)) {
            return None;
        }
        let is_shade = |held: &StockLot| self.is_shade_meant(&held.lot.shade, colour(held));
        let shade = self.shade.clone().map(UnmetWish::OtherShade);
        let place = self.place.clone().map(UnmetWish::OtherPlace);
        match lots.iter().any(is_shade) {
            true => place,
            false => shade,
        }
    }

    /// What is wished for of a yarn that is to be bought, whatever the stash has.
    pub(in crate::app) fn of_purchase(&self) -> Self {
        Self {
            shade: self.shade.clone(),
            ..Self::default()
        }
    }

    /// Why a shade of this name and colour is none of those meant.
    pub(in crate::app) fn is_shade_meant(&self, name: &str, colour: Option<Colour>) -> bool {
        let words = self.shade.as_deref();
        words.is_none_or(|words| is_shade(name, colour, words))
    }

    /// Why what the stash has of it is not as wished.
    pub(in crate::app) fn unmet_amount(
        &self,
        candidate: &Candidate,
        skeins: &[SizePurchase],
        covers: &[SizeCover],
    ) -> Option<UnmetWish> {
        if !self.is_enough && !self.is_one_lot {
            return None;
        }
        if candidate.lots.is_empty() {
            return Some(UnmetWish::NotInStash);
        }
        if skeins.is_empty() || covers.len() < skeins.len() {
            return Some(UnmetWish::AmountNotKnown);
        }
        let is_one_lot = |it: &SizeCover| it.cover.covers() && !it.cover.is_mixed();
        if self.is_one_lot && !covers.iter().all(is_one_lot) {
            return Some(UnmetWish::NotEnoughInOneLot);
        }
        let is_enough = covers.iter().all(|it| it.cover.covers());
        (!is_enough).then_some(UnmetWish::NotEnough)
    }

    /// Why nobody can say that a yarn of this price costs no more than wished.
    pub(in crate::app) fn unmet_price(&self, price: Option<&Price>) -> Option<UnmetWish> {
        let most = self.max_cost?;
        match price {
            None => Some(UnmetWish::CostNotKnown),
            Some(price) if price.money.currency == most.currency => None,
            Some(_) => Some(UnmetWish::OtherCurrency(most.currency)),
        }
    }

    /// Why a yarn of this price of which so much is bought costs other than wished.
    pub(in crate::app) fn unmet_cost(
        &self,
        price: Option<&Price>,
        skeins: &[SizePurchase],
    ) -> Option<UnmetWish> {
        let most = self.max_cost?;
        if let Some(why) = self.unmet_price(price) {
            return Some(why);
        }
        let costs = skeins.iter().map(|bought| Some(bought.cost?.amount));
        let costs: Option<Vec<Decimal>> = costs.collect();
        match costs.and_then(|costs| costs.into_iter().max()) {
            None => Some(UnmetWish::CostNotKnown),
            Some(dearest) => (dearest > most.amount).then_some(UnmetWish::CostsMore(most)),
        }
    }

    /// The same of several yarns that are bought together.
    pub(in crate::app) fn unmet_cost_of_each(
        &self,
        bought: &[(&Candidate, Vec<SizePurchase>)],
    ) -> Option<UnmetWish> {
        let mut prices = bought.iter().map(|(yarn, _)| yarn.price());
        let unmet = prices.clone().find_map(|price| self.unmet_price(price));
        let sums = together(bought.iter().map(|(_, skeins)| skeins.as_slice()));
        unmet.or_else(|| self.unmet_cost(prices.next().flatten(), &sums))
    }
}

/// The costs of each size over several roles.
fn together<'s>(roles: impl Iterator<Item = &'s [SizePurchase]>) -> Vec<SizePurchase> {
    let mut sums: Vec<SizePurchase> = Vec::new();
    for bought in roles.flatten() {
        match sums.iter_mut().find(|sum| sum.size == bought.size) {
            Some(sum) => sum.cost = sum.cost.zip(bought.cost).and_then(add),
            None => sums.push(bought.clone()),
        }
    }
    sums
}

fn add((one, other): (Money, Money)) -> Option<Money> {
    let amount = one.amount.checked_add(other.amount)?;
    Some(Money { amount, ..one })
}

fn colour(held: &StockLot) -> Option<Colour> {
    held.lot.colour.as_ref().map(|colour| colour.value)
}

/// Whether each word is one of the shade's name, or says its colour.
fn is_shade(name: &str, colour: Option<Colour>, words: &str) -> bool {
    let name = fold(name);
    let of_colour = colour.map_or_else(Vec::new, Colour::words);
    let is_met = |word: &str| {
        let same = match word {
            "gray" => "grey",
            "pale" => "light",
            "violet" | "lilac" => "purple",
            other => other,
        };
        has_word(&name, word) || of_colour.contains(&same)
    };
    fold(words).split(' ').all(is_met)
}

fn holds_words(text: &str, words: &str) -> bool {
    fold(words).split(' ').all(|word| has_word(text, word))
}

fn has_word(text: &str, word: &str) -> bool {
    text.split(' ').any(|known| known == word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_shade_is_found_by_the_words_of_its_name_and_of_its_colour() {
        let green = Colour::read("#1f4a2a");
        assert!(is_shade("Deep Moss", None, "moss"));
        assert!(is_shade("Moss", green, "dark green"));
        assert!(is_shade("Moss", green, "dark moss"));
        assert!(!is_shade("Moss", None, "green"));
        assert!(!is_shade("Mossy", None, "moss"));
        assert!(is_shade("Ash", Colour::read("#888888"), "Gray"));
    }

    #[test]
    fn a_place_is_found_by_its_words_whatever_their_order() {
        assert!(holds_words(&fold("Box 3, loft"), "loft"));
        assert!(holds_words(&fold("Box 3, loft"), "loft box"));
        assert!(!holds_words(&fold("Box 3, loft"), "attic"));
        assert!(!holds_words(&fold(""), "loft"));
    }
}
