//! A ball without a label.

use super::{
    AppError,
    heard::Heard,
    last::range,
    together::only_with,
    unlabelled_words::{disagreement, working},
};
use crate::{
    label::cells,
    measure::{Grist, Length, Mass, Ratio},
    quantity::{BallMethod, Doubt, Measurement, grist_of_wraps},
    report::{Burn, MethodLine, Range, UnlabelledReport},
    trade::{BURN_CAUTIONS, BURN_SIGNS, WeightClass, classes_by_grist, classes_by_wraps},
};
use std::collections::BTreeSet;

/// What was found out about a ball, as typed.
#[derive(Debug, Clone, Default)]
pub struct UnlabelledRequest {
    /// Mass of the ball, with its core.
    pub mass: Option<String>,
    /// Mass of the core.
    pub tare: Option<String>,
    /// A length that was measured off.
    pub length: Option<String>,
    /// Mass of that length.
    pub weighs: Option<String>,
    /// A strand that balances.
    pub balance: Option<String>,
    /// Turns that hold the whole ball.
    pub turns: Option<f64>,
    /// The length of one turn.
    pub reel: Option<String>,
    /// Wraps.
    pub wraps: Option<f64>,
    /// The length that they fill.
    pub over: Option<String>,
    /// Step of the scale for the ball.
    pub scale: Option<String>,
    /// Step of the scale for the length that was measured off.
    pub fine_scale: Option<String>,
    /// How far a measured length may be off.
    pub ruler: Option<String>,
    /// Whether the burn test is asked for.
    pub burn: bool,
}

/// How far a measured length is trusted where it is not stated: yarn stretches
/// under the hand, and one counted 26 ft for 30 (common practice, no source).
const USUAL_RULER: &str = "2 %";

/// Everything of the request that was read.
pub(super) struct Read {
    ball: Option<Measurement>,
    pub(super) ruler: Ratio,
    pub(super) scale: Mass,
    pub(super) fine: Mass,
}

/// Length left, length per mass and possible classes by every way that was given.
pub fn unlabelled(request: &UnlabelledRequest) -> Result<UnlabelledReport, AppError> {
    let mut heard = Heard::default();
    let read = read(request, &mut heard)?;
    let found = ways(request, &read, &mut heard)?;
    let mut methods: Vec<MethodLine> = found
        .iter()
        .map(|(name, way)| measured_line(name, way, read.ball.as_ref()))
        .collect();
    methods.extend(by_wraps(request, &read, &mut heard)?);
    if methods.is_empty() {
        return Err(AppError::Usage(NOTHING.to_owned()));
    }
    heard.warnings.extend(disagreement(&methods));
    let measured: Vec<&MethodLine> = methods.iter().filter(|line| line.measured).collect();
    let basis: Vec<&MethodLine> = match measured.iter().any(|line| line.grist_m_per_100g.is_some())
    {
        true => measured,
        false => methods.iter().collect(),
    };
    let classes: BTreeSet<u8> = basis
        .iter()
        .flat_map(|line| line.classes.iter().copied())
        .collect();
    Ok(UnlabelledReport {
        net_g: read.ball.as_ref().map(|ball| ball.value),
        weight_classes: classes.into_iter().collect(),
        working: working(&read, &methods),
        fibre: None,
        burn: request.burn.then(|| Burn {
            signs: BURN_SIGNS.iter().map(Into::into).collect(),
            cautions: BURN_CAUTIONS.map(str::to_owned).to_vec(),
        }),
        methods,
        warnings: heard.warnings,
    })
}

const NOTHING: &str = "give at least one of: --length with --weighs (measured off and weighed), --balance (a strand that balances), --turns with --reel (the whole ball), --wraps with --over";

fn read(request: &UnlabelledRequest, heard: &mut Heard) -> Result<Read, AppError> {
    let scale = heard.value(
        "--scale",
        cells::mass(request.scale.as_deref().unwrap_or("1 g")),
    )?;
    let fine = heard.maybe("--fine-scale", request.fine_scale.as_deref(), cells::mass)?;
    let ruler = request.ruler.as_deref().unwrap_or(USUAL_RULER);
    let ruler = heard.value("--ruler", cells::percent(ruler))?;
    let mass = heard.maybe("--mass", request.mass.as_deref(), cells::mass)?;
    let (core, ball) = (
        ("--tare", request.tare.is_some()),
        ("--mass", mass.is_some()),
    );
    only_with(core, ball, "give what the ball weighs with its core")?;
    let tare = heard.maybe("--tare", request.tare.as_deref(), cells::mass)?;
    let net = mass.map(|mass| mass.as_grams() - tare.map_or(0.0, Mass::as_grams));
    if net.is_some_and(|net| net <= 0.0) {
        return Err(AppError::Usage(
            "--tare is as much as --mass: nothing of it is yarn".to_owned(),
        ));
    }
    Ok(Read {
        ball: net.map(|net| on_scale(net, scale)),
        ruler,
        scale,
        fine: fine.unwrap_or(scale),
    })
}

fn on_scale(grams: f64, scale: Mass) -> Measurement {
    Measurement {
        value: grams,
        doubts: vec![Doubt::Within(scale.as_grams() / 2.0)],
    }
}

fn by_ruler(length: Length, ruler: Ratio) -> Measurement {
    Measurement {
        value: length.as_metres(),
        doubts: vec![Doubt::Within(length.as_metres() * ruler.as_fraction())],
    }
}

/// Both of a pair, neither, or a refusal.
fn pair<A, B>(a: Option<A>, b: Option<B>, what: &str) -> Result<Option<(A, B)>, AppError> {
    match (a, b) {
        (Some(a), Some(b)) => Ok(Some((a, b))),
        (None, None) => Ok(None),
        _ => Err(AppError::Usage(format!("{what} go together: give both"))),
    }
}

fn ways(
    request: &UnlabelledRequest,
    read: &Read,
    heard: &mut Heard,
) -> Result<Vec<(&'static str, BallMethod)>, AppError> {
    let mut found = Vec::new();
    let length = heard.maybe("--length", request.length.as_deref(), cells::length)?;
    let weighs = heard.maybe("--weighs", request.weighs.as_deref(), cells::mass)?;
    if let Some((length, mass)) = pair(length, weighs, "--length and --weighs")? {
        found.push((
            "measured off and weighed",
            BallMethod::Measured {
                length: by_ruler(length, read.ruler),
                mass: on_scale(mass.as_grams(), read.fine),
            },
        ));
    }
    if let Some(strand) = heard.maybe("--balance", request.balance.as_deref(), cells::length)? {
        found.push((
            "strand on a balance",
            BallMethod::Balance(by_ruler(strand, read.ruler)),
        ));
    }
    let reel = heard.maybe("--reel", request.reel.as_deref(), cells::length)?;
    if let Some((turns, reel)) = pair(request.turns, reel, "--turns and --reel")? {
        let turns = Measurement {
            value: counted("--turns", turns)?,
            doubts: vec![Doubt::Within(0.5)],
        };
        let reel = by_ruler(reel, read.ruler);
        found.push(("turns of a reel", BallMethod::Turns { turns, reel }));
    }
    Ok(found)
}

fn counted(what: &str, count: f64) -> Result<f64, AppError> {
    match count > 0.0 && count <= 1e6 {
        true => Ok(count),
        false => Err(AppError::Usage(format!(
            "{what} {count} is not possible: give a number above 0, to 1000000"
        ))),
    }
}

fn measured_line(name: &str, way: &BallMethod, ball: Option<&Measurement>) -> MethodLine {
    let grist = way.grist(ball).map(range);
    MethodLine {
        method: name.to_owned(),
        measured: true,
        grist_m_per_100g: grist.map(|grist| grist.times(100.0)),
        length_m: way.length(ball).map(range),
        classes: grist
            .map(|grist| classes_between(grist.low, grist.high))
            .unwrap_or_default(),
    }
}

/// Every class that a length per mass from `low` to `high` m/g may be of.
fn classes_between(low: f64, high: f64) -> Vec<u8> {
    let ends = [low, high]
        .into_iter()
        .filter_map(|end| Grist::metres_per_gram(end.max(1e-4)).ok());
    let classes: Vec<u8> = ends
        .flat_map(classes_by_grist)
        .map(WeightClass::number)
        .collect();
    match (classes.iter().min(), classes.iter().max()) {
        (Some(first), Some(last)) => (*first..=*last).collect(),
        _ => Vec::new(),
    }
}

/// By wraps: the whole spread of published tables, never one class.
fn by_wraps(
    request: &UnlabelledRequest,
    read: &Read,
    heard: &mut Heard,
) -> Result<Option<MethodLine>, AppError> {
    let over = heard.maybe("--over", request.over.as_deref(), cells::length)?;
    let Some((wraps, over)) = pair(request.wraps, over, "--wraps and --over")? else {
        return Ok(None);
    };
    let wraps = counted("--wraps", wraps)?;
    let grist = grist_of_wraps(wraps, over.as_metres())?;
    let middle = grist.middle();
    let spread = Range {
        value: middle,
        low: grist.low(),
        high: grist.high(),
    };
    let per_inch = classes_by_wraps(wraps / over.as_inches())?;
    let between = classes_between(grist.low(), grist.high());
    let classes: BTreeSet<u8> = per_inch
        .into_iter()
        .map(WeightClass::number)
        .chain(between)
        .collect();
    Ok(Some(MethodLine {
        method: "wraps".to_owned(),
        measured: false,
        grist_m_per_100g: Some(spread.times(100.0)),
        length_m: read.ball.as_ref().map(|ball| spread.times(ball.value)),
        classes: classes.into_iter().collect(),
    }))
}
