//! What only the whole text makes clear: fibres without shares, plies, temperatures
//! of a wash, fits; whose a length is that stands beside several skeins, and whether a
//! mass is a ball's at all, told by what lengths per mass and what balls there are.

use super::{
    Quantity,
    builder::{BandBuilder, Left},
    put_up::{APART, ONE_OR_ALL, is_not_one, skeins},
    scan::Item,
};
use crate::{
    label::{
        care::{CARE_ALLOWED, HEAT},
        class::plies_named,
        length_mass::DualMeasure,
        reading::Note,
        token::{is_skein_word, lex},
    },
    measure::{
        Interval, Length,
        units::{Dimension, POUND_G, YARD_M},
    },
    record::Printed,
    trade::{CLASS_GRISTS, Construction, WeightClass, classes_by_grist},
    words::number,
};
use std::ops::Range;

impl BandBuilder<'_> {
    /// A fibre named without a share counts only where no shares are stated,
    /// readable or not, and no other fibre is named.
    pub(super) fn bare_fibres(&mut self) {
        let why = self.why_no_bare_fibre();
        for (blend, span) in std::mem::take(&mut self.bare) {
            match why {
                Some(why) => self.leave(&span, why),
                None => self.set_blend(blend, &span),
            }
        }
    }

    fn why_no_bare_fibre(&self) -> Option<&'static str> {
        let share_left = |left: &Left| self.printed(&left.span).contains('%');
        let mut blends = self.bare.iter().map(|(stated, _)| &stated.value.blend);
        let first = blends.next();
        if self.out.facts.blend.is_some() {
            return Some("a fibre beside a list that has shares already; leave it out");
        }
        if self.left.iter().any(share_left) {
            return Some(
                "the shares beside it are not understood; write them as in `75% wool, 25% nylon`",
            );
        }
        blends
            .any(|blend| Some(blend) != first)
            .then_some("several fibres have no shares; write the share of each")
    }

    /// A number of plies that the stated length and mass make no class of is how
    /// many singles are twisted: `2 ply, 80 m/50 g`.
    pub(super) fn plies_by_length(&mut self) {
        let facts = &mut self.out.facts;
        let Some((class, grist)) = facts.class.as_ref().zip(facts.grist()) else {
            return;
        };
        let far = |class: &WeightClass| {
            let by_grist = classes_by_grist(grist);
            by_grist
                .iter()
                .all(|other| other.number().abs_diff(class.number()) >= 2)
        };
        let Some(plies) =
            plies_named(&class.text).filter(|_| class.value.as_slice().iter().all(far))
        else {
            return;
        };
        let text = class.text.clone();
        let built = match plies {
            1 => Construction::Single,
            _ => Construction::Plied,
        };
        facts.class = None;
        facts.plies = facts.plies.or(Some(plies));
        facts
            .construction
            .get_or_insert(Printed::new(text.clone(), built));
        let at = self.text.find(&text).unwrap_or(0);
        let message = format!(
            "`{text}` is read as how the yarn is built, not as a weight class: its length and weight show another thickness"
        );
        self.warn(&(at..at + text.len()), message);
    }

    /// Temperatures and fits that only the rest of the text makes clear.
    pub(super) fn settle_doubts(&mut self) {
        if self.out.facts.care.is_none() {
            for span in std::mem::take(&mut self.heats) {
                self.leave(&span, format!("{HEAT}; write {CARE_ALLOWED}"));
            }
        }
        match self.loose_fit.take() {
            Some((fit, span)) if self.out.purpose.is_some() => {
                self.plain_fact(Item::Fit(fit), &span);
            }
            Some((_, span)) => {
                self.leave(&span, "it may be about the yarn, the gauge or the garment; write `relaxed fit` for the garment");
            }
            None => {}
        }
    }
}

/// Why metres beside rows are left.
pub(super) const METRES_OR_STITCHES: &str =
    "beside rows it may be metres or stitches; write `26 metres`, or `26 sts x 36 rows / 10 cm`";

/// From the least to the most metres per gram of yarn that is sold in balls: super
/// bulky to cobweb. Common practice, no source.
const LIKELY_GRISTS: (f64, f64) = (0.5, 16.0);

/// A mass above it, without a length and without the word for a ball, is what a
/// pattern takes. Common practice, no source.
const MOST_BALL_G: f64 = 200.0;

const OF_ONE: &str =
    "read as what one ball holds; write `needs` before it if the pattern needs that much";

/// Whose a length beside several skeins is.
enum Whose {
    One,
    All(f64),
    Either,
}

impl BandBuilder<'_> {
    /// Whether it is written as stitches may be, too: `26 m` beside rows.
    pub(super) fn may_be_stitches(&self, dual: &DualMeasure) -> bool {
        let letter =
            self.printed(&dual.span).ends_with(['m', 'M']) && dual.first.unit.symbol == "m";
        let magnitude = dual.magnitude().map(|reading| reading.value.high);
        letter && magnitude.is_ok_and(|metres| metres <= 60.0)
    }

    /// How many skeins are counted, where that is one number above one.
    fn several_skeins(&self) -> Option<f64> {
        let amount = self.out.amount.as_ref()?;
        let [only] = amount.parts.as_slice() else {
            return None;
        };
        skeins(only).filter(|count| *count > 1.0)
    }

    /// Whose length it is beside so many skeins of a known mass, as far as its
    /// length per mass tells.
    fn whose(&self, metres: f64) -> Option<Whose> {
        let (count, mass) = self.several_skeins().zip(self.out.facts.mass.as_ref())?;
        let (least, most) = self.likely_grists();
        let likely = |metres: f64| (least..=most).contains(&(metres / mass.value.as_grams()));
        Some(match (likely(metres), likely(metres / count)) {
            (true, false) => Whose::One,
            (false, true) => Whose::All(count),
            _ => Whose::Either,
        })
    }

    /// From the least to the most metres per gram of the yarn: of its class, half as
    /// much again on either side, else of any.
    fn likely_grists(&self) -> (f64, f64) {
        const WIDER: f64 = 1.5;
        let classes = self
            .out
            .facts
            .class
            .iter()
            .flat_map(|class| class.value.as_slice());
        let (mut least, mut most) = LIKELY_GRISTS;
        let rows: Vec<_> = classes
            .filter_map(|class| CLASS_GRISTS.iter().find(|row| row.class == class.number()))
            .collect();
        let end = |yards: f64| yards * YARD_M / POUND_G;
        if let Some(fewest) = rows
            .iter()
            .map(|row| row.fewest.unwrap_or(0.0))
            .reduce(f64::min)
        {
            least = f64::max(least, end(fewest) / WIDER);
        }
        if let Some(largest) = rows
            .iter()
            .map(|row| row.most.unwrap_or(f64::MAX))
            .reduce(f64::max)
        {
            most = f64::min(most, end(largest) * WIDER);
        }
        (least, most)
    }

    /// Takes a length in brackets or behind a sign where its length per mass says
    /// whose it is; false where it says nothing.
    pub(super) fn one_or_all(&mut self, dual: &DualMeasure) -> bool {
        let read = dual.magnitude().and_then(|reading| reading.value.one());
        if dual.dimension() == Dimension::Mass {
            return read.is_ok_and(|grams| self.is_mass_of_all(grams));
        }
        let length = dual.dimension() == Dimension::Length && self.out.facts.length.is_none();
        let Some(metres) = read.ok().filter(|_| length) else {
            return false;
        };
        match self.whose(metres) {
            Some(Whose::One) => self.set_length(metres, &dual.span),
            Some(Whose::All(count)) => self.set_length_of_all(metres, count, &dual.span),
            _ => return false,
        }
        true
    }

    /// `12 balls 50 g = 600 g`: what all of them weigh says nothing new.
    pub(super) fn is_mass_of_all(&self, grams: f64) -> bool {
        let one = self
            .out
            .facts
            .mass
            .as_ref()
            .map(|mass| mass.value.as_grams());
        let all = one
            .zip(self.several_skeins())
            .map(|(one, count)| one * count);
        all.is_some_and(|all| (all / grams - 1.0).abs() <= APART)
    }

    fn set_length(&mut self, metres: f64, span: &Range<usize>) {
        self.out.facts.length = Length::metres(metres)
            .ok()
            .map(|length| Printed::new(self.printed(span), length));
    }

    fn set_length_of_all(&mut self, metres: f64, count: f64, span: &Range<usize>) {
        self.set_length(metres / count, span);
        let message = format!(
            "`{}` is read as the length of all {}, since one could not be so long",
            self.printed(span),
            number(count, 2)
        );
        self.warn(span, message);
    }

    /// `10 x 50 g, 1250 m`: a length that was taken for one skein's, where it is that
    /// of all, or may be.
    pub(super) fn share_out_length(&mut self) {
        let Some(span) = self.loose_length.clone() else {
            return;
        };
        let Some(metres) = self
            .out
            .facts
            .length
            .as_ref()
            .map(|length| length.value.as_metres())
        else {
            return;
        };
        match self.whose(metres) {
            Some(Whose::All(count)) => self.set_length_of_all(metres, count, &span),
            Some(Whose::Either) if self.weighed_each => {
                self.out.facts.length = None;
                self.leave(&span, ONE_OR_ALL);
            }
            _ => {}
        }
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
                self.leave(&span, ONE_OR_ALL);
            }
            Some(span) if self.out.amount.is_none() && self.out.facts.length.is_some() => {
                let message = format!("`{}` is {OF_ONE}", self.printed(&span));
                self.out.lone_length = Some(Note::new(&span, message));
            }
            _ => {}
        }
    }

    /// `12 oz DK`: more than a ball weighs, where none is named, is an amount.
    pub(super) fn mass_of_pattern(&mut self) {
        let facts = &self.out.facts;
        let alone = !self.has_length && facts.length.is_none() && facts.count.is_none();
        let (Some(span), Some(mass)) = (self.loose_mass.take(), &facts.mass) else {
            return;
        };
        let (grams, ball) = (mass.value, is_skein_named(self.text));
        let heavy = grams.as_grams() > MOST_BALL_G;
        if self.of_skein || !alone || !heavy || ball || self.out.amount.is_some() {
            return;
        }
        self.out.facts.mass = None;
        self.out.amount = Some(self.amount_of(Quantity::Mass(Interval::one(grams)), &span));
        let message = format!(
            "`{}` is read as the amount of yarn; write `ball` or `cone` beside it if one holds that much",
            self.printed(&span)
        );
        self.warn(&span, message);
    }
}

fn is_skein_named(text: &str) -> bool {
    let mut tokens = lex(text).into_iter();
    tokens.any(|token| token.word().is_some_and(is_skein_word))
}
