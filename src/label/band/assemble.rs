//! Brings the parts of a text together: which length is the put-up's, which an
//! amount; what was stated twice; what was left.

use super::{
    BandReading,
    pairs::{first_pair, pair_first},
    scan::{Item, Part, merged, scan},
};
use crate::{
    label::grammar::{fibres::Fibres, gauge::OnNeedles, needles::Tool},
    label::reading::{NotRead, Note, NumberRange, Reading, Refusal, lex},
    measure::Interval,
    record::{Printed, StatedGauge},
};
use std::ops::Range;

/// Reads `text` as far as it can be understood. Nothing is guessed: what may
/// mean several things is left out and reported.
///
/// A length and a mass that stand together (`225 m/100 g`) are the put-up's,
/// else the first of each. A further one, or one beside a word such as `needs`
/// or `total`, is an amount. Skeins are always an
/// amount; what each of them holds is the put-up.
pub fn read_band(text: &str) -> BandReading {
    let mut band = Assembly {
        text,
        out: BandReading::default(),
        left: Vec::new(),
        bare: Vec::new(),
        counted_to: None,
        loose_length: None,
        pair: None,
    };
    let parts = scan(&lex(text));
    band.pair = first_pair(&parts, text);
    for part in pair_first(parts, text) {
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

pub(super) struct Assembly<'t> {
    pub(super) text: &'t str,
    pub(super) out: BandReading,
    pub(super) left: Vec<(Range<usize>, String)>,
    pub(super) bare: Vec<(Reading<Fibres>, Range<usize>)>,
    /// Where a count of several skeins ends that says not what one holds.
    pub(super) counted_to: Option<usize>,
    /// The length that was taken for one skein's, where nothing says that it is.
    pub(super) loose_length: Option<Range<usize>>,
    /// The first length and mass that stand together: their bytes, and grams.
    pub(super) pair: Option<(Range<usize>, f64)>,
}

impl Assembly<'_> {
    pub(super) fn printed(&self, span: &Range<usize>) -> String {
        self.text.get(span.clone()).unwrap_or("").to_owned()
    }

    pub(super) fn refuse(&mut self, refusal: Refusal) {
        let not_read = refusal.not_read(self.text);
        self.left.push((not_read.span, not_read.why));
    }

    pub(super) fn leave(&mut self, span: Range<usize>, why: &str) {
        self.left.push((span, why.to_owned()));
    }

    pub(super) fn warn(&mut self, span: &Range<usize>, message: String) {
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
            Item::GaugeOnNeedles(on) => self.gauge_on_needles(*on, span),
            Item::UnitFirst(duals) => duals
                .iter()
                .for_each(|dual| self.measured(dual, dual.span.clone())),
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

    fn gauge(&mut self, gauge: StatedGauge, span: Range<usize>) {
        let text = self.printed(&span);
        self.out.strands_held = self.out.strands_held.or(gauge.strands);
        if !set_printed(&mut self.out.facts.gauge, text, gauge) {
            self.leave(span, TWICE);
        }
    }

    fn gauge_on_needles(&mut self, on: OnNeedles, span: Range<usize>) {
        self.gauge(on.gauge, span);
        match on.tool {
            Ok(tool) => {
                self.out.warnings.extend(tool.notes);
                self.tool(tool.value, on.tool_span);
            }
            Err(refusal) => self.refuse(refusal),
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

    fn finished(mut self) -> BandReading {
        self.bare_fibres();
        self.drop_doubtful_length();
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

/// Why a second value of one fact is left.
pub(super) const TWICE: &str = "stated twice with another value; keep the right one";

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

pub(super) fn set_printed<T: PartialEq>(
    place: &mut Option<Printed<T>>,
    text: String,
    value: T,
) -> bool {
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
            "7777777777777",
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

    /// Found by fuzzing: a second amount whose mass is not possible was left twice.
    #[test]
    fn what_is_left_for_two_reasons_is_told_once_with_both() {
        let left = read_band("7 x 7777777777777 oz 3 x 7777777777777 oz").not_read;
        let last = left.last().unwrap();
        assert_eq!(last.text, "3 x 7777777777777 oz");
        assert!(last.why.contains("second amount") && last.why.contains("not possible"));
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
