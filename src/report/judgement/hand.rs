//! What a difference in fibre or build means in the hand, and what to do about it.
//!
//! Common practice, no source.

use super::values::property_words;
use crate::{
    matching::{Departure, Evidence, FibreProperty, PropertyComparison, PropertyValues},
    trade::{Construction, Group},
    words::number,
};

/// What fibre beyond its limit means in the hand, of the part that departs most.
pub(super) fn fibre_in_hand(found: &Departure) -> String {
    let farthest = found.evidence.iter().find_map(|evidence| match evidence {
        Evidence::FibreProperty(part) => Some((part, part.values?)),
        _ => None,
    });
    farthest.map_or(String::new(), |(part, values)| {
        format!(
            "{} ({}).",
            in_hand(part.property, values),
            figures(part, values)
        )
    })
}

/// What the property means, from the side of the candidate.
fn in_hand(property: FibreProperty, values: PropertyValues) -> &'static str {
    let is_more = values.candidate > values.reference;
    match (property, is_more) {
        (FibreProperty::Recovery, false) => {
            "If you want it to hang, not to spring back: it has little spring, so ribs and cables lie flat and the piece grows in wear; rib on a smaller needle, knit it shorter, and hang up the washed swatch before you measure it"
        }
        (FibreProperty::Recovery, true) => {
            "If you want it to spring back, not to hang: it has more spring, so the cloth draws in and drapes less; block the swatch and measure it relaxed"
        }
        (FibreProperty::Extension, false) => {
            "If you can do without stretch: it gives little and does not spring back, so ribs and cables lie flat and edges stay as they are worked; rib on a smaller needle, cast on and bind off loosely, and hang up the washed swatch before you measure it"
        }
        (FibreProperty::Extension, true) => {
            "If you like it to stretch: it gives more, so the cloth is softer and less crisp; stretch the swatch as it will be worn before you measure it"
        }
        (FibreProperty::Regain, false) => {
            "If it may take up less moisture: it feels cooler or clammy on the skin and dries sooner; wear the swatch for a while"
        }
        (FibreProperty::Regain, true) => {
            "If it may take up more moisture: it is heavier when wet and dries slowly; wash a swatch and let it dry"
        }
        (FibreProperty::SyntheticShare, true) => {
            "If it need not soak up water: synthetic fibre does not absorb it; cotton or linen do"
        }
        (FibreProperty::SyntheticShare, false) => {
            "If it may soak up water: it absorbs more and dries more slowly"
        }
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

/// What a build beyond its limit means in the hand.
pub(super) fn build_in_hand(offered: Construction, wanted: Construction) -> String {
    let means = match offered.group() {
        Group::Band => {
            "a tube or band is lighter than it looks and holds air, so its metres per ball cannot be compared; go by a swatch"
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
    format!(
        "If you like another surface, {} for {}: {means}.",
        offered.name(),
        wanted.name()
    )
}

/// What a small difference of build means in the hand.
pub(super) fn small_difference(offered: Construction) -> &'static str {
    match offered.group() {
        Group::Single => "; with little twist it is soft, and pills and wears sooner",
        _ => "; more twist wears longer and shows stitches more clearly",
    }
}
