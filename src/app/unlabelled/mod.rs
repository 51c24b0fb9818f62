//! A ball without a label: what it may be, and kept as a yarn.

mod keep;
mod likely;
mod request;

pub use keep::keep_ball;
pub(in crate::app) use likely::of_kept as could_be;
pub use likely::{BallTrait, CouldBe, PossibleYarn};
pub use request::{KeepBallRequest, UnlabelledRequest};

use super::{AppError, FaultKind, FieldNote, InputReader, Records};
use crate::{
    label::cells,
    measure::{Grist, Length, Mass, Ratio},
    quantity::{BallMethod, Doubt, Estimate, Measurement, grist_of_wraps},
    trade::{WeightClass, classes_by_grist, classes_by_wraps},
};
use std::collections::BTreeSet;

/// A way of finding out what a ball holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Method {
    /// A length that was measured off and weighed.
    MeasuredOff,
    /// A strand on a yarn balance.
    Balance,
    /// Turns of a reel.
    Turns,
    /// Wraps around a ruler: a guess.
    Wraps,
}

impl Method {
    /// Whether it measures length per mass.
    pub fn measures(self) -> bool {
        self != Self::Wraps
    }
}

/// What one way tells.
#[derive(Debug, Clone)]
pub struct MethodResult {
    /// The way.
    pub method: Method,
    /// Length per mass, m/g.
    pub metres_per_gram: Option<Estimate>,
    /// Length of the ball, m.
    pub metres: Option<Estimate>,
    /// Classes that are possible by it.
    pub classes: Vec<WeightClass>,
}

/// Answer to [`unlabelled`].
#[derive(Debug, Clone)]
pub struct UnlabelledAnswer {
    /// Yarn on the scale, core taken off, g.
    pub net_grams: Option<f64>,
    /// What each way tells.
    pub results: Vec<MethodResult>,
    /// Classes that are possible, by what was measured where something was.
    pub classes: Vec<WeightClass>,
    /// What the scale of the ball rounds to.
    pub scale: Mass,
    /// What the scale of the measured length rounds to.
    pub fine_scale: Mass,
    /// How far a measured length may be off.
    pub ruler: Ratio,
    /// Two ways whose intervals lie apart.
    pub apart: Option<(Method, Method)>,
    /// Yarns of the records that it could be, where there are records.
    pub could_be: Option<CouldBe>,
    /// Whether the burn test is asked for.
    pub burn: bool,
    /// What was noticed in what was typed.
    pub notes: Vec<FieldNote>,
}

/// How far a measured length is trusted where it is not stated, %: yarn stretches
/// under the hand, and one counted 26 ft for 30 (common practice, no source).
const USUAL_RULER_PERCENT: f64 = 2.0;

/// What a scale rounds to where it is not stated, g.
const USUAL_SCALE_GRAMS: f64 = 1.0;

/// The ways, by the fields that each takes.
const WAYS: &[&[&str]] = &[
    &["length", "weighs"],
    &["balance"],
    &["turns", "reel"],
    &["wraps", "over"],
];

/// Length left, length per mass and possible classes by every way that was given, and
/// yarns of the records that it could be.
pub fn unlabelled(
    records: &Records,
    request: &UnlabelledRequest,
) -> Result<UnlabelledAnswer, AppError> {
    let answer = measures(request)?;
    Ok(UnlabelledAnswer {
        could_be: likely::by_measures(records, &answer.results)?,
        ..answer
    })
}

/// The same without the records.
fn measures(request: &UnlabelledRequest) -> Result<UnlabelledAnswer, AppError> {
    let mut reader = InputReader::default();
    let tools = tools(request, &mut reader)?;
    let net_grams = net_grams(request, &mut reader);
    let ball = net_grams.map(|net| on_scale(net, tools.scale));
    let methods = methods(request, &tools, &mut reader);
    let wraps = wraps(request, &mut reader);
    reader.check()?;
    let mut results: Vec<MethodResult> = methods
        .iter()
        .map(|(method, way)| measured(*method, way, ball.as_ref()))
        .collect();
    if let Some((wraps, over)) = wraps {
        results.push(by_wraps(wraps, over, net_grams)?);
    }
    if results.is_empty() {
        reader.fault("length", FaultKind::OneGroupNeeded(WAYS));
        reader.check()?;
    }
    Ok(UnlabelledAnswer {
        net_grams,
        classes: possible_classes(&results),
        scale: tools.scale,
        fine_scale: tools.fine_scale,
        ruler: tools.ruler,
        apart: apart(&results),
        results,
        could_be: None,
        burn: request.burn,
        notes: reader.notes,
    })
}

/// How good scale and ruler are.
struct Tools {
    scale: Mass,
    fine_scale: Mass,
    ruler: Ratio,
}

fn tools(request: &UnlabelledRequest, reader: &mut InputReader) -> Result<Tools, AppError> {
    let scale = reader.optional("scale", &request.scale, cells::mass);
    let scale = scale.map_or_else(|| Mass::grams(USUAL_SCALE_GRAMS), Ok)?;
    let fine_scale = reader.optional("fine-scale", &request.fine_scale, cells::mass);
    let ruler = reader.optional("ruler", &request.ruler, cells::percent);
    Ok(Tools {
        scale,
        fine_scale: fine_scale.unwrap_or(scale),
        ruler: ruler.map_or_else(|| Ratio::percent(USUAL_RULER_PERCENT), Ok)?,
    })
}

/// What of the ball is yarn, g.
fn net_grams(request: &UnlabelledRequest, reader: &mut InputReader) -> Option<f64> {
    let (mass, tare) = (&request.mass, &request.tare);
    reader.only_with(("tare", tare), ("mass", mass));
    let mass = reader.optional("mass", mass, cells::mass);
    let tare = reader.optional("tare", tare, cells::mass);
    let net = mass?.as_grams() - tare.map_or(0.0, Mass::as_grams);
    if net <= 0.0 {
        reader.fault("tare", FaultKind::NothingLeft("mass"));
    }
    Some(net)
}

/// What was measured, of which the true value lies within so much.
fn within(value: f64, by: f64) -> Measurement {
    let doubts = vec![Doubt::Within(by)];
    Measurement { value, doubts }
}

fn on_scale(grams: f64, scale: Mass) -> Measurement {
    within(grams, scale.as_grams() / 2.0)
}

/// What was measured, by each way that was given.
fn methods(
    request: &UnlabelledRequest,
    tools: &Tools,
    reader: &mut InputReader,
) -> Vec<(Method, BallMethod)> {
    let by_ruler = |length: Length| {
        let metres = length.as_metres();
        within(metres, metres * tools.ruler.as_fraction())
    };
    let (length, weighs) = (&request.length, &request.weighs);
    reader.together(("length", length), ("weighs", weighs));
    let length = reader.optional("length", length, cells::length);
    let weighs = reader.optional("weighs", weighs, cells::mass);
    let measured_off = length.zip(weighs).map(|(length, mass)| {
        let length = by_ruler(length);
        let mass = on_scale(mass.as_grams(), tools.fine_scale);
        (Method::MeasuredOff, BallMethod::Measured { length, mass })
    });
    let balance = reader
        .optional("balance", &request.balance, cells::length)
        .map(|strand| (Method::Balance, BallMethod::Balance(by_ruler(strand))));
    let (turns, reel) = (&request.turns, &request.reel);
    reader.together(("turns", turns), ("reel", reel));
    let turns = reader.count("turns", turns);
    let reel = reader.optional("reel", reel, cells::length);
    let turned = turns.zip(reel).map(|(turns, reel)| {
        let turns = within(turns, 0.5);
        let reel = by_ruler(reel);
        (Method::Turns, BallMethod::Turns { turns, reel })
    });
    [measured_off, balance, turned]
        .into_iter()
        .flatten()
        .collect()
}

/// Wraps, and the length that they fill.
fn wraps(request: &UnlabelledRequest, reader: &mut InputReader) -> Option<(f64, Length)> {
    let (wraps, over) = (&request.wraps, &request.over);
    reader.together(("wraps", wraps), ("over", over));
    let wraps = reader.count("wraps", wraps);
    let over = reader.optional("over", over, cells::length);
    wraps.zip(over)
}

fn measured(method: Method, way: &BallMethod, ball: Option<&Measurement>) -> MethodResult {
    let grist = way.grist(ball);
    let classes = grist.map(|grist| classes_between(grist.low, grist.high));
    MethodResult {
        method,
        metres_per_gram: grist,
        metres: way.length(ball),
        classes: classes.into_iter().flatten().collect(),
    }
}

/// Every class that a length per mass from `low` to `high` m/g may be of.
fn classes_between(low: f64, high: f64) -> Vec<WeightClass> {
    let ends = [low, high]
        .into_iter()
        .filter_map(|end| Grist::metres_per_gram(end.max(1e-4)).ok());
    let at_ends: Vec<WeightClass> = ends.flat_map(classes_by_grist).collect();
    let Some((first, last)) = at_ends.iter().min().zip(at_ends.iter().max()) else {
        return Vec::new();
    };
    let between = |class: &WeightClass| (*first..=*last).contains(class);
    WeightClass::ALL.into_iter().filter(between).collect()
}

/// By wraps: the whole spread of published tables, never one class. The middle
/// means nothing.
fn by_wraps(wraps: f64, over: Length, net_grams: Option<f64>) -> Result<MethodResult, AppError> {
    let grist = grist_of_wraps(wraps, over.as_metres())?;
    let spread = Estimate {
        value: grist.middle(),
        low: grist.low(),
        high: grist.high(),
    };
    let per_inch = classes_by_wraps(wraps / over.as_inches())?;
    let between = classes_between(grist.low(), grist.high());
    let classes: BTreeSet<WeightClass> = per_inch.into_iter().chain(between).collect();
    Ok(MethodResult {
        method: Method::Wraps,
        metres_per_gram: Some(spread),
        metres: net_grams.map(|grams| spread.times(grams)),
        classes: classes.into_iter().collect(),
    })
}

/// Classes by what was measured, where something tells the length per mass.
fn possible_classes(results: &[MethodResult]) -> Vec<WeightClass> {
    let measured = |result: &&MethodResult| result.method.measures();
    let mut told = results.iter().filter(measured);
    let is_measured = told.any(|result| result.metres_per_gram.is_some());
    let basis = results
        .iter()
        .filter(|result| !is_measured || result.method.measures());
    let classes: BTreeSet<WeightClass> = basis
        .flat_map(|result| result.classes.iter().copied())
        .collect();
    classes.into_iter().collect()
}

/// The first two ways whose intervals of length per mass lie apart.
fn apart(results: &[MethodResult]) -> Option<(Method, Method)> {
    let told = |result: &MethodResult| Some((result.method, result.metres_per_gram?));
    let told: Vec<(Method, Estimate)> = results.iter().filter_map(told).collect();
    told.iter().enumerate().find_map(|(place, (one, range))| {
        let mut others = told.iter().skip(place + 1);
        others
            .find(|(_, other)| other.low > range.high || range.low > other.high)
            .map(|(other, _)| (*one, *other))
    })
}
