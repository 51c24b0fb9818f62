//! A pattern at a gauge that is not its own: what each size comes out at, which
//! size or which counts to knit instead, and what that takes.

mod own_gauge;
mod request;
mod sizes;

pub use own_gauge::{GaugeSource, Growth, OwnGauge, SwatchDifference};
pub use request::GaugeRequest;
pub(in crate::app) use request::keep_values;
pub use sizes::{HeldYarn, NeedAtGauge, SizeAtGauge};

use super::{
    AppError, FaultKind, FieldNote, GaugeFault, GaugeReading, InputReader, PatternRequest,
    QuestionFault, QuestionRequest, Records, TermsRequest,
    gauge_change::ratio_of,
    input::filled,
    question::{
        ResolvedQuestion,
        answer::Working,
        candidate::{Candidate, one_strand},
        in_hand::{InHand, TypedAmount, need_bought},
        own_gauge, resolve,
        settings::margin,
    },
};
use crate::{
    label::cells,
    measure::{Gauge, NeedleSize, Over, Ratio},
    quantity::{GaugeRatio, Keep, OwnTendency},
    record::{Multiple, Pattern, StatedGauge, counter_in},
};
use own_gauge::tendency;
use sizes::{Sizes, own_yarn, strands_of};

/// Answer to [`gauge`].
#[derive(Debug, Clone)]
pub struct GaugeAnswer {
    /// The pattern.
    pub pattern: String,
    /// The yarn that skeins are counted in, where it is not the pattern's own.
    pub yarn: Option<String>,
    /// What one of it is called: the word of its label, or of what the pattern needs,
    /// else a skein. Where yarns are held together each need has its own.
    pub counted_in: &'static str,
    /// The pattern's gauge.
    pub pattern_gauge: Gauge,
    /// Whether that says over what length; 10 cm is assumed where it does not.
    pub pattern_says_over: bool,
    /// The own gauge.
    pub own: OwnGauge,
    /// Own / pattern's gauge.
    pub ratio: GaugeRatio,
    /// What is kept at it.
    pub reading: GaugeReading,
    /// Each size.
    pub sizes: Vec<SizeAtGauge>,
    /// Whether a size of the pattern has neither width nor cast-on.
    pub has_open_size: bool,
    /// What each size takes.
    pub needs: Vec<NeedAtGauge>,
    /// Of which yarns the length of one is not known, so that they are not counted.
    pub uncounted: Vec<String>,
    /// Which sizes an amount in hand makes, where one was given.
    pub in_hand: Option<InHand>,
    /// The own tendency against labels.
    pub tendency: OwnTendency,
    /// What is bought beyond the need.
    pub margin: Ratio,
    /// Why so much.
    pub margin_basis: Vec<Working>,
    /// What was noticed in what was typed.
    pub notes: Vec<FieldNote>,
}

/// What the pattern comes to at that gauge.
pub fn gauge(records: &Records, request: &GaugeRequest) -> Result<GaugeAnswer, AppError> {
    let mut reader = InputReader::default();
    let typed = TypedGauge::read(request, &mut reader);
    let have = TypedAmount::read(&mut reader, request.have.as_deref());
    let Some(name) = filled(request.pattern.as_deref()) else {
        reader.fault("pattern", FaultKind::Missing);
        return reader.checked(None);
    };
    let pattern = records.pattern_named(name)?.record;
    let asked = resolve(&mut reader, &question(request), Some(&pattern))?;
    let stated = pattern_gauge(&pattern, &mut reader);
    let (asked, stated) = reader.checked(asked.zip(stated))?;
    let over = Over::centimetres(10.0)?;
    let pattern_gauge = stated.gauge.or_over(over);
    let candidate = yarn_named(records, request, &mut reader)?;
    let tendency = tendency(&records.store()?.reader()?)?;
    let used = request.own_tendency.then_some(&tendency);
    let own = typed.resolve(&mut reader, candidate.as_ref(), (&asked, &stated), used)?;
    let own = reader.checked(own)?;
    let ratio = reader.checked(ratio_of(&own.gauge, &pattern_gauge))?;
    let reading = GaugeReading::new(request.keep.as_deref());
    let multiple = pattern.multiple.as_ref().map(|multiple| multiple.value);
    let sizes = Sizes {
        sizes: &pattern.sizes,
        pattern: &pattern_gauge,
        own: &own.gauge,
        ratio,
        keep: reading.keep,
        multiple: multiple.unwrap_or(Multiple::ANY),
        growth: own.growth.as_ref().map(|found| found.growth),
    };
    // Without another yarn what each of the pattern's own takes.
    let asked = match candidate {
        None => asked.each_yarn(),
        Some(_) => asked.alone(),
    };
    let needs = sizes.needs(&asked, candidate.as_ref())?;
    let in_hand = have.map(|have| makes(have, &asked, candidate.as_ref(), (&needs, reading.keep)));
    Ok(GaugeAnswer {
        pattern: pattern.name.to_string(),
        sizes: sizes.at_own_gauge(&asked.places())?,
        in_hand: in_hand.transpose()?,
        needs,
        counted_in: counted_in(candidate.as_ref(), &pattern),
        uncounted: candidate.iter().flat_map(uncounted).collect(),
        yarn: candidate.map(|candidate| candidate.title),
        pattern_gauge,
        pattern_says_over: stated.gauge.over().is_some(),
        own,
        ratio,
        reading,
        has_open_size: has_open_size(&pattern),
        tendency,
        margin: asked.margin,
        margin_basis: margin_basis(request, &pattern),
        notes: reader.notes,
    })
}

/// The yarn that is named, or the strand of it and those held with it.
fn yarn_named(
    records: &Records,
    request: &GaugeRequest,
    reader: &mut InputReader,
) -> Result<Option<Candidate>, AppError> {
    let yarn = filled(request.swatch_of.as_deref()).or(filled(request.yarn.as_deref()));
    let further = reader.several("held-with", &request.held_with);
    let further = further
        .iter()
        .filter_map(|text| filled(Some(text.as_str())));
    let further: Vec<&str> = further.collect();
    if !further.is_empty() && filled(request.have.as_deref()).is_some() {
        reader.fault("have", QuestionFault::HaveOfSeveral);
    }
    let Some(yarn) = yarn else {
        if !further.is_empty() {
            reader.fault("yarn", FaultKind::Missing);
        }
        return Ok(None);
    };
    let named = std::iter::once(yarn).chain(further);
    let ends = named.map(|text| records.candidate(text, false, reader));
    let ends = ends.collect::<Result<_, _>>()?;
    Ok(one_strand("held-with", ends, reader))
}

/// Which sizes what is in hand makes at the own gauge.
fn makes(
    have: TypedAmount,
    asked: &ResolvedQuestion,
    candidate: Option<&Candidate>,
    (needs, keep): (&[NeedAtGauge], Keep),
) -> Result<InHand, AppError> {
    let own = asked.roles.first().map(own_yarn);
    let yarn = candidate.cloned().or(own).unwrap_or_default();
    let needs = needs.iter();
    let needs = needs.map(|it| need_bought(&it.size, &it.yarn, it.kept(keep)));
    have.makes(&yarn, asked.margin, needs.collect())
}

/// What is bought beyond the need, and why so much.
fn margin_basis(request: &GaugeRequest, pattern: &Pattern) -> Vec<Working> {
    let mut basis = Vec::new();
    let stated = request.margin.as_deref();
    margin(
        &mut InputReader::default(),
        stated,
        Some(pattern),
        &mut basis,
    );
    basis
}

fn question(request: &GaugeRequest) -> QuestionRequest {
    QuestionRequest {
        of: PatternRequest {
            pattern: request.pattern.clone(),
            role: request.role.clone(),
            size: request.size.clone(),
            ..PatternRequest::default()
        },
        terms: TermsRequest {
            margin: request.margin.clone(),
            ..TermsRequest::default()
        },
        ..QuestionRequest::default()
    }
}

/// The pattern's gauge, as stated.
fn pattern_gauge(pattern: &Pattern, reader: &mut InputReader) -> Option<StatedGauge> {
    let stated = pattern.gauge.as_ref().map(|gauge| gauge.value.clone());
    if stated.is_none() {
        let kind = GaugeFault::NotInPattern(pattern.name.to_string());
        reader.fault("pattern", kind);
    }
    stated
}

fn counted_in(candidate: Option<&Candidate>, pattern: &Pattern) -> &'static str {
    match candidate {
        Some(candidate) => candidate.facts.counter(),
        None => {
            let mut needs = pattern.yarns.iter().flat_map(|yarn| &yarn.needs);
            let said = needs.find_map(|need| counter_in(&need.text));
            said.unwrap_or("skein")
        }
    }
}

/// Those of a yarn, or of the yarns of a strand, of which the length of one is not known.
fn uncounted(candidate: &Candidate) -> Vec<String> {
    let each = match candidate.ends.as_slice() {
        [] => std::slice::from_ref(candidate),
        ends => ends,
    };
    let unknown = each
        .iter()
        .filter(|yarn| yarn.facts.skein_length().is_none());
    unknown.map(|yarn| yarn.title.clone()).collect()
}

fn has_open_size(pattern: &Pattern) -> bool {
    let mut sizes = pattern.sizes.iter();
    sizes.any(|size| size.width.is_none() && size.cast_on.is_none())
}

/// What was typed of the own gauge.
struct TypedGauge {
    gauge: Option<StatedGauge>,
    needle: Option<NeedleSize>,
}

impl TypedGauge {
    /// A gauge, or a yarn whose swatches count: one of the two.
    fn read(request: &GaugeRequest, reader: &mut InputReader) -> Self {
        let (own, swatch_of) = (request.own_gauge.as_deref(), request.swatch_of.as_deref());
        let needle = request.needle.as_deref();
        match (filled(own), filled(swatch_of)) {
            (Some(_), Some(_)) => reader.fault("swatch-of", FaultKind::NotWith("own-gauge")),
            (None, Some(_)) if filled(request.yarn.as_deref()).is_some() => {
                reader.fault("yarn", FaultKind::NotWith("swatch-of"));
            }
            (None, None) => reader.fault(
                "own-gauge",
                GaugeFault::Unknown {
                    swatch_of: "swatch-of",
                },
            ),
            (Some(_), None) if filled(needle).is_some() => {
                reader.fault("needle", FaultKind::NotWith("own-gauge"));
            }
            _ => {}
        }
        let gauge = reader.optional("own-gauge", own, cells::gauge);
        if gauge.as_ref().is_some_and(|it| it.gauge.over().is_none()) {
            let given = own.map_or_else(String::new, str::to_owned);
            reader.fault("own-gauge", GaugeFault::OverNoLength(given));
        }
        Self {
            gauge,
            needle: reader.optional("needle", needle, cells::needle),
        }
    }

    /// The own gauge; a fault is kept where nothing tells it.
    fn resolve(
        self,
        reader: &mut InputReader,
        candidate: Option<&Candidate>,
        (asked, pattern): (&ResolvedQuestion, &StatedGauge),
        tendency: Option<&OwnTendency>,
    ) -> Result<Option<OwnGauge>, AppError> {
        let held =
            |candidate: &Candidate| asked.roles.first().map(|role| strands_of(role, candidate));
        let strands = candidate.and_then(held).unwrap_or(1);
        match (self.gauge, candidate) {
            (Some(typed), _) => {
                OwnGauge::given(&own_gauge(typed, &asked.roles), candidate).map(Some)
            }
            (None, Some(candidate)) => {
                OwnGauge::of_yarn(reader, candidate, (pattern, strands), self.needle, tendency)
            }
            (None, None) => Ok(None),
        }
    }
}
