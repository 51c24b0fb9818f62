//! Which length and mass are the put-up's, and which an amount.

use super::{
    Amount, AmountPart, Quantity,
    assemble::{Assembly, TWICE, set_printed},
    pairs::grams,
};
use crate::{
    label::grammar::{amount::Wanted, amount_forms::is_yarn_unit},
    label::reading::{Dual, Note, Settled, is_skein_word},
    measure::{
        Grist, Interval, Length, Mass, YarnCount,
        units::{CountSystem, Dimension},
    },
    words::fold,
};
use std::ops::Range;

impl Assembly<'_> {
    pub(super) fn settled(&mut self, dual: &Dual) -> Option<(Settled, f64)> {
        let outcome = dual
            .settle()
            .and_then(|reading| Ok((reading.value.one()?, reading)));
        match outcome {
            Ok((value, reading)) => {
                self.out.warnings.extend(reading.notes);
                Some((reading.value, value))
            }
            Err(refusal) => {
                self.refuse(refusal);
                None
            }
        }
    }

    pub(super) fn measured(&mut self, dual: &Dual, span: Range<usize>) {
        if !is_yarn_unit(dual.first.unit) {
            return self.leave(
                span,
                "yarn is not measured in this unit; write metres or yards",
            );
        }
        if self.is_too_little_for_all(dual, &span) {
            self.counted_to = None;
        }
        if let Some(why) = self.unclear(&span) {
            return self.leave(span, why);
        }
        let Some((settled, value)) = self.settled(dual) else {
            return;
        };
        if settled.dimension == Dimension::Length && !self.is_said_of_each(&span) {
            let first = self.out.facts.length.is_none();
            self.loose_length = first.then(|| span.clone()).or(self.loose_length.take());
        }
        if self.put_up(&settled, value) {
            return;
        }
        let quantity = match settled.dimension {
            Dimension::Length => {
                Length::metres(value).map(|length| Quantity::Length(Interval::one(length)))
            }
            Dimension::Mass => Mass::grams(value).map(|mass| Quantity::Mass(Interval::one(mass))),
        };
        match quantity {
            Ok(quantity) if self.out.amount.is_none() => {
                self.out.amount = Some(self.amount_of(quantity, &span));
                self.warn(&span, SECOND.to_owned());
            }
            Ok(_) => self.leave(span, TWICE),
            Err(error) => self.left.push((span, error.to_string())),
        }
    }

    /// `8 balls (50 g = 120 m)`: were it the mass of all, one would hold less than
    /// is sold in skeins.
    fn is_too_little_for_all(&self, dual: &Dual, span: &Range<usize>) -> bool {
        let of_pair = self.pair.as_ref().filter(|(pair, _)| {
            let within = pair.start <= span.start && span.end <= pair.end;
            self.counted_to.is_some_and(|end| end <= pair.start) && within
        });
        let grams = of_pair.map(|(_, grams)| *grams).or_else(|| grams(dual));
        let amount = self.out.amount.as_ref();
        let fewest =
            amount.and_then(|amount| amount.parts.iter().filter_map(skeins).reduce(f64::min));
        grams
            .zip(fewest)
            .is_some_and(|(grams, skeins)| grams < LEAST_SKEIN_G * skeins)
    }

    /// Why the quantity at `span` cannot be placed: after a plus or an `or`, or
    /// in brackets after a count of skeins.
    fn unclear(&self, span: &Range<usize>) -> Option<&'static str> {
        let before = self.text.get(..span.start).unwrap_or("").trim_end();
        if before.ends_with('+') {
            return Some(SUM);
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
        [
            "",
            "~",
            "≈",
            "ca",
            "approx",
            "about",
            "approximately",
            "circa",
        ]
        .contains(&words)
        .then_some(ONE_OR_ALL)
    }

    /// Whether a word beside it says that one skein holds it.
    fn is_said_of_each(&self, span: &Range<usize>) -> bool {
        let before = self.text.get(..span.start).unwrap_or("").trim_end();
        let after = self.text.get(span.end..).unwrap_or("").trim_start();
        let before = before.trim_end_matches(':').to_lowercase();
        let at = before.rsplit(|c: char| !c.is_alphabetic()).next();
        let of_one = after.strip_prefix('/').map(|after| fold(first_word(after)));
        EACH.iter().any(|each| after.starts_with(each))
            || at.is_some_and(|at| AT.contains(&at))
            || of_one.is_some_and(|word| is_skein_word(&word))
    }

    /// `5 skeins, 1100 yd`: without a mass nothing says whether one skein holds that
    /// or all of them do.
    pub(super) fn drop_doubtful_length(&mut self) {
        let amount = self.out.amount.as_ref();
        let several = amount.is_some_and(|amount| amount.parts.iter().any(is_not_one));
        let alone = self.out.facts.mass.is_none() && self.out.facts.count.is_none();
        match self.loose_length.take().filter(|_| alone) {
            Some(span) if several => {
                self.out.facts.length = None;
                self.leave(span, ONE_OR_ALL);
            }
            Some(span) if self.out.amount.is_none() && self.out.facts.length.is_some() => {
                let message = format!("`{}` is {OF_ONE}", self.printed(&span));
                self.out.lone_length = Some(Note { span, message });
            }
            _ => {}
        }
    }

    pub(super) fn amount_of(&self, quantity: Quantity, span: &Range<usize>) -> Amount {
        Amount {
            text: self.printed(span),
            parts: vec![AmountPart {
                size: None,
                quantity,
            }],
            plus: None,
            about: false,
            each_of: Vec::new(),
        }
    }

    /// Takes a length or mass for the put-up; false where that is stated already.
    pub(super) fn put_up(&mut self, settled: &Settled, value: f64) -> bool {
        let text = self.printed(&settled.span);
        let made = match settled.dimension {
            Dimension::Length => Length::metres(value)
                .map(|length| set_printed(&mut self.out.facts.length, text, length)),
            Dimension::Mass => {
                Mass::grams(value).map(|mass| set_printed(&mut self.out.facts.mass, text, mass))
            }
        };
        match made {
            Ok(taken) => taken,
            Err(error) => {
                self.left.push((settled.span.clone(), error.to_string()));
                true
            }
        }
    }

    /// The same grist in another system is no second value.
    pub(super) fn count(&mut self, count: YarnCount, span: &Range<usize>) {
        let text = self.printed(span);
        let grist = count.grist().as_metres_per_gram();
        let near = |known: f64| (known / grist - 1.0).abs() <= 0.015;
        if let Some(known) = &self.out.facts.count
            && near(known.value.grist().as_metres_per_gram())
        {
            return;
        }
        if !set_printed(&mut self.out.facts.count, text, count) {
            self.leave(span.clone(), TWICE);
        }
    }

    /// A length per unit of mass is a count of one single; it claims no put-up.
    pub(super) fn grist(&mut self, grist: Grist, span: &Range<usize>) {
        match YarnCount::new(grist.as_metres_per_gram(), 1, CountSystem::Metric) {
            Ok(count) => self.count(count, span),
            Err(error) => self.left.push((span.clone(), error.to_string())),
        }
    }

    pub(super) fn wanted(&mut self, wanted: Wanted, span: Range<usize>) {
        if let Some(each) = &wanted.each
            && !self.put_up(each, each.low)
        {
            return self.leave(span, TWICE);
        }
        let before = self.text.get(..span.start).unwrap_or("").trim_end();
        if before.ends_with('+') {
            return self.leave(span, SUM);
        }
        self.counted_to = not_one_skein(&wanted).then_some(span.end);
        match self.out.amount {
            None => {
                self.out.amount = Some(Amount {
                    text: self.printed(&span),
                    ..wanted.amount
                })
            }
            Some(_) => self.leave(
                span,
                "a second amount; give each yarn or colour a line of its own",
            ),
        }
    }
}

/// Skeins of fewer grams are hardly sold. Common practice, no source.
const LEAST_SKEIN_G: f64 = 20.0;

/// Words after a quantity that say that one skein holds it.
const EACH: [&str; 4] = ["each", "ea", "je", "per "];

/// Words before a quantity that say the same.
const AT: &[&str] = &[
    "at",
    "of",
    "each",
    "je",
    "von",
    "de",
    "x",
    "with",
    "length",
    "yardage",
    "meterage",
    "lauflänge",
    "ll",
    "longueur",
];

const ONE_OR_ALL: &str =
    "it may be what one skein holds or what all hold; write `each` or `in total` beside it";

const SUM: &str = "a sum is not read; write the total";

/// What is said of a further quantity.
const SECOND: &str = "a second quantity of this kind is taken for the amount of yarn; write `needs` before it, or leave it out";

/// Whether it counts more or less than one skein and says not how long one is.
fn not_one_skein(wanted: &Wanted) -> bool {
    let long = |each: &Settled| each.dimension == Dimension::Length;
    !wanted.each.as_ref().is_some_and(long) && wanted.amount.parts.iter().any(is_not_one)
}

const OF_ONE: &str =
    "taken for what one skein holds; write `needs` before it where it is what the pattern takes";

fn skeins(part: &AmountPart) -> Option<f64> {
    match part.quantity {
        Quantity::Skeins(skeins) => Some(skeins.low()),
        _ => None,
    }
}

fn first_word(text: &str) -> &str {
    let mut words = text.split(|c: char| !c.is_alphabetic());
    words.find(|word| !word.is_empty()).unwrap_or("")
}

fn is_not_one(part: &AmountPart) -> bool {
    matches!(part.quantity, Quantity::Skeins(skeins) if skeins.low() != 1.0 || skeins.high() != 1.0)
}
