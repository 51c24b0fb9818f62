//! Masses as weighed, with what keeps them from being exact.

use super::{AppError, heard::Heard};
use crate::{
    label::cells,
    measure::{Mass, Ratio},
    quantity::{Doubt, Measurement},
    trade::tolerable_shortfall,
    words::number,
};

/// Step of a scale where none is stated: a common kitchen scale.
const USUAL_SCALE: &str = "1 g";
/// How far damp may change a mass where it is not stated. Common practice, no
/// source: 100 g of one yarn held 430 to 440 yd with the weather.
const USUAL_DAMP: &str = "2 %";

/// How masses are weighed.
#[derive(Debug, Clone, Copy)]
pub(super) struct Weighing {
    pub(super) scale: Mass,
    pub(super) damp: Ratio,
}

impl Weighing {
    /// From the steps of the scale and the share of damp, as typed.
    pub(super) fn read(
        heard: &mut Heard,
        scale: Option<&str>,
        damp: Option<&str>,
    ) -> Result<Self, AppError> {
        let scale = heard.value("--scale", cells::mass(scale.unwrap_or(USUAL_SCALE)))?;
        let damp = heard.value("--damp", cells::percent(damp.unwrap_or(USUAL_DAMP)))?;
        Ok(Self { scale, damp })
    }

    /// A mass on the scale, `core` of it no yarn: rounded to the scale's step, and
    /// its yarn so much heavier or lighter with the damp of the day.
    pub(super) fn weighed(&self, mass: Mass, core: f64) -> Measurement {
        let yarn = (mass.as_grams() - core).max(0.0);
        Measurement {
            value: mass.as_grams(),
            doubts: vec![
                Doubt::Within(self.scale.as_grams() / 2.0),
                Doubt::Within(self.damp.as_fraction() * yarn),
            ],
        }
    }

    /// What was counted, in words.
    pub(super) fn words(&self) -> Vec<String> {
        vec![
            format!(
                "Scale: rounds to {} g, so each weighing is good to {} g either way.",
                number(self.scale.as_grams(), 4),
                number(self.scale.as_grams() / 2.0, 4)
            ),
            format!(
                "Damp: yarn may weigh {} % more or less from one weighing to the next (common practice, no source; 0 % where both were weighed in the same air).",
                number(self.damp.as_percent(), 2)
            ),
        ]
    }
}

/// A mass that only the label states, and the words for its doubt.
pub(super) fn labelled(mass: Mass, core: f64) -> Result<(Measurement, String), AppError> {
    let short = tolerable_shortfall(mass).ok_or_else(|| {
        AppError::Usage(format!(
            "no tolerance is published for a label of {} g: weigh the ball and give --before",
            number(mass.as_grams(), 2)
        ))
    })?;
    let known = Measurement {
        value: mass.as_grams() + core,
        doubts: vec![Doubt::Mostly(short.as_grams())],
    };
    let words = format!(
        "Label: a ball of {} g may fall {} g short (Directive 76/211/EEC, Annex I), at most 1 in 40 by more (UK packers' rules); 95 of 100 are taken to lie within that either way.",
        number(mass.as_grams(), 2),
        number(short.as_grams(), 2)
    );
    Ok((known, words))
}
