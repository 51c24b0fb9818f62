//! Yarns and wishes for the tests of this room.

use super::{Candidate, FibreLimits, Requirement, Settings, Weights};
use crate::{
    measure::{Gauge, GristTolerance, Interval, Length, Mass, NeedleSize, Over, Ratio},
    record::{
        Blend, BlendPart, Care, Classes, FibreName, Fit, Name, Printed, Size, StatedGauge, Stitch,
        Swatch, YarnFacts,
    },
    trade::{Construction, WeightClass, fibre},
};

pub(crate) fn settings() -> Settings {
    Settings {
        tolerance: GristTolerance::Share(Ratio::percent(8.0).unwrap()),
        weights: Weights::default(),
        limits: FibreLimits::default(),
    }
}

pub(crate) fn wanted() -> Requirement {
    Requirement {
        facts: YarnFacts::default(),
        strands: 1,
        gauge: None,
        fit: Fit::Relaxed,
        purpose: None,
        care: None,
        multiple: None,
        sizes: Vec::new(),
        size: None,
    }
}

pub(crate) fn offered() -> Candidate {
    Candidate {
        facts: YarnFacts::default(),
        swatches: Vec::new(),
        measured: None,
        strands: 1,
        doubts: Vec::new(),
    }
}

pub(crate) fn ten_cm(stitches: f64) -> StatedGauge {
    let over = Over::centimetres(10.0).ok();
    StatedGauge::bare(Gauge::new(Interval::one(stitches), None, over).unwrap())
}

pub(crate) fn blend(parts: &[(&str, f64)]) -> Blend {
    let part = |(name, percent): &(&str, f64)| BlendPart {
        fibre: fibre(name).map_or(FibreName::Other((*name).to_owned()), FibreName::Known),
        percent: *percent,
    };
    Blend::new(parts.iter().map(part).collect()).unwrap()
}

pub(crate) fn needle(mm: f64) -> NeedleSize {
    NeedleSize::millimetres(mm).unwrap()
}

/// A swatch with its gauge before and after washing.
pub(crate) fn swatch(stitch: &str, before: Option<f64>, after: Option<f64>) -> Swatch {
    let stated = |stitches| StatedGauge {
        stitch: Some(Stitch::named(stitch)),
        ..ten_cm(stitches)
    };
    Swatch {
        needle: needle(4.0),
        before: before.map(stated),
        after: after.map(|stitches| ten_cm(stitches).gauge),
        measured_on: "2026-01-02".to_owned(),
        notes: String::new(),
        held_with: Vec::new(),
    }
}

pub(crate) fn size(name: &str, width_cm: f64, cast_on: u32) -> Size {
    Size {
        name: Name::new("size", name).unwrap(),
        width: Some(Printed::new("w", Length::metres(width_cm / 100.0).unwrap())),
        height: None,
        cast_on: Some(cast_on),
        rows: None,
    }
}

/// Facts, one at a time.
pub(crate) trait Build: Sized {
    fn facts_mut(&mut self) -> &mut YarnFacts;

    fn put_up(mut self, metres: f64, grams: f64) -> Self {
        let facts = self.facts_mut();
        facts.length = Some(Printed::new("l", Length::metres(metres).unwrap()));
        facts.mass = Some(Printed::new("m", Mass::grams(grams).unwrap()));
        self
    }

    fn built(mut self, construction: Construction) -> Self {
        self.facts_mut().construction = Some(Printed::new("c", construction));
        self
    }

    fn label_gauge(mut self, stitches: f64) -> Self {
        self.facts_mut().gauge = Some(Printed::new("g", ten_cm(stitches)));
        self
    }

    fn of(mut self, parts: &[(&str, f64)]) -> Self {
        self.facts_mut().blend = Some(Printed::new("b", blend(parts)));
        self
    }

    fn class(mut self, numbers: &[u8]) -> Self {
        let classes = numbers.iter().filter_map(|n| WeightClass::new(*n));
        let classes = Classes::new(classes.collect()).unwrap();
        self.facts_mut().class = Some(Printed::new("k", classes));
        self
    }

    fn care(mut self, care: Care) -> Self {
        self.facts_mut().care = Some(Printed::new("w", care));
        self
    }

    fn needles(mut self, mm: f64) -> Self {
        self.facts_mut().needles = Some(Printed::new("n", Interval::one(needle(mm))));
        self
    }
}

impl Build for Requirement {
    fn facts_mut(&mut self) -> &mut YarnFacts {
        &mut self.facts
    }
}

impl Build for Candidate {
    fn facts_mut(&mut self) -> &mut YarnFacts {
        &mut self.facts
    }
}
