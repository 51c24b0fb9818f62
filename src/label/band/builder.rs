//! Brings the parts of a text together: which fact each of them states, what was
//! stated twice, what was left.

use super::{
    BandReading,
    negation::HOLDS_NOT,
    pair::{Pair, first_pair, pair_first},
    scan::{Item, Part, Scan},
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
    record::{Care, Classes, Fit, Printed, Purpose, StatedGauge},
    trade::Construction,
};
use std::ops::Range;

/// Why a second value of one fact is left.
pub const TWICE: &str = "given twice with different values; leave the wrong one out";

/// What is known of a band while its parts are put together.
#[derive(Default)]
pub struct BandBuilder<'t> {
    pub(super) text: &'t str,
    pub(super) out: BandReading,
    /// What is left.
    pub(super) left: Vec<Left>,
    /// Fibres without a share.
    pub(super) bare: Vec<(Reading<StatedBlend>, Range<usize>)>,
    /// Where a count of several skeins ends that says not what one holds.
    pub(super) counted_to: Option<usize>,
    /// The length that was taken for one skein's, where nothing says that it is.
    pub(super) loose_length: Option<Range<usize>>,
    /// The same of a mass.
    pub(super) loose_mass: Option<Range<usize>>,
    /// Whether any length is stated, taken or not.
    pub(super) has_length: bool,
    /// Whether the text is about one skein and nothing else.
    pub(super) of_skein: bool,
    /// Whether the mass of one skein was said with how many there are: `10 x 50 g`.
    pub(super) weighed_each: bool,
    /// Whether rows are counted somewhere by themselves.
    pub(super) lone_rows: bool,
    /// Temperatures of a wash that is not named.
    pub(super) heats: Vec<Range<usize>>,
    /// A word that says how close a thing sits where one is named.
    pub(super) loose_fit: Option<(Fit, Range<usize>)>,
    /// The first length and mass that stand together.
    pub(super) pair: Option<Pair>,
}

/// A part that is left.
pub(super) struct Left {
    pub(super) span: Range<usize>,
    pub(super) why: String,
    pub(super) unknown: bool,
}

impl<'t> BandBuilder<'t> {
    /// Nothing of `text` taken yet.
    pub fn new(text: &'t str) -> Self {
        Self {
            text,
            ..Self::default()
        }
    }

    /// The same of a text about one skein.
    pub fn of_skein(text: &'t str) -> Self {
        Self {
            of_skein: true,
            ..Self::new(text)
        }
    }

    /// Takes all parts, the first pair of a length and a mass before others.
    pub fn read(mut self, scan: Scan) -> BandReading {
        let parts = scan.parts;
        self.out.denied = scan.denied;
        self.lone_rows = parts
            .iter()
            .any(|part| matches!(part.item(), Some(Item::LoneRows)));
        self.pair = first_pair(&parts, self.text);
        for part in pair_first(parts, self.text) {
            match part {
                Part::Left(span, why) => self.leave(&span, why),
                Part::Unknown(span, why) => self.left.push(Left {
                    span,
                    why: why.to_owned(),
                    unknown: true,
                }),
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
        self.left.push(Left {
            span: span.clone(),
            why: why.to_string(),
            unknown: false,
        });
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
            Item::WashHeat => self.heats.push(span.clone()),
            Item::LoneRows => self.leave(
                span,
                "rows without their stitches; write `22 sts x 30 rows / 10 cm`",
            ),
            Item::Denied(denied) => {
                self.out.denied.push(denied);
                self.leave(span, HOLDS_NOT);
            }
            Item::LooseFit(fit) => self.loose_fit = Some((fit, span.clone())),
            Item::Gtin(Err(error)) => self.warn(span, error.to_string()),
            other => self.plain_fact(other, span),
        }
    }

    /// Facts that only have to be unsaid so far.
    pub(super) fn plain_fact(&mut self, item: Item, span: &Range<usize>) {
        let text = self.printed(span);
        let out = &mut self.out;
        let fits = match item {
            Item::Price(price) => set_printed(&mut out.facts.price, text, price),
            Item::Care(care) => set_printed(&mut out.facts.care, text, care),
            Item::Construction(construction, plies) => {
                out.facts.plies = out.facts.plies.or(plies);
                set_printed(&mut out.facts.construction, text, construction)
            }
            Item::Purpose(purpose) => set_purpose(&mut out.purpose, purpose),
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
        if gauge
            .stitch
            .as_ref()
            .is_some_and(|stitch| stitch.name() == "cabled")
        {
            let cabled = Printed::new("cabled", Construction::Cabled);
            self.out.facts.construction.get_or_insert(cabled);
            self.warn(span, "`cabled` may be the stitch of the gauge or how the yarn is built: used as both; write `cable pattern` or `cabled yarn` to say which");
        }
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
            let message = "the needle size is in doubt: used both sizes as a range";
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
                "wraps per inch are above 0 and at most 200; count them again",
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
                "superwash: assumed machine wash; the care signs on the label count more",
            );
        }
        if blend.value.bare {
            self.bare.push((blend, span.clone()));
        } else {
            self.set_blend(blend, span);
        }
    }

    pub(super) fn set_blend(&mut self, blend: Reading<StatedBlend>, span: &Range<usize>) {
        let text = self.printed(span);
        if set_printed(&mut self.out.facts.blend, text, blend.value.blend) {
            self.out.warnings.extend(blend.notes);
        } else {
            self.leave(span, TWICE);
        }
    }

    /// Keeps words that name a material beside the fibres, so that whoever reads these
    /// later meets them as well.
    fn keep_materials(&mut self) {
        let materials: Vec<String> = self.out.materials().map(str::to_owned).collect();
        let Some(blend) = &mut self.out.facts.blend else {
            return;
        };
        for material in materials {
            if !material.contains(|c: char| c.is_ascii_digit()) {
                blend.text = format!("{}, {material}", blend.text);
            }
        }
    }

    fn finish(mut self) -> BandReading {
        self.bare_fibres();
        self.share_out_length();
        self.drop_doubtful_length();
        self.mass_of_pattern();
        self.plies_by_length();
        self.settle_doubts();
        self.left
            .sort_by_key(|left| (left.span.start, left.span.end));
        self.out
            .warnings
            .sort_by_key(|note| (note.span.start, note.span.end));
        let left = merged(std::mem::take(&mut self.left), self.text);
        let not_read = left.into_iter().map(|left| NotRead {
            text: self.printed(&left.span),
            span: left.span,
            why: left.why,
            unknown: left.unknown,
        });
        self.out.not_read = not_read.collect();
        self.keep_materials();
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

/// Two words may say it together: `cardigan` and `for a child`.
fn set_purpose(place: &mut Option<Purpose>, value: Purpose) -> bool {
    let both = place.map_or(Some(value), |known| known.together(value));
    *place = both.or(*place);
    both.is_some()
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
fn merged(parts: Vec<Left>, text: &str) -> Vec<Left> {
    let mut merged: Vec<Left> = Vec::new();
    for part in parts {
        match merged.last_mut() {
            Some(last) if part.span.start < last.span.end => {
                last.span.end = last.span.end.max(part.span.end);
                if !last.why.contains(&part.why) {
                    last.why = format!("{}; {}", last.why, part.why);
                    last.unknown = false;
                }
            }
            Some(last)
                if last.why == part.why && is_gap(text.get(last.span.end..part.span.start)) =>
            {
                last.span.end = part.span.end;
            }
            _ => merged.push(part),
        }
    }
    merged
}

fn is_gap(between: Option<&str>) -> bool {
    between.is_some_and(|between| between.trim().is_empty())
}
