//! How many skeins a need takes.

use super::{
    AppError, InputReader,
    heard::Heard,
    question::{
        ChanceRequest,
        amounts::{SizePurchase, size_estimates},
        answer::Working,
        chance::Confidence,
    },
};
use crate::{
    label::cells,
    measure::{Gauge, Length, Over, Ratio},
    quantity::{GaugeRatio, Keep, Purchase, purchase, strand_need},
    record::{Classes, Need, NeedRange, Price, YarnFacts},
    report::{
        EstimateLine, SkeinsLine, SkeinsReport, Style, SureLine, skein_words, working_sentences,
    },
    words::number,
};

/// A need and the skein to fill it with, as typed.
#[derive(Debug, Clone, Default)]
pub struct SkeinsRequest {
    /// A length, `N x put-up`, or a mass.
    pub need: String,
    /// Length (and mass) of one skein of the yarn to buy.
    pub put_up: String,
    /// Put-up of the pattern's yarn, for a need in mass or in skeins.
    pub reference: Option<String>,
    /// Class of the pattern's yarn, for estimates where nothing better is known.
    pub class: Option<String>,
    /// Margin beyond the need; 10 % where not given.
    pub margin: Option<String>,
    /// Strands of the yarn to buy that are held together.
    pub strands: u8,
    /// Another gauge than the pattern's.
    pub gauge: Option<GaugeChange>,
    /// Price of the yarn to buy.
    pub price: Option<String>,
    /// How sure to be of enough, where the chance of running out is asked for.
    pub sure: Option<String>,
    /// How far the knitter's use lies from a stated need.
    pub own_use: Option<String>,
}

/// An own gauge beside the pattern's.
#[derive(Debug, Clone)]
pub struct GaugeChange {
    /// The own gauge, as typed.
    pub own: String,
    /// The pattern's gauge, as typed.
    pub pattern: String,
    /// What is kept.
    pub keep: Keep,
}

/// Margin where none is stated, %: patterns commonly carry about as much
/// (common practice, no source).
pub(super) const USUAL_MARGIN: &str = "10 %";

/// Skeins for every size of the need.
pub fn skeins(request: &SkeinsRequest) -> Result<SkeinsReport, AppError> {
    let mut heard = Heard::default();
    let put_up = heard.value("--put-up", cells::put_up(&request.put_up))?;
    let reference = heard
        .maybe("--reference", request.reference.as_deref(), cells::put_up)?
        .unwrap_or_default();
    let needs = heard.value("--need", cells::needs(&request.need, &reference))?;
    let margin = heard.value(
        "--margin",
        cells::percent(request.margin.as_deref().unwrap_or(USUAL_MARGIN)),
    )?;
    let price = heard.maybe("--price", request.price.as_deref(), cells::price)?;
    let mut working = Vec::new();
    let factor = gauge_factor(request.gauge.as_ref(), &mut heard, &mut working)?;
    let class = heard.maybe("--class", request.class.as_deref(), cells::class)?;
    let mut reader = InputReader::default();
    let chance = ChanceRequest {
        sure: request.sure.clone(),
        own_use: request.own_use.clone(),
    };
    let asked_sure = Confidence::read(&mut reader, &chance);
    reader.check()?;
    heard.warnings.extend(Style::default().notes(&reader.notes));
    let skein = put_up
        .skein_length()
        .ok_or_else(|| AppError::Usage(NO_LENGTH.to_owned()))?;
    let asked = Asked {
        put_up: &put_up,
        sure: asked_sure,
        skein,
        margin,
        strands: request.strands,
        factor,
        price: price.as_ref(),
    };
    let counted = asked.counted(&needs, &reference, class.as_ref())?;
    if counted.sizes.is_empty() && counted.estimates.is_empty() {
        return Err(AppError::Usage(NO_REFERENCE.to_owned()));
    }
    working.push(rounding(margin, request.strands));
    let ranges = counted
        .sizes
        .iter()
        .any(|size| size.fewest_skeins.is_some());
    let basis = asked_sure.map(|sure| Working::Chance(sure.basis(&put_up, ranges)));
    let basis: Vec<Working> = basis.into_iter().collect();
    working.extend(working_sentences(&basis, &Style::default()));
    Ok(SkeinsReport {
        first: counted.sizes.first().cloned(),
        sizes: counted.sizes,
        estimates: counted.estimates,
        sure: counted.sure,
        put_up: skein_words(put_up.skein_length(), put_up.skein_mass()),
        margin_percent: margin.as_percent(),
        working,
        warnings: heard.warnings,
    })
}

const NO_LENGTH: &str =
    "--put-up gives no length: write the length of one skein, as in `125 m` or `125 m/50 g`";
const NO_REFERENCE: &str = "a need given as a mass wants the length per mass of the pattern's yarn: add --reference, as in `--reference \"125 m/50 g\"`, or its class, as in `--class \"DK\"`, for estimates";

/// What the only size of a need is called.
pub(super) const ONE_SIZE: &str = "one size";

/// The name of a size that may have none.
pub(super) fn size_name(named: Option<&str>, place: usize, of: usize) -> String {
    match (named, of) {
        (Some(name), _) => name.to_owned(),
        (None, 1) => ONE_SIZE.to_owned(),
        (None, _) => (place + 1).to_string(),
    }
}

fn rounding(margin: Ratio, strands: u8) -> String {
    let strands = match strands {
        1 => String::new(),
        n => format!(" x {n} strands"),
    };
    format!(
        "Skeins = need{strands} x {} / length of one skein, rounded up to whole skeins.",
        number(1.0 + margin.as_fraction(), 4)
    )
}

/// Everything but the need itself.
struct Asked<'a> {
    put_up: &'a YarnFacts,
    sure: Option<Confidence>,
    skein: Length,
    margin: Ratio,
    strands: u8,
    factor: f64,
    price: Option<&'a Price>,
}

/// What came out for each size.
#[derive(Default)]
struct Counted {
    sizes: Vec<SkeinsLine>,
    estimates: Vec<EstimateLine>,
    sure: Vec<SureLine>,
}

impl Asked<'_> {
    /// Skeins of every size; estimates where a need is a mass alone.
    fn counted(
        &self,
        needs: &[(Option<String>, Need)],
        reference: &YarnFacts,
        class: Option<&Classes>,
    ) -> Result<Counted, AppError> {
        let mut counted = Counted::default();
        for (place, (size, need)) in needs.iter().enumerate() {
            let size = size_name(size.as_deref(), place, needs.len());
            let Some(metres) = need.in_metres(reference.grist()) else {
                let skein = Some(self.skein);
                let fill = (skein, self.margin);
                let found = size_estimates(&size, need, reference, class, fill);
                let lines = found
                    .iter()
                    .map(|estimate| EstimateLine::new("A", estimate));
                counted.estimates.extend(lines);
                continue;
            };
            let bought = self.bought(metres?)?;
            let bought = SizePurchase::new(size, bought, self.price, self.put_up);
            let sure = self.sure.and_then(|sure| sure.chance(&bought, self.put_up));
            counted
                .sure
                .extend(sure.map(|chance| SureLine::new("A", &chance)));
            counted.sizes.push(SkeinsLine::new("A", &bought));
        }
        Ok(counted)
    }

    fn bought(&self, need: NeedRange) -> Result<Purchase, AppError> {
        let strand_metres = strand_need(need, 1, self.strands, self.factor)?;
        Ok(purchase(strand_metres, self.skein, self.margin)?)
    }
}

fn gauge_factor(
    change: Option<&GaugeChange>,
    heard: &mut Heard,
    working: &mut Vec<String>,
) -> Result<f64, AppError> {
    let Some(change) = change else { return Ok(1.0) };
    let own = heard.value("--own-gauge", cells::gauge(&change.own))?.gauge;
    let pattern = heard
        .value("--pattern-gauge", cells::gauge(&change.pattern))?
        .gauge;
    let ratio = gauge_ratio(&own, &pattern)
        .ok_or_else(|| AppError::Usage("the two gauges cannot be compared".to_owned()))?;
    let factor = change.keep.need_factor(GaugeRatio::of_stitches(ratio));
    let kept = match change.keep {
        Keep::Size => "the finished size is kept and the stitch counts are reworked",
        Keep::Counts => "the stitch counts are kept and the finished size changes",
    };
    working.push(format!(
        "Own gauge / pattern's gauge = {}; {kept}, so the need is multiplied by {}.",
        number(ratio, 4),
        number(factor, 4)
    ));
    Ok(factor)
}

/// Own gauge over the pattern's, middles of ranges; a length that is not stated
/// counts as 10 cm in both.
pub(super) fn gauge_ratio(own: &Gauge, pattern: &Gauge) -> Option<f64> {
    let ten = Over::centimetres(10.0).ok()?;
    let ratio = GaugeRatio::between(&own.or_over(ten), &pattern.or_over(ten))?;
    Some(ratio.stitches)
}
