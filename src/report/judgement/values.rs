//! What was compared, in words and as numbers.

use crate::{
    matching::{Criterion, Departure, FibreProperty, HeldGrist, Measured, Tolerance},
    measure::{GristTolerance, Interval},
    record::{Care, Classes, Fit},
    report::Style,
    words::{count_of, number, or_list},
};

/// What people call a criterion.
pub(in crate::report) fn criterion_words(criterion: Criterion) -> &'static str {
    match criterion {
        Criterion::Grist => "metres per 100 g",
        other => other.name(),
    }
}

/// The same in full, as people say it.
pub(in crate::report) fn criterion_in_full(criterion: Criterion, style: &Style) -> &'static str {
    match criterion {
        Criterion::Grist => {
            let [first, _] = style.ordered("metres per 100 g", "yards per 100 g");
            first
        }
        Criterion::Gauge => "stitches in 10 cm",
        Criterion::WeightClass => "weight",
        Criterion::Fibre => "fibre",
        Criterion::Construction => "build",
        Criterion::Care => "care",
    }
}

/// `relaxed fit`, `fitted`.
pub(in crate::report) fn fit_words(fit: Fit) -> String {
    match fit {
        Fit::Relaxed => format!("{} fit", fit.name()),
        Fit::Fitted | Fit::Unfitted => fit.name().to_owned(),
    }
}

/// A number of a row: whole from 100 on, else to a tenth.
pub(super) fn shown_number(value: f64) -> String {
    number(value, usize::from(value < 100.0))
}

/// `225 m/100 g`, `22 sts per 10 cm (predicted)`, `100% wool`.
pub(super) fn measured_words(measured: &Measured, style: &Style) -> String {
    match measured {
        Measured::Grist(held) => grist_words(held, style),
        Measured::Gauge {
            per_10_cm,
            is_predicted,
            ..
        } => {
            let predicted = if *is_predicted { " (predicted)" } else { "" };
            format!("{}{predicted}", stitches(*per_10_cm))
        }
        Measured::WeightClass { classes, .. } => classes_words(classes),
        Measured::Fibre(blend) => blend.to_string(),
        Measured::Construction(construction) => construction.name().to_owned(),
        Measured::Care(care) => care.map_or("not stated", Care::name).to_owned(),
    }
}

/// `225 m/100 g`, `225 m/100 g (2 strands of 450 m/100 g)`.
pub(super) fn grist_words(held: &HeldGrist, style: &Style) -> String {
    match held.strands {
        0 | 1 => style.grist_alone(held.together),
        strands => format!(
            "{} ({strands} strands of {})",
            style.grist_alone(held.together),
            style.grist_alone(held.one)
        ),
    }
}

/// `22 sts per 10 cm`, `20 to 22 sts per 10 cm`.
pub(super) fn stitches(per_10_cm: Interval<f64>) -> String {
    let (low, high) = (number(per_10_cm.low(), 1), number(per_10_cm.high(), 1));
    if low == high {
        format!("{low} sts per 10 cm")
    } else {
        format!("{low} to {high} sts per 10 cm")
    }
}

/// `1 super fine or 2 fine`.
pub(super) fn classes_words(classes: &Classes) -> String {
    let names: Vec<String> = classes.as_slice().iter().map(ToString::to_string).collect();
    or_list(&names)
}

/// What a property of fibres is called, and its unit.
pub(super) fn property_words(property: FibreProperty) -> (&'static str, &'static str) {
    match property {
        FibreProperty::Recovery => ("recovery from 5 % strain", "%"),
        FibreProperty::Extension => ("stretch before breaking", "%"),
        FibreProperty::Regain => ("moisture regain", "%"),
        FibreProperty::SyntheticShare => ("synthetic share", "%"),
    }
}

/// The tolerance that was used.
pub(super) fn tolerance_words(departure: &Departure, style: &Style) -> String {
    match (departure.tolerance, departure.criterion) {
        (Tolerance::Grist { stated, .. }, _) => match stated {
            GristTolerance::Share(_) => style.tolerance(stated),
            GristTolerance::Absolute(grist) => style.grist_alone(grist),
        },
        (Tolerance::Gauge { fit, share }, _) => {
            format!("{} % ({})", number(share * 100.0, 1), fit_words(fit))
        }
        (Tolerance::One, Criterion::Fibre) => {
            "1 (the part that differs most decides)".to_owned()
        }
        (Tolerance::One, Criterion::Construction) => {
            "1 (same group 0, plied against single 0.5, across groups 1.25)".to_owned()
        }
        (Tolerance::One, Criterion::Care) => {
            "1 (a machine wash that the yarn does not take counts 1.25, or 0.5 where that is not stated of fibre that does not felt)".to_owned()
        }
        (Tolerance::One, _) => count_of(1.0, "step"),
    }
}

/// Both values and the tolerance of a departure in one unit.
#[derive(Debug, Clone, Copy)]
pub(super) struct Numbers {
    pub(super) wanted: f64,
    pub(super) offered: f64,
    /// Length per mass of the pattern's fibres that would be as thick, where that
    /// counts.
    pub(super) as_thick_as: Option<f64>,
    pub(super) tolerance: f64,
    pub(super) unit: &'static str,
}

/// The same, where they are numbers.
pub(super) fn numbers(departure: &Departure) -> Option<Numbers> {
    let found = match (&departure.wanted, &departure.offered, departure.tolerance) {
        (
            Measured::Grist(wanted),
            Measured::Grist(offered),
            Tolerance::Grist {
                metres_per_gram, ..
            },
        ) => {
            let nearer = offered.nearer_to(wanted);
            Numbers {
                wanted: wanted.together.as_metres_per_100_g(),
                offered: offered.together.as_metres_per_100_g(),
                as_thick_as: (nearer != offered.together).then(|| nearer.as_metres_per_100_g()),
                tolerance: metres_per_gram * 100.0,
                unit: "m/100 g",
            }
        }
        (
            Measured::Gauge {
                compared: wanted, ..
            },
            Measured::Gauge {
                compared: offered, ..
            },
            Tolerance::Gauge { share, .. },
        ) => Numbers {
            wanted: *wanted,
            offered: *offered,
            as_thick_as: None,
            tolerance: share * wanted,
            unit: "sts per 10 cm",
        },
        (
            Measured::WeightClass {
                compared: wanted, ..
            },
            Measured::WeightClass {
                compared: offered, ..
            },
            Tolerance::One,
        ) => Numbers {
            wanted: f64::from(wanted.number()),
            offered: f64::from(offered.number()),
            as_thick_as: None,
            tolerance: 1.0,
            unit: "class",
        },
        _ => return None,
    };
    Some(found)
}
