//! Why, a sentence each, with numbers.

use super::{
    caution_text,
    evidence::property,
    hand::small_difference,
    missing::{measure, why},
    values::{measured_words, numbers, tolerance_words},
};
use crate::{
    matching::{Bar, Criterion, Departure, Doubt, Evidence, Exclusion, Measured, Reason},
    report::{Style, contradiction::contradiction_words},
    trade::FibreGroup,
    words::{count_of, number},
};

/// The sentence of one reason.
pub(super) fn sentence(reason: Reason<'_>, style: &Style) -> String {
    match reason {
        Reason::Caution(caution) => caution_text(caution),
        Reason::Bar(bar) => bar_sentence(bar),
        Reason::Doubt(doubt) => doubt_reason(doubt, style),
        Reason::Missing(missing) => format!("{}; {}", why(missing, style), measure(missing)),
        Reason::Departure(departure) => departed(departure, style),
    }
}

fn departed(departure: &Departure, style: &Style) -> String {
    let wanted = measured_words(&departure.wanted, style);
    let offered = measured_words(&departure.offered, style);
    let by = number(departure.departure, 2);
    match departure.criterion {
        Criterion::Grist => format!(
            "{}{}",
            compared("its", departure, style),
            thickness(departure, style)
        ),
        Criterion::Gauge => compared("gauge", departure, style),
        other if departure.departure == 0.0 => {
            format!("{}: {offered}, where {wanted} is wanted", other.name())
        }
        Criterion::WeightClass => format!(
            "weight class {offered} is {} from {wanted}; the limit is {}",
            count_of(departure.departure, "step"),
            tolerance_words(departure, style)
        ),
        Criterion::Fibre => format!(
            "fibre: {offered} differs from {wanted} by {by} times the limit{}",
            farthest(&departure.evidence)
        ),
        Criterion::Construction => format!(
            "build: {offered} is not {wanted}, {by} times the limit{}",
            small_difference_of(departure)
        ),
        Criterion::Care => washed(departure, &wanted),
    }
}

pub(super) fn doubt_reason(doubt: &Doubt, style: &Style) -> String {
    match doubt {
        Doubt::Material(word) => {
            format!("`{word}` names a fibre or a build that was not understood")
        }
        Doubt::Contradiction(found) => {
            format!(
                "the label contradicts itself: {}",
                contradiction_words(found, style)
            )
        }
        Doubt::Measured(range) => format!(
            "measured, it has {}, which reaches beyond the limit",
            style.grist_range(*range)
        ),
    }
}

pub(super) fn bar_sentence(bar: &Bar) -> String {
    let (share, is_treated) = match bar {
        Bar::Excluded(exclusion) => return excluded_sentence(*exclusion),
        Bar::DoesNotFelt { share, is_treated } => (share, is_treated),
    };
    let why = if *is_treated {
        "it was treated for the machine".to_owned()
    } else {
        format!(
            "{} % of it is fibre that felts, and 80 % or more is needed",
            number(share * 100.0, 0)
        )
    };
    format!("it will not felt: {why}; choose wool that is washed by hand")
}

fn excluded_sentence(exclusion: Exclusion) -> String {
    match exclusion {
        Exclusion::Holds(group) => {
            format!("it holds {}, which you must avoid", group_words(group))
        }
        Exclusion::HoldsOther(fibre) => {
            format!(
                "it holds {}, which is none of the fibres you allow",
                fibre.name
            )
        }
        Exclusion::FibreNotKnown => "it is not known what all of it is made of, and you must \
             avoid some fibres; read its label, or ask the maker"
            .to_owned(),
    }
}

/// A fibre or a family in words: `wool`, `animal fibre`.
pub(in crate::report) fn group_words(group: FibreGroup) -> String {
    match group {
        FibreGroup::Fibre(fibre) => fibre.name.to_owned(),
        FibreGroup::Family(family) => format!("{} fibre", family.name()),
    }
}

fn washed(departure: &Departure, wanted: &str) -> String {
    match &departure.offered {
        Measured::Care(None) => {
            format!(
                "care: the pattern asks for {wanted}, and the label does not say whether it takes it"
            )
        }
        offered => format!(
            "care: the pattern asks for {wanted}, the label allows only {}",
            measured_words(offered, &Style::default())
        ),
    }
}

fn small_difference_of(departure: &Departure) -> &'static str {
    match departure.offered {
        Measured::Construction(built) if is_within(departure) => small_difference(built),
        _ => "",
    }
}

fn is_within(departure: &Departure) -> bool {
    departure.departure <= 1.0
}

/// What counts at equal thickness, where that is nearer.
fn thickness(departure: &Departure, style: &Style) -> String {
    let (Measured::Grist(wanted), Measured::Grist(offered)) =
        (&departure.wanted, &departure.offered)
    else {
        return String::new();
    };
    let nearer = offered.nearer_to(wanted);
    if nearer == offered.together {
        return String::new();
    }
    format!(
        "; by thickness it counts as {}, {} % off, since its fibre is {}",
        style.grist_alone(nearer),
        number(offered.off(wanted).abs() * 100.0, 1),
        if nearer > offered.together {
            "denser"
        } else {
            "lighter"
        }
    )
}

/// The property on which two blends lie farthest apart.
fn farthest(evidence: &[Evidence]) -> String {
    match evidence.first() {
        Some(Evidence::FibreProperty(found)) => format!("; most in {}", property(found)),
        _ => String::new(),
    }
}

/// `length per mass 205 m/100 g is 8.9 % below the 225 m/100 g wanted; the
/// tolerance is 8 %`.
fn compared(name: &str, departure: &Departure, style: &Style) -> String {
    let off = numbers(departure).map_or(0.0, |rail| rail.offered / rail.wanted - 1.0);
    let percent = number(off.abs() * 100.0, 1);
    let wanted = measured_words(&departure.wanted, style);
    let offered = measured_words(&departure.offered, style);
    if percent == "0" {
        return format!("{name} {offered} is what is wanted");
    }
    let side = if off > 0.0 { "above" } else { "below" };
    format!(
        "{name} {offered} is {percent} % {side} the {wanted} wanted; the limit is {}",
        tolerance_words(departure, style)
    )
}

#[cfg(test)]
mod tests {
    use crate::{
        matching::{
            Candidate, Requirement, judge,
            samples::{Build, offered, settings, wanted},
        },
        record::Purpose,
        report::{Style, reason_sentences},
    };

    fn reasons(wanted: &Requirement, offered: &Candidate) -> Vec<String> {
        reason_sentences(&judge(wanted, offered, &settings()), &Style::default())
    }

    fn dk<T: Build>(yarn: T) -> T {
        let yarn = yarn.put_up(112.5, 50.0).label_gauge(22.0);
        yarn.class(&[3]).of(&[("wool", 100.0)])
    }

    #[test]
    fn a_shorter_yarn_is_below_and_a_longer_one_above() {
        assert_eq!(
            reasons(&dk(wanted()), &dk(offered()).put_up(102.5, 50.0))[0],
            "its 205 m/100 g is 8.9 % below the 225 m/100 g wanted; the limit is 8 %"
        );
        assert_eq!(
            reasons(&dk(wanted()), &dk(offered()).put_up(125.0, 50.0))[0],
            "its 250 m/100 g is 11.1 % above the 225 m/100 g wanted; the limit is 8 %"
        );
    }

    #[test]
    fn the_farthest_part_of_the_fibres_is_named() {
        assert_eq!(
            reasons(&dk(wanted()), &dk(offered()).of(&[("cotton", 100.0)]))[0],
            "fibre: 100% cotton differs from 100% wool by 1.81 times the limit; most in stretch before breaking: 7.1 % against 42.5 %, 1.81 times the limit"
        );
    }

    #[test]
    fn what_is_missing_comes_with_how_to_measure_it() {
        let bare = offered().class(&[3]).of(&[("wool", 100.0)]);
        let told = reasons(&dk(wanted()), &bare);
        assert!(told[0].contains("10 m") && told[1].contains("15 cm"));
        let told = told.join("\n");
        assert!(told.contains("fibre: 100% wool, where 100% wool is wanted"));
        assert!(!told.contains("construction"), "{told}");
    }

    #[test]
    fn strands_held_together_are_told() {
        let double = Candidate {
            strands: 2,
            ..offered().put_up(600.0, 100.0)
        };
        let told = reasons(&wanted().put_up(300.0, 100.0), &double).join("\n");
        assert!(
            told.contains("300 m/100 g (2 strands of 600 m/100 g)"),
            "{told}"
        );
    }

    #[test]
    fn a_hazard_comes_first() {
        let pad = Requirement {
            purpose: Some(Purpose::HotPad),
            ..dk(wanted())
        };
        assert!(reasons(&pad, &dk(offered()).of(&[("acrylic", 100.0)]))[0].contains("melt"));
    }
}
