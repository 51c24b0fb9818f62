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
        let together = together.map(|grist| Together {
            grist,
            smooth: smooth_of(ends, grist),
        });
        let compared = together.filter(|together| together.smooth.is_enough());
        Self {
            together,
            class: compared.and_then(|together| class_of(together.grist)),
            blend: grists.and_then(|grists| blend_of(ends, &grists)),
            construction: construction_of(ends),
            care: care_of(ends),
            ..Self::default()
        }
    }
}

/// Length per mass of several yarns held together, and what of it is smooth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Together {
    /// Length per mass of all.
    pub grist: Grist,
    /// How much of it is smooth yarn.
    pub smooth: Smooth,
}

/// How much of a strand is smooth yarn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Smooth {
    /// All of it.
    All,
    /// At least half of the mass per metre: the smooth yarn carries the cloth, the other
    /// lies around it (common practice, no source).
    Half,
    /// Less.
    Less,
}

impl Smooth {
    /// Whether the length per mass says something beside that of a smooth yarn.
    pub fn is_enough(self) -> bool {
        self != Self::Less
    }
}

/// A metre of each has 1 / g_i grams, one of all 1 / g: the smooth ones have a share of
/// g * sum(1 / g_i). One of which nobody knows how it is built counts as smooth.
fn smooth_of(ends: &[&YarnFacts], whole: Grist) -> Smooth {
    let is_smooth = |end: &&&YarnFacts| built(end).is_none_or(Construction::is_smooth);
    if ends.iter().all(|end| is_smooth(&end)) {
        return Smooth::All;
    }
    let smooth = ends.iter().filter(is_smooth);
    let masses = smooth.filter_map(|end| Some(1.0 / end.grist()?.as_metres_per_gram()));
    let share = masses.sum::<f64>() * whole.as_metres_per_gram();
    match share >= 0.5 - 1e-9 {
        true => Smooth::Half,
        false => Smooth::Less,
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

/// How a strand is built, of yarns that are built so: as the one that is farthest from a
/// smooth plied yarn, which makes the cloth what it is. Beside plied ones, one that is
/// not known leaves it unknown.
pub fn built_together(
    ends: impl Iterator<Item = Option<Construction>> + Clone,
) -> Option<Construction> {
    let rank = |construction: Construction| match construction.group() {
        Group::Spun => 0_u8,
        Group::Single => 1,
        Group::Band | Group::Textured | Group::Brushed | Group::Pile => 2,
    };
    // Of equals the first by name, so that their order does not count.
    let order = |built: &Construction| (std::cmp::Reverse(rank(*built)), built.name());
    let farthest = ends.clone().flatten().min_by_key(order)?;
    let is_known = ends.clone().all(|end| end.is_some());
    (is_known || rank(farthest) > 0).then_some(farthest)
}

fn construction_of(ends: &[&YarnFacts]) -> Option<Printed<Construction>> {
    let built = built_together(ends.iter().map(|end| built(end)))?;
    let mut stated = ends.iter().filter_map(|end| end.construction.as_ref());
    stated.find(|printed| printed.value == built).cloned()
}

/// The gentlest wash that any of several yarns needs; one that is not known leaves open
/// whether the strand takes the machine.
pub fn washed_together(ends: impl Iterator<Item = Option<Care>> + Clone) -> Option<Care> {
    let gentlest = ends.clone().flatten().max()?;
    let is_known = ends.clone().all(|end| end.is_some());
    (is_known || gentlest != Care::MachineWash).then_some(gentlest)
}

fn care_of(ends: &[&YarnFacts]) -> Option<Printed<Care>> {
    let own = |end: &&YarnFacts| end.care.as_ref().map(|printed| printed.value);
    let gentlest = washed_together(ends.iter().map(own))?;
    let mut stated = ends.iter().filter_map(|end| end.care.as_ref());
    stated.find(|printed| printed.value == gentlest).cloned()
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
        // 12.5 g of it beside 25 g of smooth yarn in 100 m: the smooth one carries the cloth
        assert_eq!(held.together.unwrap().smooth, Smooth::Half);
        assert!(held.class.is_some());
        let held = YarnFacts::held_together(&[&plied, &brushed, &brushed, &brushed]);
        assert_eq!(held.together.unwrap().smooth, Smooth::Less);
        assert_eq!(held.class, None);
        let bare = yarn(200.0, "wool");
        let held = YarnFacts::held_together(&[&plied, &bare]);
        assert_eq!((held.construction, held.care), (None, None));
    }
}
