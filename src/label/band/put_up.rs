//! Which length and mass are the put-up's, and which an amount.

use super::{
    Amount, AmountPart, Quantity,
    builder::{BandBuilder, TWICE, set_printed},
    pair::grams,
    whole_text::METRES_OR_STITCHES,
};
use crate::{
    label::{
        amount::StatedAmount,
        length_mass::{DualMeasure, Magnitude, is_yarn_unit},
        token::{Words, is_skein_word, words},
    },
    measure::{
        Grist, Interval, Length, Mass, YarnCount,
        units::{CountSystem, Dimension},
    },
    trade::fibre_of_word,
    words::fold,
};
use std::ops::Range;

/// Skeins of fewer grams are hardly sold. Common practice, no source.
const LEAST_SKEIN_G: f64 = 20.0;

/// How far two statements of a length per mass may lie apart as one.
pub(super) const APART: f64 = 0.015;

/// Words after a quantity that say that one skein holds it.
const EACH: [&str; 4] = ["each", "ea", "je", "per "];

/// Words before a quantity that say the same.
const AT: Words = words! {
    at, of, each, je, von, de, x, with, length, yardage, meterage, lauflänge, ll, longueur,
};

pub(super) const ONE_OR_ALL: &str =
    "it may be the length of one ball or of all; write `each` or `in total` beside it";

/// More colours than a pattern has.
const MOST_COLOURS: usize = 60;

const MONEY: &str = "it may be a weight or money; write `5 lb`, or `5 GBP` for a price";
const LESS: &str = "differences are not worked out here; write what is left";
const SUM: &str = "sums are not worked out here; write the total";

/// What is said of a further quantity.
const SECOND: &str =
    "this second amount may be the yarn needed; write `needs` before it, or leave it out";

/// What is said of a further amount.
const OF_ANOTHER: &str = "a second amount; give each yarn or colour a line of its own";
/// What is said of skeins beside their length.
const LENGTH_COUNTS: &str = "the length of the same yarn is more exact";

/// Words between a bracket or sign and a quantity that say nothing.
const ABOUT: [&str; 8] = [
    "",
    "~",
    "≈",
    "ca",
    "approx",
    "about",
    "approximately",
    "circa",
];
impl BandBuilder<'_> {
    /// A length or a mass: the put-up's, or else an amount.
    pub(super) fn measured(&mut self, dual: &DualMeasure, span: &Range<usize>) {
        if !is_yarn_unit(dual.first.unit) {
            return self.leave(
                span,
                "yarn is not measured in this unit; write metres or yards",
            );
        }
        if self.may_be_money(dual, span) {
            return self.leave(span, MONEY);
        }
        self.has_length |= dual.dimension() == Dimension::Length;
        if self.is_too_little_for_all(dual, span) {
            self.counted_to = None;
        }
        if self.lone_rows && self.may_be_stitches(dual) {
            return self.leave(span, METRES_OR_STITCHES);
        }
        if let Some(why) = self.why_unplaced(span) {
            if why == ONE_OR_ALL && self.one_or_all(dual) {
                return;
            }
            return self.leave(span, why);
        }
        let read = dual.magnitude();
        let (magnitude, value) = match read.and_then(|reading| Ok((reading.value.one()?, reading)))
        {
            Ok((value, reading)) => (reading.note_in(&mut self.out.warnings), value),
            Err(refusal) => return self.refuse(&refusal),
        };
        if !self.is_said_of_each(span) {
            let facts = &self.out.facts;
            let (first, loose) = match magnitude.dimension {
                Dimension::Length => (facts.length.is_none(), &mut self.loose_length),
                Dimension::Mass => (facts.mass.is_none(), &mut self.loose_mass),
            };
            if first {
                *loose = Some(span.clone());
            }
        }
        if self.restates(magnitude.dimension, span) {
            return;
        }
        if !self.put_up(&magnitude, value) {
            self.further_quantity(magnitude.dimension, value, span);
        }
    }

    /// `5 pounds`, where neither a length nor the word for what it is of stands beside it.
    fn may_be_money(&self, dual: &DualMeasure, span: &Range<usize>) -> bool {
        let in_pair = self
            .pair
            .as_ref()
            .is_some_and(|pair| pair.span.start <= span.start && span.end <= pair.span.end);
        let text = fold(&self.printed(&dual.span));
        let spelt = text.ends_with("pound") || text.ends_with("pounds");
        let after = fold(first_word(self.text.get(span.end..).unwrap_or("")));
        let of_yarn = after == "of" || is_skein_word(&after) || fibre_of_word(&after).is_some();
        spelt && !in_pair && !of_yarn && !self.of_skein
    }

    fn further_quantity(&mut self, dimension: Dimension, value: f64, span: &Range<usize>) {
        if dimension == Dimension::Mass && self.is_mass_of_all(value) {
            return;
        }
        let quantity = match dimension {
            Dimension::Length => {
                Length::metres(value).map(|length| Quantity::Length(Interval::one(length)))
            }
            Dimension::Mass => Mass::grams(value).map(|mass| Quantity::Mass(Interval::one(mass))),
        };
        match quantity {
            Ok(quantity) if self.out.amount.is_none() => {
                self.out.amount = Some(self.amount_of(quantity, span));
                self.warn(span, SECOND);
            }
            Ok(_) => self.leave(span, TWICE),
            Err(error) => self.leave(span, error),
        }
    }

    /// `8 balls (50 g = 120 m)`: were it the mass of all, one would hold less than
    /// is sold in skeins.
    fn is_too_little_for_all(&self, dual: &DualMeasure, span: &Range<usize>) -> bool {
        let of_pair = self.pair.as_ref().filter(|pair| {
            let within = pair.span.start <= span.start && span.end <= pair.span.end;
            self.counted_to.is_some_and(|end| end <= pair.span.start) && within
        });
        let grams = of_pair.map(|pair| pair.grams).or_else(|| grams(dual));
        let amount = self.out.amount.as_ref();
        let fewest =
            amount.and_then(|amount| amount.parts.iter().filter_map(skeins).reduce(f64::min));
        grams
            .zip(fewest)
            .is_some_and(|(grams, skeins)| grams < LEAST_SKEIN_G * skeins)
    }

    /// The text before `span`.
    fn before(&self, span: &Range<usize>) -> &str {
        self.text.get(..span.start).unwrap_or("").trim_end()
    }

    /// Why the quantity at `span` cannot be placed: after a plus or an `or`, or
    /// in brackets after a count of skeins.
    fn why_unplaced(&self, span: &Range<usize>) -> Option<&'static str> {
        let before = self.before(span);
        if before.ends_with('+') {
            return Some(SUM);
        }
        if [" less", " minus"]
            .iter()
            .any(|less| before.ends_with(less))
        {
            return Some(LESS);
        }
        if [" or", " oder", " ou"]
            .iter()
            .any(|or| before.ends_with(or))
        {
            return Some("one quantity or the other; write the one that counts");
        }
        if self.is_said_of_each(span) {
            return None;
        }
        let gap = self.text.get(self.counted_to?..span.start)?.trim();
        let sign = gap.chars().next().filter(|sign| "(=≈~[".contains(*sign))?;
        let words = gap.trim_start_matches(sign).trim().trim_end_matches('.');
        ABOUT.contains(&words).then_some(ONE_OR_ALL)
    }

    /// Whether a word beside it says that one skein holds it.
    fn is_said_of_each(&self, span: &Range<usize>) -> bool {
        let before = self.before(span).trim_end_matches(':');
        let after = self.text.get(span.end..).unwrap_or("").trim_start();
        let at = before
            .rsplit(|c: char| !c.is_alphabetic())
            .next()
            .map(str::to_lowercase);
        let of_one = after.strip_prefix('/').map(|after| fold(first_word(after)));
        EACH.iter().any(|each| after.starts_with(each))
            || at.is_some_and(|at| AT.contains(&at))
            || of_one.is_some_and(|word| is_skein_word(&word))
    }

    pub(super) fn amount_of(&self, quantity: Quantity, span: &Range<usize>) -> Amount {
        let size = None;
        Amount {
            text: self.printed(span),
            parts: vec![AmountPart { size, quantity }],
            plus: None,
            about: false,
            each_of: Vec::new(),
        }
    }

    /// Takes a length or mass for the put-up; false where that is stated already.
    fn put_up(&mut self, magnitude: &Magnitude, value: f64) -> bool {
        let text = self.printed(&magnitude.span);
        let facts = &mut self.out.facts;
        let taken = match magnitude.dimension {
            Dimension::Length => {
                Length::metres(value).map(|length| set_printed(&mut facts.length, text, length))
            }
            Dimension::Mass => {
                Mass::grams(value).map(|mass| set_printed(&mut facts.mass, text, mass))
            }
        };
        taken.unwrap_or_else(|error| {
            self.leave(&magnitude.span, error);
            true
        })
    }

    /// The same length per mass in another system is no second value.
    pub(super) fn count(&mut self, count: YarnCount, span: &Range<usize>) {
        let text = self.printed(span);
        let grist = |count: &YarnCount| count.grist().as_metres_per_gram();
        if let Some(known) = &self.out.facts.count
            && (grist(&known.value) / grist(&count) - 1.0).abs() <= APART
        {
            return;
        }
        if !set_printed(&mut self.out.facts.count, text, count) {
            self.leave(span, TWICE);
        }
    }

    /// A length per unit of mass is a count of one single; it claims no put-up.
    pub(super) fn grist(&mut self, grist: Grist, span: &Range<usize>) {
        match YarnCount::new(grist.as_metres_per_gram(), 1, CountSystem::Metric) {
            Ok(count) => self.count(count, span),
            Err(error) => self.leave(span, error),
        }
    }

    /// An amount, and what one skein of it holds.
    pub(super) fn amount(&mut self, stated: StatedAmount, span: &Range<usize>) {
        if let Some(each) = &stated.each {
            self.weighed_each |= each.dimension == Dimension::Mass;
            if !self.put_up(each, each.low) {
                return self.leave(span, TWICE);
            }
        }
        if self.before(span).ends_with('+') {
            return self.leave(span, SUM);
        }
        self.counted_to = not_one_skein(&stated).then_some(span.end);
        let of_others = |known: &Amount| {
            let keys = &stated.amount.each_of;
            !keys.is_empty()
                && !known.each_of.is_empty()
                && keys.iter().all(|key| !known.each_of.contains(key))
        };
        let known = self.out.amount.iter().chain(&self.out.other_colours);
        let few = self.out.other_colours.len() < MOST_COLOURS;
        if self.out.amount.is_some() && few && known.into_iter().all(of_others) {
            let text = self.printed(span);
            self.out.other_colours.push(Amount {
                text,
                ..stated.amount
            });
            return;
        }
        let text = self.printed(span);
        let amount = Amount {
            text,
            ..stated.amount
        };
        match &mut self.out.amount {
            Some(known) if is_length_of(&amount, known) => {
                let counted = std::mem::replace(known, amount).text;
                self.warn(span, format!("`{counted}` is not used: {LENGTH_COUNTS}"));
            }
            Some(known) if is_length_of(known, &amount) => self.leave(span, LENGTH_COUNTS),
            Some(_) => self.leave(span, OF_ANOTHER),
            None => self.out.amount = Some(amount),
        }
    }
}

/// Whether one amount is the length of what the other counts in skeins, size by size.
fn is_length_of(length: &Amount, counted: &Amount) -> bool {
    let all = |amount: &Amount, is: fn(&Quantity) -> bool| {
        amount.each_of.is_empty() && amount.parts.iter().all(|part| is(&part.quantity))
    };
    length.parts.len() == counted.parts.len()
        && all(length, |quantity| matches!(quantity, Quantity::Length(_)))
        && all(counted, |quantity| matches!(quantity, Quantity::Skeins(_)))
}

/// Whether it counts more or less than one skein and says not how long one is.
fn not_one_skein(stated: &StatedAmount) -> bool {
    let long = |each: &Magnitude| each.dimension == Dimension::Length;
    !stated.each.as_ref().is_some_and(long) && stated.amount.parts.iter().any(is_not_one)
}

pub(super) fn skeins(part: &AmountPart) -> Option<f64> {
    match part.quantity {
        Quantity::Skeins(skeins) => Some(skeins.low()),
        _ => None,
    }
}

fn first_word(text: &str) -> &str {
    let mut words = text.split(|c: char| !c.is_alphabetic());
    words.find(|word| !word.is_empty()).unwrap_or("")
}

pub(super) fn is_not_one(part: &AmountPart) -> bool {
    matches!(part.quantity, Quantity::Skeins(skeins) if skeins.low() != 1.0 || skeins.high() != 1.0)
}
