//! Brings the parts of a text together: which fact each of them states, what was
//! stated twice, what was left.

use super::{
    BandReading,
    put_up::{Pair, first_pair, pair_first},
    scan::{Item, Part},
};
use crate::{
    label::{
        fibre::StatedBlend,
        gauge::GaugeOnNeedles,
        needles::Tool,
        range::NumberRange,
        reading::{NotRead, Note, Reading, Refusal},
    },
    measure::Interval,
    record::{Care, Classes, Printed, StatedGauge},
};
use std::ops::Range;

/// Why a second value of one fact is left.
pub const TWICE: &str = "stated twice with another value; keep the right one";

/// What is known of a band while its parts are taken.
pub struct BandBuilder<'t> {
    pub(super) text: &'t str,
    pub(super) out: BandReading,
    /// Bytes that are left, and why.
    left: Vec<(Range<usize>, String)>,
    /// Fibres without a share.
    bare: Vec<(Reading<StatedBlend>, Range<usize>)>,
    /// Where a count of several skeins ends that says not what one holds.
    pub(super) counted_to: Option<usize>,
    /// The length that was taken for one skein's, where nothing says that it is.
    pub(super) loose_length: Option<Range<usize>>,
    /// The first length and mass that stand together.
    pub(super) pair: Option<Pair>,
}

impl<'t> BandBuilder<'t> {
    /// Nothing of `text` taken yet.
    pub fn new(text: &'t str) -> Self {
        Self {
            text,
            out: BandReading::default(),
            left: Vec::new(),
            bare: Vec::new(),
            counted_to: None,
            loose_length: None,
            pair: None,
        }
    }

    /// Takes all parts, the first pair of a length and a mass before others.
    pub fn read(mut self, parts: Vec<Part>) -> BandReading {
        self.pair = first_pair(&parts, self.text);
        for part in pair_first(parts, self.text) {
            match part {
                Part::Left(span, why) => self.leave(&span, why),
                Part::Found(found, span) => match *found {
                    Err(refusal) => self.refuse(&refusal),
                    Ok(reading) => self.take(reading, &span),
                },
            }
        }
        self.finish()
    }

    pub(super) fn printed(&self, span: &Range<usize>) -> String {
        self.text.get(span.clone()).unwrap_or("").to_owned()
    }

    pub(super) fn refuse(&mut self, refusal: &Refusal) {
        self.leave(&refusal.span, refusal.reason());
    }

    pub(super) fn leave(&mut self, span: &Range<usize>, why: impl ToString) {
        self.left.push((span.clone(), why.to_string()));
    }

    pub(super) fn warn(&mut self, span: &Range<usize>, message: impl Into<String>) {
        self.out.warnings.push(Note::new(span, message));
    }

    fn take(&mut self, reading: Reading<Item>, span: &Range<usize>) {
        if let Item::Blend(blend) = reading.value {
            return self.blend(Reading::new(blend, reading.notes), span);
        }
        match reading.note_in(&mut self.out.warnings) {
            Item::Measured(dual) => self.measured(&dual, span),
            Item::Count(count) => self.count(count, span),
            Item::Grist(grist) => self.grist(grist, span),
            Item::Gauge(gauge) => self.gauge(gauge, span),
            Item::GaugeOnNeedles(on) => self.gauge_on_needles(*on, span),
            Item::UnitFirst(duals) => {
                duals
                    .iter()
                    .for_each(|dual| self.measured(dual, &dual.span));
            }
            Item::Tool(tool) => self.tool(&tool, span),
            Item::Amount(stated) => self.amount(stated, span),
            Item::Wraps(range) => self.wraps(&range),
            Item::Class(classes) => self.class(classes, span),
            Item::Gtin(Err(error)) => self.warn(span, error.to_string()),
            other => self.plain_fact(other, span),
        }
    }

    /// Facts that only have to be unsaid so far.
    fn plain_fact(&mut self, item: Item, span: &Range<usize>) {
        let text = self.printed(span);
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

    fn gauge(&mut self, gauge: StatedGauge, span: &Range<usize>) {
        let text = self.printed(span);
        self.out.strands_held = self.out.strands_held.or(gauge.strands);
        if !set_printed(&mut self.out.facts.gauge, text, gauge) {
            self.leave(span, TWICE);
        }
    }

    fn gauge_on_needles(&mut self, on: GaugeOnNeedles, span: &Range<usize>) {
        self.gauge(on.gauge, span);
        match on.tool {
            Ok(tool) => {
                let tool = tool.note_in(&mut self.out.warnings);
                self.tool(&tool, &on.tool_span);
            }
            Err(refusal) => self.refuse(&refusal),
        }
    }

    fn tool(&mut self, tool: &Tool, span: &Range<usize>) {
        let Tool::Needles(needles) = *tool else {
            let why = "a crochet hook, not a needle; write the needle size";
            return self.leave(span, why);
        };
        let text = self.printed(span);
        if !needles.is_one() && text.contains('?') {
            let message = "the needle size is in doubt: both sizes are kept as a range";
            self.warn(span, message);
        }
        if !set_printed(&mut self.out.facts.needles, text, needles) {
            self.leave(span, TWICE);
        }
    }

    fn wraps(&mut self, range: &NumberRange) {
        match range.ends(None, "") {
            Ok((low, high)) if low > 0.0 && high <= 200.0 => {
                self.out.wraps_per_inch = Interval::between(low, high).ok();
            }
            Ok(_) => self.leave(
                &range.span,
                "wraps per inch lie above 0 and up to 200; count them again",
            ),
            Err(refusal) => self.refuse(&refusal),
        }
    }

    /// Two names of one yarn: the classes that they share.
    fn class(&mut self, classes: Classes, span: &Range<usize>) {
        let text = self.printed(span);
        let Some(known) = &mut self.out.facts.class else {
            self.out.facts.class = Some(Printed::new(text, classes));
            return;
        };
        let shared = known.value.as_slice().iter().copied();
        let shared = shared.filter(|class| classes.as_slice().contains(class));
        match Classes::new(shared.collect()) {
            Some(shared) => known.value = shared,
            None => self.leave(span, TWICE),
        }
    }

    fn blend(&mut self, blend: Reading<StatedBlend>, span: &Range<usize>) {
        if blend.value.superwash && self.out.facts.care.is_none() {
            self.out.facts.care = Some(Printed::new(self.printed(span), Care::MachineWash));
            self.warn(
                span,
                "superwash is read as: takes a machine wash; the label's own care signs count",
            );
        }
        if blend.value.bare {
            self.bare.push((blend, span.clone()));
        } else {
            self.set_blend(blend, span);
        }
    }

    fn set_blend(&mut self, blend: Reading<StatedBlend>, span: &Range<usize>) {
        let text = self.printed(span);
        if set_printed(&mut self.out.facts.blend, text, blend.value.blend) {
            self.out.warnings.extend(blend.notes);
        } else {
            self.leave(span, TWICE);
        }
    }

    /// A fibre named without a share counts only where no shares are stated,
    /// readable or not, and no other fibre is named.
    fn bare_fibres(&mut self) {
        let why = self.why_no_bare_fibre();
        for (blend, span) in std::mem::take(&mut self.bare) {
            match why {
                Some(why) => self.leave(&span, why),
                None => self.set_blend(blend, &span),
            }
        }
    }

    fn why_no_bare_fibre(&self) -> Option<&'static str> {
        let share_left = |(span, _): &(Range<usize>, String)| self.printed(span).contains('%');
        let mut blends = self.bare.iter().map(|(stated, _)| &stated.value.blend);
        let first = blends.next();
        if self.out.facts.blend.is_some() {
            return Some("a fibre named beside a blend that is stated with shares; leave it out");
        }
        if self.left.iter().any(share_left) {
            return Some("the shares beside it are not read; write such as `75% wool, 25% nylon`");
        }
        blends
            .any(|blend| Some(blend) != first)
            .then_some("several fibres are named without their shares; write each share")
    }

    fn finish(mut self) -> BandReading {
        self.bare_fibres();
        self.drop_doubtful_length();
        self.left.sort_by_key(|(span, _)| (span.start, span.end));
        self.out
            .warnings
            .sort_by_key(|note| (note.span.start, note.span.end));
        let left = merged(std::mem::take(&mut self.left), self.text);
        let not_read = left.into_iter().map(|(span, why)| NotRead {
            text: self.printed(&span),
            span,
            why,
        });
        self.out.not_read = not_read.collect();
        self.out
    }
}

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

/// The same of a value beside the words it was read from.
pub fn set_printed<T: PartialEq>(place: &mut Option<Printed<T>>, text: String, value: T) -> bool {
    match place {
        Some(known) => known.value == value,
        None => {
            *place = Some(Printed::new(text, value));
            true
        }
    }
}

/// Adjacent parts that were left for one reason are one.
fn merged(parts: Vec<(Range<usize>, String)>, text: &str) -> Vec<(Range<usize>, String)> {
    let mut merged: Vec<(Range<usize>, String)> = Vec::new();
    for (span, why) in parts {
        match merged.last_mut() {
            Some((last, reason)) if span.start < last.end => {
                last.end = last.end.max(span.end);
                if *reason != why {
                    *reason = format!("{reason}; {why}");
                }
            }
            Some((last, reason)) if *reason == why && is_gap(text.get(last.end..span.start)) => {
                last.end = span.end;
            }
            _ => merged.push((span, why)),
        }
    }
    merged
}

fn is_gap(between: Option<&str>) -> bool {
    between.is_some_and(|between| between.trim().is_empty())
}
