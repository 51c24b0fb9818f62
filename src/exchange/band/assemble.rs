//! Brings the parts of a text together: which length is the put-up's, which an
//! amount; what was stated twice; what was left.

use super::{
    Amount, AmountPart, BandReading, Quantity,
    scan::{Item, Part, merged, scan},
};
use crate::{
    exchange::grammar::{
        amount::{Wanted, is_yarn_unit},
        fibres::Fibres,
        needles::Tool,
    },
    measure::{
        Grist, Interval, Length, Mass, YarnCount,
        reading::{Dual, NotRead, Note, NumberRange, Reading, Refusal, Settled, lex},
        units::{CountSystem, Dimension},
    },
    record::{Care, Classes, Printed, StatedGauge},
};
use std::ops::Range;

/// Reads `text` as far as it can be understood. Nothing is guessed: what may
/// mean several things is left out and reported.
///
/// The first length and the first mass are the put-up's. A further one, or one
/// beside a word such as `needs` or `total`, is an amount. Skeins are always an
/// amount; what each of them holds is the put-up.
pub fn read_band(text: &str) -> BandReading {
    let mut band = Assembly {
        text,
        out: BandReading::default(),
        left: Vec::new(),
        bare: Vec::new(),
    };
    let tokens = lex(text);
    for part in scan(&tokens) {
        match part {
            Part::Left(span, why) => band.left.push((span, why.to_owned())),
            Part::Found(outcome, span) => match *outcome {
                Err(refusal) => band.refuse(refusal),
                Ok(reading) => band.found(reading, span),
            },
        }
    }
    band.finished()
}

struct Assembly<'t> {
    text: &'t str,
    out: BandReading,
    left: Vec<(Range<usize>, String)>,
    bare: Vec<(Reading<Fibres>, Range<usize>)>,
}

impl Assembly<'_> {
    fn printed(&self, span: &Range<usize>) -> String {
        self.text.get(span.clone()).unwrap_or("").to_owned()
    }

    fn refuse(&mut self, refusal: Refusal) {
        let not_read = refusal.not_read(self.text);
        self.left.push((not_read.span, not_read.why));
    }

    fn leave(&mut self, span: Range<usize>, why: &str) {
        self.left.push((span, why.to_owned()));
    }

    fn warn(&mut self, span: &Range<usize>, message: String) {
        self.out.warnings.push(Note {
            span: span.clone(),
            message,
        });
    }

    fn found(&mut self, reading: Reading<Item>, span: Range<usize>) {
        if let Item::Fibres(fibres) = reading.value {
            return self.fibres(
                Reading {
                    value: fibres,
                    notes: reading.notes,
                },
                span,
            );
        }
        self.out.warnings.extend(reading.notes);
        match reading.value {
            Item::Measured(dual) => self.measured(&dual, span),
            Item::Count(count) => self.count(count, &span),
            Item::Grist(grist) => self.grist(grist, &span),
            Item::Gauge(gauge) => self.gauge(gauge, span),
            Item::Tool(tool) => self.tool(tool, span),
            Item::Amount(wanted) => self.wanted(wanted, span),
            Item::Wraps(range) => self.wraps(&range),
            Item::Class(classes) => self.class(classes, span),
            Item::Gtin(Err(error)) => self.warn(&span, error.to_string()),
            other => self.plain(other, span),
        }
    }

    /// Facts that only have to be unsaid so far.
    fn plain(&mut self, item: Item, span: Range<usize>) {
        let text = self.printed(&span);
        let out = &mut self.out;
        let fits = match item {
            Item::Price(price) => set_printed(&mut out.facts.price, text, price),
            Item::Care(care) => set_printed(&mut out.facts.care, text, care),
            Item::Construction(construction, plies) => {
                out.facts.plies = out.facts.plies.or(plies);
                set_printed(&mut out.facts.construction, text, construction)
            }
            Item::Purpose(purpose) => set(&mut out.purpose, purpose),
            Item::Fit(fit) => set(&mut out.fit, fit),
            Item::Strands(strands) => set(&mut out.strands_held, strands),
            Item::Gtin(Ok(gtin)) => set(&mut out.gtin, gtin),
            Item::Shade(shade) => shade.is_none_or(|shade| set(&mut out.shade, shade)),
            Item::Lot(lot) => lot.is_none_or(|lot| set(&mut out.lot, lot)),
            _ => true,
        };
        if !fits {
            self.leave(span, TWICE);
        }
    }

    fn settled(&mut self, dual: &Dual) -> Option<(Settled, f64)> {
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

    fn measured(&mut self, dual: &Dual, span: Range<usize>) {
        if !is_yarn_unit(dual.first.unit) {
            return self.leave(
                span,
                "yarn is not measured in this unit; write metres or yards",
            );
        }
        let Some((settled, value)) = self.settled(dual) else {
            return;
        };
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
                self.out.amount = Some(self.amount_of(quantity, &span))
            }
            Ok(_) => self.leave(span, TWICE),
            Err(error) => self.left.push((span, error.to_string())),
        }
    }

    fn amount_of(&self, quantity: Quantity, span: &Range<usize>) -> Amount {
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
    fn put_up(&mut self, settled: &Settled, value: f64) -> bool {
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

    fn count(&mut self, count: YarnCount, span: &Range<usize>) {
        let text = self.printed(span);
        if !set_printed(&mut self.out.facts.count, text, count) {
            self.leave(span.clone(), TWICE);
        }
    }

    /// A length per unit of mass is a count of one single; it claims no put-up.
    fn grist(&mut self, grist: Grist, span: &Range<usize>) {
        match YarnCount::new(grist.as_metres_per_gram(), 1, CountSystem::Metric) {
            Ok(count) => self.count(count, span),
            Err(error) => self.left.push((span.clone(), error.to_string())),
        }
    }

    fn gauge(&mut self, gauge: StatedGauge, span: Range<usize>) {
        let text = self.printed(&span);
        self.out.strands_held = self.out.strands_held.or(gauge.strands);
        if !set_printed(&mut self.out.facts.gauge, text, gauge) {
            self.leave(span, TWICE);
        }
    }

    fn tool(&mut self, tool: Tool, span: Range<usize>) {
        let text = self.printed(&span);
        match tool {
            Tool::Hook => self.leave(span, "a crochet hook, not a needle; write the needle size"),
            Tool::Needles(needles) => {
                if !needles.is_one() && text.contains('?') {
                    self.warn(
                        &span,
                        "the needle size is in doubt: both sizes are kept as a range".to_owned(),
                    );
                }
                if !set_printed(&mut self.out.facts.needles, text, needles) {
                    self.leave(span, TWICE);
                }
            }
        }
    }

    fn wanted(&mut self, wanted: Wanted, span: Range<usize>) {
        if let Some(each) = &wanted.each {
            self.put_up(each, each.low);
        }
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

    /// Two names of one yarn: the classes that they share.
    fn class(&mut self, classes: Classes, span: Range<usize>) {
        let text = self.printed(&span);
        let Some(known) = &mut self.out.facts.class else {
            self.out.facts.class = Some(Printed::new(text, classes));
            return;
        };
        let shared = known.value.as_slice().iter().copied();
        let shared = shared
            .filter(|class| classes.as_slice().contains(class))
            .collect();
        match Classes::new(shared) {
            Some(shared) => known.value = shared,
            None => self.leave(span, TWICE),
        }
    }

    fn wraps(&mut self, range: &NumberRange) {
        match range.settled(None) {
            Ok((low, high)) if low > 0.0 && high <= 200.0 => {
                self.out.wraps_per_inch = Interval::between(low, high).ok();
            }
            Ok(_) => self.leave(
                range.span.clone(),
                "wraps per inch lie above 0 and up to 200; count them again",
            ),
            Err(refusal) => self.refuse(refusal),
        }
    }

    fn fibres(&mut self, fibres: Reading<Fibres>, span: Range<usize>) {
        if fibres.value.superwash && self.out.facts.care.is_none() {
            self.out.facts.care = Some(Printed::new(self.printed(&span), Care::MachineWash));
            self.warn(
                &span,
                "superwash is read as: takes a machine wash; the label's own care signs count"
                    .to_owned(),
            );
        }
        match fibres.value.bare {
            true => self.bare.push((fibres, span)),
            false => self.blend(fibres, span),
        }
    }

    fn blend(&mut self, fibres: Reading<Fibres>, span: Range<usize>) {
        let text = self.printed(&span);
        match set_printed(&mut self.out.facts.blend, text, fibres.value.blend) {
            true => self.out.warnings.extend(fibres.notes),
            false => self.leave(span, TWICE),
        }
    }

    /// A fibre named without a share counts only where no shares are stated.
    fn bare_fibres(&mut self) {
        let shares_stated = self.out.facts.blend.is_some();
        for (fibres, span) in std::mem::take(&mut self.bare) {
            match shares_stated {
                true => self.leave(
                    span,
                    "a fibre named beside a blend that is stated with shares; leave it out",
                ),
                false => self.blend(fibres, span),
            }
        }
    }

    fn finished(mut self) -> BandReading {
        self.bare_fibres();
        self.left.sort_by_key(|(span, _)| (span.start, span.end));
        self.out
            .warnings
            .sort_by_key(|note| (note.span.start, note.span.end));
        let text = self.text;
        self.out.not_read = merged(self.left, text)
            .into_iter()
            .map(|(span, why)| NotRead {
                text: text.get(span.clone()).unwrap_or("").to_owned(),
                span,
                why,
            })
            .collect();
        self.out
    }
}

const TWICE: &str = "stated twice with another value; keep the right one";

/// Sets what is unsaid; true also where the same was said before.
fn set<T: PartialEq>(place: &mut Option<T>, value: T) -> bool {
    match place {
        Some(known) => *known == value,
        None => {
            *place = Some(value);
            true
        }
    }
}

fn set_printed<T: PartialEq>(place: &mut Option<Printed<T>>, text: String, value: T) -> bool {
    match place {
        Some(known) => known.value == value,
        None => {
            *place = Some(Printed::new(text, value));
            true
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Pieces of labels in any order, so that grammars meet in odd places.
    fn pieces() -> impl Strategy<Value = String> {
        let piece = prop::sample::select(vec![
            "50",
            "1.100",
            "1,250",
            "3/4",
            "½",
            "22",
            "0",
            "100",
            "75",
            "25",
            "7",
            "6",
            "g",
            "m",
            "yd",
            "oz",
            "lb",
            "mm",
            "cm",
            "in",
            "%",
            "wool",
            "nylon",
            "cotton",
            "bamboo",
            "WO",
            "CA",
            "sts",
            "rows",
            "r",
            "rnds",
            "sc",
            "x",
            "×",
            "/",
            "(",
            ")",
            "[",
            "]",
            "-",
            "–",
            "+",
            "=",
            "~",
            ",",
            ";",
            ":",
            "#",
            "?",
            "$",
            "£",
            "€",
            "kr",
            "US",
            "UK",
            "old",
            "size",
            "no.",
            "needles",
            "Ø",
            "hook",
            "Nm",
            "tex",
            "Ne",
            "R",
            "ply",
            "dk",
            "4",
            "class",
            "CYC",
            "baby",
            "skeins",
            "ball",
            "balls",
            "each",
            "in",
            "A",
            "B",
            "MC",
            "XS",
            "S",
            "M",
            "L",
            "2",
            "XL",
            "of",
            "and",
            "half",
            "a",
            "full",
            "about",
            "needs",
            "total",
            "lot",
            "colour",
            "n/a",
            "superwash",
            "not",
            "machine wash",
            "30",
            "°C",
            "held",
            "double",
            "strands",
            "wpi",
            "5012345678900",
            "mostly",
            "burns",
            "like",
            "gauge",
            "per",
            "to",
            "10",
            "\u{a0}",
            "\u{202e}",
            "Â",
            "‚",
            "\u{1b}[3m",
            "'",
            "\"",
            "e9",
            "plied",
            "pad",
            "hot",
        ]);
        prop::collection::vec((piece, prop::bool::ANY), 0..14).prop_map(|pieces| {
            pieces
                .into_iter()
                .map(|(piece, space)| format!("{piece}{}", if space { " " } else { "" }))
                .collect()
        })
    }

    fn spans_lie_in(text: &str) -> Result<(), TestCaseError> {
        let band = read_band(text);
        for note in &band.warnings {
            prop_assert!(
                text.get(note.span.clone()).is_some(),
                "{:?} in {text:?}",
                note.span
            );
        }
        let mut end = 0;
        for left in &band.not_read {
            prop_assert_eq!(text.get(left.span.clone()), Some(left.text.as_str()));
            prop_assert!(left.span.start >= end, "{left:?} before {end} in {text:?}");
            end = left.span.end;
        }
        Ok(())
    }

    proptest! {
        #[test]
        fn prop_any_text_is_read_without_panic_and_spans_lie_in_it(text in any::<String>()) {
            spans_lie_in(&text)?;
        }

        #[test]
        fn prop_any_bytes_are_read_without_panic(bytes in prop::collection::vec(any::<u8>(), 0..200)) {
            spans_lie_in(&String::from_utf8_lossy(&bytes))?;
        }

        #[test]
        fn prop_pieces_of_labels_in_any_order_keep_their_spans(text in pieces()) {
            spans_lie_in(&text)?;
        }

        #[test]
        fn prop_a_put_up_is_read_whatever_its_order_and_signs(
            metres in 10u32..999, grams in 10u32..500, sign in 0usize..6, mass_first in any::<bool>(),
        ) {
            let sign = [" = ", "/", " ≈ ", ", ", " - ", " "][sign];
            let (length, mass) = (format!("{metres} m"), format!("{grams}g"));
            let text = if mass_first { format!("{mass}{sign}{length}") } else { format!("{length}{sign}{mass}") };
            let facts = read_band(&text).facts;
            prop_assert_eq!(facts.length.map(|l| l.value.as_metres()), Some(f64::from(metres)), "{}", text);
            prop_assert_eq!(facts.mass.map(|m| m.value.as_grams()), Some(f64::from(grams)), "{}", text);
        }
    }
}
