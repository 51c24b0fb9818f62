//! Several yarns held together as one strand: what is known of the strand, from what is
//! known of each. Which gauge it gives, and whether it works, is left to `matching`.

use super::{Blend, Care, Classes, Printed, YarnFacts};
use crate::{
    measure::Grist,
    trade::{Construction, Group, WeightClass, classes_by_grist, classes_by_other_charts},
};

impl YarnFacts {
    /// Several yarns as one strand. Masses per metre add ([`Grist::held_together`]) and
    /// blends add by mass per metre; the class follows from the sum. It is built and
    /// washed as the one of them that asks for most care. It has no put-up, no price,
    /// and no label that states a gauge. What is not known of one is not known of all.
    pub fn held_together(ends: &[&Self]) -> Self {
        let grists: Option<Vec<Grist>> = ends.iter().map(|end| end.grist()).collect();
        let together = grists.as_deref().and_then(Grist::held_together);
        let smooth = ends
            .iter()
            .all(|end| built(end).is_none_or(Construction::is_smooth));
        Self {
            together,
            class: together.filter(|_| smooth).and_then(class_of),
            blend: grists.and_then(|grists| blend_of(ends, &grists)),
            construction: construction_of(ends),
            care: care_of(ends),
            ..Self::default()
        }
    }
}

/// Every class that a chart of the trade gives to such a length per mass.
fn class_of(grist: Grist) -> Option<Printed<Classes>> {
    let mut classes: Vec<WeightClass> = classes_by_grist(grist);
    classes.extend(classes_by_other_charts(grist));
    Classes::new(classes).map(|classes| Printed::new("", classes))
}

/// A metre of each has 1 / g_i grams.
fn blend_of(ends: &[&YarnFacts], grists: &[Grist]) -> Option<Printed<Blend>> {
    let blends = ends.iter().zip(grists).map(|(end, grist)| {
        let blend = &end.blend.as_ref()?.value;
        Some((blend, 1.0 / grist.as_metres_per_gram()))
    });
    let mixed = Blend::mixed(&blends.collect::<Option<Vec<_>>>()?)?;
    Some(Printed::new(mixed.to_string(), mixed))
}

fn built(end: &YarnFacts) -> Option<Construction> {
    end.construction.as_ref().map(|printed| printed.value)
}

/// The one that is farthest from a smooth plied yarn makes the cloth what it is. Beside
/// plied ones, one that is not known leaves it unknown.
fn construction_of(ends: &[&YarnFacts]) -> Option<Printed<Construction>> {
    let rank = |construction: Construction| match construction.group() {
        Group::Spun => 0_u8,
        Group::Single => 1,
        Group::Band | Group::Textured | Group::Brushed | Group::Pile => 2,
    };
    let stated = ends.iter().filter_map(|end| end.construction.as_ref());
    // The first of equals, so that the order of the others does not count.
    let farthest = stated.min_by_key(|printed| {
        let built = printed.value;
        (std::cmp::Reverse(rank(built)), built.name())
    })?;
    let is_known = ends.iter().all(|end| end.construction.is_some());
    (is_known || rank(farthest.value) > 0).then(|| farthest.clone())
}

/// The gentlest wash that any of them needs; one that is not known leaves open whether
/// it takes the machine.
fn care_of(ends: &[&YarnFacts]) -> Option<Printed<Care>> {
    let stated = ends.iter().filter_map(|end| end.care.as_ref());
    let gentlest = stated.max_by_key(|printed| printed.value)?;
    let is_known = ends.iter().all(|end| end.care.is_some());
    (is_known || gentlest.value != Care::MachineWash).then(|| gentlest.clone())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        measure::{Length, Mass},
        trade::fibre,
    };

    fn yarn(metres: f64, fibre_name: &str) -> YarnFacts {
        YarnFacts {
            length: Some(Printed::new("", Length::metres(metres).unwrap())),
            mass: Some(Printed::new("", Mass::grams(50.0).unwrap())),
            blend: Some(Printed::new("", Blend::pure(fibre(fibre_name).unwrap()))),
            ..YarnFacts::default()
        }
    }

    fn per_100_g(facts: &YarnFacts) -> f64 {
        facts.grist().unwrap().as_metres_per_100_g()
    }

    /// Common practice, no source: two strands of one yarn halve its metres per 100 g.
    #[test]
    fn two_strands_of_one_yarn_halve_the_metres_per_100_g() {
        let lace = yarn(400.0, "wool");
        let held = YarnFacts::held_together(&[&lace, &lace]);
        assert!((per_100_g(&held) - 400.0).abs() < 1e-9);
        assert_eq!(held.blend.unwrap().value.to_string(), "100% wool");
        assert_eq!((held.length, held.mass), (None, None));
    }

    /// Worked by hand: 800 m/100 g is 12.5 g in 100 m, 400 m/100 g is 25 g: together
    /// 37.5 g, which is 266.67 m/100 g, a third of it of the first.
    #[test]
    fn masses_per_metre_and_blends_add() {
        let (silk, wool) = (yarn(400.0, "silk"), yarn(200.0, "wool"));
        let held = YarnFacts::held_together(&[&silk, &wool]);
        assert!((per_100_g(&held) - 266.666_666_666_7).abs() < 1e-6);
        assert_eq!(
            held.blend.as_ref().unwrap().value.to_string(),
            "66.67% wool, 33.33% silk"
        );
        let classes = held.class.unwrap().value;
        assert!(classes.as_slice().iter().any(|class| class.number() == 3));
        let turned = YarnFacts::held_together(&[&wool, &silk]);
        assert_eq!(turned.blend, held.blend);
    }

    #[test]
    fn what_is_not_known_of_one_is_not_known_of_all() {
        let mut unknown = yarn(400.0, "silk");
        unknown.blend = None;
        let wool = yarn(200.0, "wool");
        let held = YarnFacts::held_together(&[&unknown, &wool]);
        assert!(held.blend.is_none() && held.grist().is_some());
        unknown.length = None;
        assert_eq!(YarnFacts::held_together(&[&unknown, &wool]).grist(), None);
    }

    #[test]
    fn the_strand_is_built_and_washed_as_its_most_delicate_yarn() {
        let mut brushed = yarn(400.0, "mohair");
        brushed.construction = Some(Printed::new("", Construction::Brushed));
        brushed.care = Some(Printed::new("", Care::HandWash));
        let mut plied = yarn(200.0, "wool");
        plied.construction = Some(Printed::new("", Construction::Plied));
        plied.care = Some(Printed::new("", Care::MachineWash));
        let held = YarnFacts::held_together(&[&plied, &brushed]);
        assert_eq!(held.construction.unwrap().value, Construction::Brushed);
        assert_eq!(held.care.unwrap().value, Care::HandWash);
        assert_eq!(held.class, None);
        let bare = yarn(200.0, "wool");
        let held = YarnFacts::held_together(&[&plied, &bare]);
        assert_eq!((held.construction, held.care), (None, None));
    }
}
