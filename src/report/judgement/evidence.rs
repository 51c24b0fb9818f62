//! Where a value comes from and what was assumed, a sentence each.

use super::values::{classes_words, property_words, stitches};
use crate::{
    matching::{Evidence, FoundGauge, GaugeSource, PropertyComparison, Side},
    measure::{Grist, NeedleSize},
    record::FlatOrRound,
    report::Style,
    words::{count_of, number},
};

/// The sentence of one piece of evidence.
pub(super) fn sentence(evidence: &Evidence, style: &Style) -> String {
    match evidence {
        Evidence::YarnCount(side, count) => format!(
            "metres per 100 g of {} come from its yarn count {count}; twist take-up is not taken off",
            yarn(*side)
        ),
        Evidence::MeasuredGrist(side, range) => format!(
            "{} has no label: measured, it has {}",
            yarn(*side),
            style.grist_range(*range)
        ),
        Evidence::ConstructionNotStated(side) => {
            format!("the build of {} is not stated: assumed plied", yarn(*side))
        }
        Evidence::GaugesCompared {
            candidate,
            reference,
            needle,
            carried_to,
        } => compared(candidate, reference, *needle, *carried_to),
        Evidence::GaugeLengthNotStated(source) => format!(
            "{} does not say over which length it was counted: assumed 10 cm; over 4 in it would be 1.6 % less",
            gauge(*source)
        ),
        Evidence::GaugeOfOtherStrands {
            source,
            from,
            to,
            factor,
        } => of_other_strands(*source, (*from, *to), *factor),
        Evidence::SwatchNotWashed => {
            "your swatch was counted before washing: wash it, dry it and count again".to_owned()
        }
        Evidence::FlatAgainstRound(both) => flat_against_round(*both),
        Evidence::PredictedFromThickness => {
            "predicted from thickness, which is good to some 10 %: only a swatch shows".to_owned()
        }
        Evidence::EqualDensity => {
            "the fibres of one of the two are not known: equal density is assumed".to_owned()
        }
        Evidence::SeveralClasses(text, classes) => format!(
            "`{text}` means {} by market: the nearest counts",
            classes_words(classes)
        ),
        Evidence::FibreProperty(found) => property(found),
        Evidence::Elastic(side) => format!(
            "{} is elastic: its elastic fibre stays out of recovery and stretch",
            yarn(*side)
        ),
        Evidence::EqualThickness {
            by_length,
            by_thickness,
            as_thick_as,
        } => equal_thickness((*by_length, *by_thickness), *as_thick_as, style),
        Evidence::DryCleanOnly => {
            "its label allows dry cleaning only: wash a swatch before you trust it".to_owned()
        }
    }
}

fn equal_thickness(
    (by_length, by_thickness): (f64, f64),
    as_thick_as: Grist,
    style: &Style,
) -> String {
    let percent = |off: f64| {
        let side = if off < 0.0 { "below" } else { "above" };
        format!("{} % {side}", number(off.abs() * 100.0, 1))
    };
    let denser = if by_thickness > by_length {
        "denser"
    } else {
        "lighter"
    };
    format!(
        "its fibre is {denser} than that of the pattern's yarn, so it is as thick as {} of that: {} what is wanted by thickness, {} by length; the nearer counts",
        style.grist_alone(as_thick_as),
        percent(by_thickness),
        percent(by_length),
    )
}

/// `the pattern's yarn` or `this yarn`.
pub(super) fn yarn(side: Side) -> &'static str {
    match side {
        Side::Reference => "the pattern's yarn",
        Side::Candidate => "this yarn",
    }
}

fn gauge(source: GaugeSource) -> &'static str {
    match source {
        GaugeSource::Pattern => "the pattern's gauge",
        GaugeSource::ReferenceLabel => "the label gauge of the pattern's yarn",
        GaugeSource::CandidateLabel => "the label gauge of this yarn",
        GaugeSource::Measured => "the gauge you measured",
        GaugeSource::WashedSwatch => "your washed swatch",
        GaugeSource::Swatch => "your swatch",
    }
}

fn compared(
    candidate: &FoundGauge,
    reference: &FoundGauge,
    needle: Option<NeedleSize>,
    carried_to: Option<FoundGauge>,
) -> String {
    let on = needle.map_or(String::new(), |needle| {
        format!(" on {} mm needles", number(needle.as_millimetres(), 2))
    });
    let carried = carried_to.map_or(String::new(), |to| {
        let stitches = stitches(to.per_10_cm);
        format!(", carried over to {} of {stitches}", gauge(to.source))
    });
    format!(
        "{} ({}){on} against {} ({}){carried}",
        gauge(candidate.source),
        stitches(candidate.per_10_cm),
        gauge(reference.source),
        stitches(reference.per_10_cm),
    )
}

fn of_other_strands(source: GaugeSource, (from, to): (u8, u8), factor: f64) -> String {
    let strands = |count: u8| count_of(f64::from(count), "strand");
    format!(
        "{} is for {}: for {} it is counted as {} of it (area rule, common practice, no source), which is a prediction",
        gauge(source),
        strands(from),
        strands(to),
        number(factor, 2),
    )
}

fn flat_against_round(
    [(mine, worked), (theirs, other)]: [(GaugeSource, FlatOrRound); 2],
) -> String {
    format!(
        "{} was worked {}, {} {}: gauge can differ between the two",
        gauge(mine),
        worked.name(),
        gauge(theirs),
        other.name()
    )
}

/// `moisture regain: 8 % against 16 %, 0.67 tolerances`.
pub(super) fn property(found: &PropertyComparison) -> String {
    let (name, unit) = property_words(found.property);
    let Some(values) = found.values else {
        return format!("{name} is left out: no value for over a quarter of one of the blends");
    };
    format!(
        "{name}: {} {unit} against {} {unit}, {} times the limit{}",
        number(values.candidate, 2),
        number(values.reference, 2),
        number(values.departure, 2),
        unpublished(found),
    )
}

/// In brackets, the fibres whose value is not a published one.
fn unpublished(found: &PropertyComparison) -> String {
    let fibres = found.unpublished.iter();
    let each: Vec<String> = fibres
        .map(|(name, basis)| format!("{name}: {basis}"))
        .collect();
    if each.is_empty() {
        String::new()
    } else {
        format!(" ({})", each.join("; "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        matching::{
            Candidate, Criterion, Requirement, judge,
            samples::{Build, offered, settings, swatch, ten_cm, wanted},
        },
        record::{Care, StatedGauge, Stitch},
        trade::Construction,
    };

    fn notes(wanted: &Requirement, offered: &Candidate, criterion: Criterion) -> Vec<String> {
        let judgement = judge(wanted, offered, &settings());
        let found = judgement.departure(criterion).unwrap();
        found.evidence.iter().map(told).collect()
    }

    fn told(evidence: &Evidence) -> String {
        sentence(evidence, &Style::default())
    }

    fn gauge_notes(wanted: &Requirement, offered: &Candidate) -> String {
        notes(wanted, offered, Criterion::Gauge).join("\n")
    }

    fn garter(stitches: f64) -> Requirement {
        Requirement {
            gauge: Some(StatedGauge {
                stitch: Some(Stitch::named("garter")),
                ..ten_cm(stitches)
            }),
            ..wanted()
        }
    }

    #[test]
    fn a_yarn_count_and_an_unstated_construction_are_told() {
        let count = Evidence::YarnCount(Side::Candidate, "2/14 Nm".to_owned());
        assert_eq!(
            told(&count),
            "metres per 100 g of this yarn come from its yarn count 2/14 Nm; twist take-up is not taken off"
        );
        let wanted = wanted().put_up(350.0, 50.0).built(Construction::Plied);
        assert_eq!(
            notes(&wanted, &offered().put_up(700.0, 100.0), Criterion::Grist),
            ["the build of this yarn is not stated: assumed plied"]
        );
    }

    #[test]
    fn a_swatch_is_named_and_so_is_that_it_was_not_washed() {
        let mut own = offered();
        own.swatches = vec![swatch("garter", Some(20.0), Some(19.0))];
        assert_eq!(
            gauge_notes(&garter(20.0), &own),
            "your washed swatch (19 sts per 10 cm) on 4 mm needles against the pattern's gauge (20 sts per 10 cm)"
        );
        own.swatches = vec![swatch("garter", Some(21.0), None)];
        assert!(gauge_notes(&garter(20.0), &own).contains("counted before washing"));
    }

    #[test]
    fn a_gauge_of_one_strand_is_told_to_be_computed_for_two() {
        let double = Candidate {
            strands: 2,
            ..offered().label_gauge(28.0)
        };
        let told = gauge_notes(&wanted().label_gauge(20.0), &double);
        assert!(
            told.contains("is for 1 strand: for 2 strands it is counted as 0.71"),
            "{told}"
        );
        assert!(told.contains("a prediction"), "{told}");
    }

    #[test]
    fn flat_against_in_the_round_is_told() {
        let both = [
            (GaugeSource::WashedSwatch, FlatOrRound::Flat),
            (GaugeSource::Pattern, FlatOrRound::InTheRound),
        ];
        assert_eq!(
            told(&Evidence::FlatAgainstRound(both)),
            format!(
                "your washed swatch was worked {}, the pattern's gauge {}: gauge can differ between the two",
                FlatOrRound::Flat.name(),
                FlatOrRound::InTheRound.name()
            )
        );
    }

    #[test]
    fn what_is_assumed_of_a_gauge_is_told() {
        let length = Evidence::GaugeLengthNotStated(GaugeSource::CandidateLabel);
        assert!(told(&length).contains("assumed 10 cm"));
        let thickness = told(&Evidence::PredictedFromThickness);
        assert!(thickness.contains("predicted from thickness"));
        assert!(told(&Evidence::EqualDensity).contains("equal density"));
    }

    #[test]
    fn a_name_of_several_classes_is_told() {
        assert_eq!(
            notes(
                &wanted().class(&[1, 2]),
                &offered().class(&[2]),
                Criterion::WeightClass
            ),
            ["`k` means 1 super fine or 2 fine by market: the nearest counts"]
        );
    }

    #[test]
    fn a_part_that_is_left_out_and_a_value_that_no_text_confirmed_are_named() {
        let told = |parts: &[(&str, f64)]| {
            let wool = wanted().of(&[("wool", 100.0)]);
            notes(&wool, &offered().of(parts), Criterion::Fibre).join("\n")
        };
        assert!(told(&[("acetate", 30.0), ("wool", 70.0)]).contains("left out"));
        let alpaca = told(&[("alpaca", 100.0)]);
        assert!(
            alpaca.contains("alpaca: common practice, no source"),
            "{alpaca}"
        );
        assert!(
            alpaca.contains("alpaca: value of wool as a proxy"),
            "{alpaca}"
        );
    }

    #[test]
    fn dry_cleaning_only_is_told() {
        let wanted = Requirement {
            care: Some(Care::HandWash),
            ..wanted()
        };
        let told = notes(&wanted, &offered().care(Care::DryClean), Criterion::Care);
        assert!(told.len() == 1 && told[0].contains("dry cleaning only"));
    }
}
