//! What a difference in fibre or build means in the hand, and what to do about it.
//!
//! Common practice, no source.

use super::values::property_words;
use crate::{
    matching::{Departure, Evidence, FibreProperty, PropertyComparison, PropertyValues},
    trade::{Construction, Group},
    words::number,
};

/// Something that is different in the hand.
struct InHand {
    /// Who could live with it: `you can do without stretch`.
    accepted: &'static str,
    /// What it is, in a few words.
    short: &'static str,
    /// What it is, and what to do about it.
    full: &'static str,
}

/// What fibre beyond its limit means in the hand, of the part that departs most: the
/// condition, and the rest of its sentence.
pub(super) fn fibre_in_hand(found: &Departure) -> (String, String) {
    farthest(found).map_or_else(Default::default, |(part, values)| {
        let means = in_hand(part.property, values);
        let rest = format!(": {} ({}).", means.full, figures(part, values));
        (means.accepted.to_owned(), rest)
    })
}

/// The same in a few words.
pub(super) fn fibre_in_short(found: &Departure) -> String {
    let means = farthest(found).map(|(part, values)| in_hand(part.property, values));
    means.map_or(String::new(), |means| means.short.to_owned())
}

/// The property on which two blends lie farthest apart, which comes first.
fn farthest(found: &Departure) -> Option<(&PropertyComparison, PropertyValues)> {
    found.evidence.iter().find_map(|evidence| match evidence {
        Evidence::FibreProperty(part) => Some((part, part.values?)),
        _ => None,
    })
}

/// What the property means, from the side of the candidate.
fn in_hand(property: FibreProperty, values: PropertyValues) -> InHand {
    let is_more = values.candidate > values.reference;
    let (accepted, short, full) = match (property, is_more) {
        (FibreProperty::Recovery, false) => (
            "you want it to hang, not to spring back",
            "little spring, so ribs lie flat and it grows",
            "it has little spring, so ribs and cables lie flat and the piece grows in wear; rib on a smaller needle, knit it shorter, and hang up the washed swatch before you measure it",
        ),
        (FibreProperty::Recovery, true) => (
            "you want it to spring back, not to hang",
            "more spring, so it drapes less",
            "it has more spring, so the cloth draws in and drapes less; block the swatch and measure it relaxed",
        ),
        (FibreProperty::Extension, false) => (
            "you can do without stretch",
            "no stretch, so ribs and cables lie flat",
            "it gives little and does not spring back, so ribs and cables lie flat and edges stay as they are worked; rib on a smaller needle, cast on and bind off loosely, and hang up the washed swatch before you measure it",
        ),
        (FibreProperty::Extension, true) => (
            "you like it to stretch",
            "more stretch: softer, less crisp",
            "it gives more, so the cloth is softer and less crisp; stretch the swatch as it will be worn before you measure it",
        ),
        (FibreProperty::Regain, false) => (
            "it may take up less moisture",
            "takes up less moisture, may feel clammy",
            "it feels cooler or clammy on the skin and dries sooner; wear the swatch for a while",
        ),
        (FibreProperty::Regain, true) => (
            "it may take up more moisture",
            "takes up more moisture, dries slowly",
            "it is heavier when wet and dries slowly; wash a swatch and let it dry",
        ),
        (FibreProperty::SyntheticShare, true) => (
            "it need not soak up water",
            "does not soak up water",
            "synthetic fibre does not absorb it; cotton or linen do",
        ),
        (FibreProperty::SyntheticShare, false) => (
            "it may soak up water",
            "soaks up more water, dries slowly",
            "it absorbs more and dries more slowly",
        ),
    };
    InHand {
        accepted,
        short,
        full,
    }
}

fn figures(part: &PropertyComparison, values: PropertyValues) -> String {
    let (name, unit) = property_words(part.property);
    format!(
        "{name} {} {unit} against {} {unit}",
        number(values.candidate, 1),
        number(values.reference, 1)
    )
}

/// What a build beyond its limit means in the hand: the condition, and the rest of its
/// sentence.
pub(super) fn build_in_hand(offered: Construction, wanted: Construction) -> (String, String) {
    let means = match offered.group() {
        Group::Band => {
            "a tube or tape is lighter than it looks and holds air, so its metres per ball cannot be compared; go by a swatch"
        }
        Group::Textured => {
            "its loops or slubs hide cables, lace and texture; keep to plain stitches and go by a swatch"
        }
        Group::Pile => {
            "its pile or loose ends hide every stitch, shed, and work their way out of a loose cloth; knit plain and firm, and go by a swatch"
        }
        Group::Brushed => {
            "its halo hides stitches, and it is hard to rip back; knit it loosely and go by a swatch"
        }
        Group::Spun | Group::Single => {
            "a smooth yarn shows every stitch and fills less than what is wanted; go by a swatch"
        }
    };
    let rest = format!(", {} for {}: {means}.", offered.name(), wanted.name());
    ("you like another surface".to_owned(), rest)
}

/// The same of a strand that smooth yarn carries, with another around it.
pub(super) fn build_around_smooth(offered: Construction) -> (String, String) {
    let (liked, around) = match offered.group() {
        Group::Brushed => ("a halo", "a brushed yarn"),
        Group::Textured => ("loops or slubs on the cloth", "a yarn with loops or slubs"),
        Group::Pile => ("a furry cloth", "a yarn with pile"),
        Group::Band => ("an uneven surface", "a tube or tape"),
        Group::Spun | Group::Single => ("another surface", "another yarn"),
    };
    let rest = format!(
        ": the smooth yarn carries the cloth, with {around} beside it, which hides stitches; wash a swatch."
    );
    (format!("you like {liked}"), rest)
}

/// What another build means in a few words.
pub(super) fn build_in_short(offered: Construction, is_within: bool) -> &'static str {
    match (offered.group(), is_within) {
        (Group::Single, true) => "near enough; softer, pills sooner",
        (_, true) => "near enough",
        (Group::Band, _) => "an airy tube or tape: metres cannot be compared",
        (Group::Textured, _) => "loops or slubs hide cables and lace",
        (Group::Pile, _) => "its pile hides every stitch and sheds",
        (Group::Brushed, _) => "its halo hides stitches",
        (Group::Spun | Group::Single, _) => "smooth: shows every stitch, fills less",
    }
}

/// What a small difference of build means in the hand.
pub(super) fn small_difference(offered: Construction) -> &'static str {
    match offered.group() {
        Group::Single => "; with little twist it is soft, and pills and wears sooner",
        _ => "; more twist wears longer and shows stitches more clearly",
    }
}
