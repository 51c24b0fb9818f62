//! Masses as weighed, with what keeps them from being exact, and what a row takes
//! by them.

use super::{LastFault, LastRequest};
use crate::{
    app::{AppError, FaultKind, InputReader, input::is_given},
    label::cells::{self, Step},
    measure::{Grist, Mass, Ratio},
    quantity::{Doubt, Measurement, RowUse},
    trade::tolerable_shortfall,
};

/// Step of a scale where none is stated, g: a common kitchen scale.
const USUAL_SCALE_G: f64 = 1.0;
/// How far damp may change a mass where it is not stated, %. Common practice, no
/// source: 100 g of one yarn held 430 to 440 yd with the weather.
const USUAL_DAMP_PERCENT: f64 = 2.0;

/// How masses are weighed.
#[derive(Debug, Clone, Copy)]
pub struct Weighing {
    /// What the scale rounds to.
    pub scale: Mass,
    /// How far damp may change what yarn weighs.
    pub damp: Ratio,
}

/// How it is known what a row takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum RowUseSource {
    /// From two weighings.
    Weighed,
    /// From the mass on the label, which may fall short by so much.
    Label {
        /// What the label says.
        stated: Mass,
        /// How far a ball may fall short of it.
        shortfall: Mass,
    },
    /// The asker's own figure.
    OwnFigure,
}

impl Weighing {
    /// From the steps of the scale and the share of damp, as typed.
    pub(super) fn read(reader: &mut InputReader, request: &LastRequest) -> Result<Self, AppError> {
        let scale = reader.optional("scale", &request.scale, cells::mass);
        let damp = reader.optional("damp", &request.damp, cells::percent);
        Ok(Self {
            scale: scale.map_or_else(|| Mass::grams(USUAL_SCALE_G), Ok)?,
            damp: damp.map_or_else(|| Ratio::percent(USUAL_DAMP_PERCENT), Ok)?,
        })
    }

    /// A mass on the scale, `core_g` of it no yarn: rounded to the scale's step, and
    /// its yarn so much heavier or lighter with the damp of the day.
    pub(super) fn weighed(&self, mass: Mass, core_g: f64) -> Measurement {
        let yarn_g = (mass.as_grams() - core_g).max(0.0);
        Measurement {
            value: mass.as_grams(),
            doubts: vec![
                Doubt::Within(self.scale.as_grams() / 2.0),
                Doubt::Within(self.damp.as_fraction() * yarn_g),
            ],
        }
    }

    /// A ball with the mass that its label states, on its core.
    fn labelled(&self, stated: Mass, shortfall: Mass, core_g: f64) -> Measurement {
        Measurement {
            value: stated.as_grams() + core_g,
            doubts: vec![
                Doubt::Mostly(shortfall.as_grams()),
                Doubt::Within(self.damp.as_fraction() * stated.as_grams()),
            ],
        }
    }
}

/// What a row takes, and how that is known: from weighings, the label, or as the
/// asker says.
pub(super) fn row_use(
    reader: &mut InputReader,
    request: &LastRequest,
    weighing: &Weighing,
    (core_g, grist, rows): (f64, Option<Grist>, Option<f64>),
) -> Result<Option<(RowUse, RowUseSource)>, AppError> {
    let own = reader.optional("row-takes", &request.row_takes, cells::step);
    if is_given(&request.row_takes) {
        let own = own
            .map(|step| own_figure(reader, step, grist))
            .transpose()?;
        return Ok(own.flatten().map(|own| (own, RowUseSource::OwnFigure)));
    }
    let before = reader.optional("before", &request.before, cells::mass);
    let label = reader.optional("label", &request.label, cells::mass);
    let given = [("before", &request.before), ("label", &request.label)];
    match given.into_iter().find(|(_, text)| is_given(text)) {
        None => reader.fault(
            "before",
            FaultKind::OneNeeded(&["before", "label", "row-takes"]),
        ),
        Some((field, _)) if !is_given(&request.rows) => {
            reader.fault("rows", FaultKind::NeededWith(field));
        }
        Some(_) => {}
    }
    let before = match (before, label) {
        (Some(before), _) => Some((weighing.weighed(before, core_g), RowUseSource::Weighed)),
        (None, Some(stated)) => {
            let shortfall = tolerable_shortfall(stated);
            if shortfall.is_none() {
                reader.fault("label", LastFault::NoLabelTolerance(stated));
            }
            shortfall.map(|shortfall| {
                let source = RowUseSource::Label { stated, shortfall };
                (weighing.labelled(stated, shortfall, core_g), source)
            })
        }
        (None, None) => None,
    };
    let weighed = before.zip(rows);
    Ok(weighed.map(|((before, source), rows)| (RowUse::Weighed { before, rows }, source)))
}

fn own_figure(
    reader: &mut InputReader,
    step: Step,
    grist: Option<Grist>,
) -> Result<Option<RowUse>, AppError> {
    let mass = match (step, grist) {
        (Step::Mass(mass), _) => mass,
        (Step::Length(length), Some(grist)) => length.mass_at(grist)?,
        (Step::Length(_), None) => {
            reader.fault("row-takes", LastFault::LengthWithoutPutUp);
            return Ok(None);
        }
    };
    Ok(Some(RowUse::Row(Measurement::exactly(mass.as_grams()))))
}
