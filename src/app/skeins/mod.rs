//! How many skeins a need takes.

mod request;

pub use request::SkeinsRequest;

use super::{
    AppError, FaultKind, FieldNote, GaugeChange, GaugeReading, InputReader, MOST_STRANDS,
    gauge_change::ratio_of,
    question::{
        amounts::{SizeEstimate, SizePurchase, size_estimates},
        chance::{ChanceBasis, Confidence, SizeChance},
    },
};
use crate::{
    label::cells,
    measure::{Length, Ratio},
    quantity::{DEFAULT_MARGIN, purchase, strand_need},
    record::{Classes, Need, NeedRange, Price, YarnFacts, counter_in},
};

/// Answer to [`skeins`].
#[derive(Debug, Clone)]
pub struct SkeinsAnswer {
    /// The skein to buy.
    pub put_up: YarnFacts,
    /// What one is called: the word of its label, else of the need, else a skein.
    pub counted_in: &'static str,
    /// What is bought beyond the need.
    pub margin: Ratio,
    /// Strands held together.
    pub strands: u8,
    /// Another gauge than the pattern's.
    pub gauge_change: Option<GaugeChange>,
    /// Skeins of every size, in order.
    pub sizes: Vec<SizePurchase>,
    /// What needs stated as a mass alone may come to.
    pub estimates: Vec<SizeEstimate>,
    /// The chance of running out, where it was asked for.
    pub sure: Vec<SizeChance>,
    /// What that chance rests on.
    pub chance_basis: Option<ChanceBasis>,
    /// What was noticed in what was typed.
    pub notes: Vec<FieldNote>,
}

/// Skeins for every size of the need.
pub fn skeins(request: &SkeinsRequest) -> Result<SkeinsAnswer, AppError> {
    let mut reader = InputReader::default();
    let put_up = put_up(request, &mut reader);
    let reference = reader.optional("reference", request.reference.as_deref(), cells::put_up);
    let reference = reference.unwrap_or_else(YarnFacts::default);
    let needs = |text: &str| cells::needs(text, &reference);
    let needs = reader.required("need", request.need.as_deref(), needs);
    let terms = Terms::read(request, &mut reader);
    let ((put_up, skein), needs) = reader.checked(put_up.zip(needs))?;
    let mut counted = SizeAmounts::default();
    for (place, (size, need)) in needs.iter().enumerate() {
        let size = size_name(size.as_deref(), place, needs.len());
        match need.in_metres(reference.grist()) {
            Some(metres) => counted.add(size, metres?, &terms, (&put_up, skein))?,
            None => counted.estimate(&size, need, &reference, (&terms, skein)),
        }
    }
    if counted.sizes.is_empty() && counted.estimates.is_empty() {
        reader.fault("reference", FaultKind::MassWithoutGrist { class: "class" });
    }
    reader.check()?;
    let is_range = counted.sizes.iter().any(SizePurchase::is_range);
    let chance_basis = terms.sure.map(|sure| sure.basis(&put_up, is_range));
    let of_need = request.need.as_deref().and_then(counter_in);
    Ok(SkeinsAnswer {
        counted_in: match put_up.counter() {
            "skein" => of_need.unwrap_or("skein"),
            word => word,
        },
        put_up,
        margin: terms.margin,
        strands: terms.strands,
        gauge_change: terms.gauge_change,
        sizes: counted.sizes,
        estimates: counted.estimates,
        sure: counted.sure,
        chance_basis,
        notes: reader.notes,
    })
}

/// One skein of the yarn to buy, and its length.
fn put_up(request: &SkeinsRequest, reader: &mut InputReader) -> Option<(YarnFacts, Length)> {
    let put_up = reader.required("put-up", request.put_up.as_deref(), cells::put_up)?;
    let skein = put_up.skein_length();
    if skein.is_none() {
        reader.fault("put-up", FaultKind::NoSkeinLength);
    }
    Some((put_up, skein?))
}

/// What only one size of a need is called.
pub(super) const ONE_SIZE: &str = "one size";

/// The name of a size that may have none.
pub(super) fn size_name(named: Option<&str>, place: usize, of: usize) -> String {
    match (named, of) {
        (Some(name), _) => name.to_owned(),
        (None, 1) => ONE_SIZE.to_owned(),
        (None, _) => (place + 1).to_string(),
    }
}

/// Everything but the need and the skein.
struct Terms {
    margin: Ratio,
    price: Option<Price>,
    strands: u8,
    class: Option<Classes>,
    gauge_change: Option<GaugeChange>,
    sure: Option<Confidence>,
}

impl Terms {
    fn read(request: &SkeinsRequest, reader: &mut InputReader) -> Self {
        let margin = reader.optional("margin", request.margin.as_deref(), cells::percent);
        let strands = reader.whole("strands", request.strands.as_deref(), 1..=MOST_STRANDS);
        Self {
            margin: margin.unwrap_or(Ratio::whole_percent(DEFAULT_MARGIN)),
            price: reader.optional("price", request.price.as_deref(), cells::price),
            strands: strands.unwrap_or(1),
            class: reader.optional("class", request.class.as_deref(), cells::class),
            gauge_change: gauge_change(request, reader),
            sure: Confidence::read(reader, &request.chance),
        }
    }
}

/// What came out for each size.
#[derive(Default)]
struct SizeAmounts {
    sizes: Vec<SizePurchase>,
    estimates: Vec<SizeEstimate>,
    sure: Vec<SizeChance>,
}

impl SizeAmounts {
    /// Skeins of a size.
    fn add(
        &mut self,
        size: String,
        need: NeedRange,
        terms: &Terms,
        (put_up, skein): (&YarnFacts, Length),
    ) -> Result<(), AppError> {
        let factor = terms.gauge_change.map_or(1.0, |it| it.need_factor());
        let strand_metres = strand_need(need, 1, terms.strands, factor)?;
        let bought = purchase(strand_metres, skein, terms.margin)?;
        let bought = SizePurchase::new(size, bought, terms.price.as_ref(), put_up);
        let sure = terms.sure.and_then(|sure| sure.chance(&bought, put_up));
        self.sure.extend(sure);
        self.sizes.push(bought);
        Ok(())
    }

    /// Estimates of a size whose need is a mass alone.
    fn estimate(
        &mut self,
        size: &str,
        need: &Need,
        reference: &YarnFacts,
        (terms, skein): (&Terms, Length),
    ) {
        let (class, fill) = (terms.class.as_ref(), (Some(skein), terms.margin));
        self.estimates
            .extend(size_estimates(size, need, reference, class, fill));
    }
}

/// The two gauges go together.
fn gauge_change(request: &SkeinsRequest, reader: &mut InputReader) -> Option<GaugeChange> {
    let own = request.own_gauge.as_deref();
    let pattern = request.pattern_gauge.as_deref();
    reader.together(("own-gauge", own), ("pattern-gauge", pattern));
    let own = reader.optional("own-gauge", own, cells::gauge);
    let pattern = reader.optional("pattern-gauge", pattern, cells::gauge);
    Some(GaugeChange {
        ratio: ratio_of(&own?.gauge, &pattern?.gauge)?,
        reading: GaugeReading::new(request.keep.as_deref()),
    })
}
