//! Why a criterion could not be judged, and what to measure or ask.

use super::{evidence::yarn, values::grist_words};
use crate::{
    matching::{HeldGrist, Missing, NoPrediction, Side},
    report::Style,
    trade::Construction,
    words::and_list,
};

/// Why it could not be judged.
pub(super) fn why(missing: &Missing, style: &Style) -> String {
    match missing {
        Missing::Grist(side) => format!("the metres per 100 g of {} are not known", yarn(*side)),
        Missing::ComparableGrist {
            candidate,
            reference,
        } => not_comparable(candidate, reference, style),
        Missing::PatternGauge => "the gauge of the pattern is not known".to_owned(),
        Missing::Gauge(reason) => format!(
            "no gauge of this yarn in the same stitch is known, and {}",
            not_predicted(*reason)
        ),
        Missing::ClassOfStrands => {
            "the class on a label is that of one strand and says nothing of several".to_owned()
        }
        Missing::WeightClass(side) => {
            format!("the weight class of {} is not stated", yarn(*side))
        }
        Missing::Fibre(side) => format!("the fibres of {} are not known", yarn(*side)),
        Missing::FibreValues(names) if names.is_empty() => {
            "nothing is known of how these fibres behave".to_owned()
        }
        Missing::FibreValues(names) => format!("nothing is known of {}", and_list(names)),
        Missing::Construction(side) => format!("how {} is built is not known", yarn(*side)),
        Missing::Care(asked) => format!(
            "the pattern asks for {}, and how this yarn may be washed is not known",
            asked.name()
        ),
    }
}

/// What to measure or ask, and how.
pub(super) fn measure(missing: &Missing) -> &'static str {
    match missing {
        Missing::Grist(Side::Reference) => {
            "give length and mass of one ball of the pattern's yarn, from its label or the pattern"
        }
        Missing::Grist(Side::Candidate) => {
            "weigh the whole ball, then measure off 10 m of it and weigh those: 10 m over their grams is the length per gram"
        }
        Missing::ComparableGrist { .. } => "knit a swatch of it and go by its gauge and its feel",
        Missing::PatternGauge => {
            "read it in the pattern: stitches over 10 cm or 4 in, which of the two, and in which stitch"
        }
        Missing::Gauge(_) => {
            "knit a square of 15 cm in the pattern's stitch, wash it and dry it as you will the piece, and count the stitches over 10 cm in the middle"
        }
        Missing::ClassOfStrands => "go by metres per 100 g and by gauge",
        Missing::WeightClass(_) => {
            "look for the number in the skein symbol of the label; metres per 100 g and gauge say more"
        }
        Missing::Fibre(Side::Reference) => "read them in the pattern or on the label of its yarn",
        Missing::Fibre(Side::Candidate) => {
            "read them on its label; a burn test by someone who knows it tells animal, plant and synthetic fibre apart, no more"
        }
        Missing::FibreValues(_) => {
            "ask the maker what the fibre is, or look for its name on the label"
        }
        Missing::Construction(_) => {
            "look at a cut end and untwist it: plies, one single, a knitted tube, loops or a halo"
        }
        Missing::Care(_) => "read the washing symbols on its label, then wash a swatch that way",
    }
}

fn not_comparable(
    (candidate, built): &(HeldGrist, Option<Construction>),
    (reference, reference_built): &(HeldGrist, Option<Construction>),
    style: &Style,
) -> String {
    let construction = |built: &Option<Construction>| {
        built.map_or("build not stated, assumed plied", Construction::name)
    };
    format!(
        "{} ({}) cannot be compared with {} wanted ({}): air, halo or loops make up for mass",
        grist_words(candidate, style),
        construction(built),
        grist_words(reference, style),
        construction(reference_built),
    )
}

fn not_predicted(reason: NoPrediction) -> &'static str {
    match reason {
        NoPrediction::GristNotKnown => {
            "it cannot be predicted either: the metres per 100 g of one of the two are not known"
        }
        NoPrediction::NotComparable => {
            "it cannot be predicted either: the constructions do not compare"
        }
        NoPrediction::TooFar => {
            "a prediction from thickness holds only within a factor of two in metres per 100 g"
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::matching::{
        Criterion, judge,
        samples::{Build, offered, settings, wanted},
    };

    #[test]
    fn a_tube_is_shown_but_not_compared_with_a_plied_yarn() {
        let tube = offered()
            .put_up(330.0, 100.0)
            .built(Construction::Chainette);
        let judgement = judge(&wanted().put_up(200.0, 100.0), &tube, &settings());
        let grist = |missing: &&Missing| missing.criterion() == Criterion::Grist;
        let told = why(
            judgement.not_judged.iter().find(grist).unwrap(),
            &Style::default(),
        );
        assert!(told.contains("330 m/100 g (chainette)"), "{told}");
        assert!(told.contains("200 m/100 g wanted"), "{told}");
    }

    #[test]
    fn what_is_not_known_is_told_with_how_to_measure_it() {
        let missing = Missing::Grist(Side::Candidate);
        assert_eq!(
            why(&missing, &Style::default()),
            "the metres per 100 g of this yarn are not known"
        );
        assert!(measure(&missing).contains("10 m"));
    }

    #[test]
    fn fibres_of_which_nothing_is_known_are_named() {
        let told = |names: &[&str]| {
            let names = names.iter().map(ToString::to_string).collect();
            why(&Missing::FibreValues(names), &Style::default())
        };
        assert_eq!(told(&["moss", "reed"]), "nothing is known of moss and reed");
        assert_eq!(told(&[]), "nothing is known of how these fibres behave");
    }
}
