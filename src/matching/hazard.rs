//! Which cautions go with this yarn for this purpose.

use super::{Candidate, Caution, Requirement, Severity};
use crate::{
    record::{Blend, Care, FibreName, Purpose},
    trade::{
        Construction, Family, Fibre, Hazard,
        hazards::{
            BURNS, CORDS, FELTING_IS_WANTED, FELTS, GROWS, HALO, LATEX, LOOPS, MAY_BE_LATEX,
            MAY_MELT, MELTS, NIGHTWEAR, SUPERWASH_GROWS, WOOL,
        },
    },
    words::fold,
};

/// Share of a blend from which it grows as its fibre does: common practice, no
/// source.
const MOSTLY: f64 = 0.5;

/// Fibres without spring, which a worn piece draws out by its own weight. Common
/// practice, no source.
const GROWING: [&str; 7] = [
    "silk", "alpaca", "cotton", "linen", "viscose", "lyocell", "modal",
];

/// The cautions that apply, in a fixed order. Melting fibre in a hot pad forbids;
/// fibre that is not known holds the verdict back.
pub(super) fn cautions(wanted: &Requirement, offered: &Candidate) -> Vec<Caution> {
    let applying = [
        (NIGHTWEAR, is_for(wanted, &[Purpose::ChildNightwear])),
        (CORDS, is_for_a_child(wanted)),
        (HALO, may_be_for_a_baby(wanted) && sheds(offered)),
        (LOOPS, may_be_for_a_baby(wanted) && has_loops(offered)),
        (WOOL, is_worn(wanted) && is_new_wool(wanted, offered)),
        (LATEX, holds(offered, "rubber")),
        (MAY_BE_LATEX, has_unnamed_elastic(offered)),
        (FELTS, felts(wanted, offered)),
        (FELTING_IS_WANTED, is_for(wanted, &[Purpose::Felted])),
        (SUPERWASH_GROWS, is_worn(wanted) && is_superwash(offered)),
        (GROWS, is_worn(wanted) && grows(offered)),
    ];
    let applying = applying.into_iter().filter(|(_, applies)| *applies);
    let others = applying.map(|(hazard, _)| caution(hazard, Severity::Beside));
    hot_pad(wanted, offered).into_iter().chain(others).collect()
}

fn caution(hazard: Hazard, severity: Severity) -> Caution {
    Caution { hazard, severity }
}

fn hot_pad(wanted: &Requirement, offered: &Candidate) -> Vec<Caution> {
    if !is_for(wanted, &[Purpose::HotPad]) {
        return Vec::new();
    }
    let blend = offered.facts.blend.as_ref().map(|printed| &printed.value);
    match blend {
        Some(blend) if blend.share_where(|fibre| fibre.melts) > 0.0 => {
            vec![caution(MELTS, Severity::Forbids)]
        }
        Some(blend) if !has_unknown(blend) => vec![caution(BURNS, Severity::Beside)],
        _ => vec![caution(MAY_MELT, Severity::Withholds)],
    }
}

fn has_unknown(blend: &Blend) -> bool {
    let mut parts = blend.parts().iter();
    parts.any(|part| matches!(part.fibre, FibreName::Other(_)))
}

fn is_for(wanted: &Requirement, purposes: &[Purpose]) -> bool {
    wanted
        .purpose
        .is_some_and(|purpose| purposes.contains(&purpose))
}

fn is_for_a_child(wanted: &Requirement) -> bool {
    is_for(
        wanted,
        &[Purpose::Child, Purpose::ChildNightwear, Purpose::Baby],
    )
}

/// Toys and nightwear may be for a baby, where nobody says otherwise.
fn may_be_for_a_baby(wanted: &Requirement) -> bool {
    is_for(
        wanted,
        &[Purpose::Baby, Purpose::Toy, Purpose::ChildNightwear],
    )
}

fn is_worn(wanted: &Requirement) -> bool {
    is_for_a_child(wanted)
        || is_for(
            wanted,
            &[Purpose::Garment, Purpose::Accessory, Purpose::Socks],
        )
}

fn share(offered: &Candidate, holds: impl Fn(&Fibre) -> bool) -> f64 {
    let blend = offered.facts.blend.as_ref();
    blend.map_or(0.0, |printed| printed.value.share_where(holds))
}

fn holds(offered: &Candidate, name: &str) -> bool {
    share(offered, |fibre| fibre.name == name) > 0.0
}

fn is_built(offered: &Candidate, as_one_of: &[Construction]) -> bool {
    let construction = offered.facts.construction.as_ref();
    construction.is_some_and(|printed| as_one_of.contains(&printed.value))
}

fn sheds(offered: &Candidate) -> bool {
    is_built(offered, &[Construction::Brushed, Construction::Eyelash])
        || holds(offered, "mohair")
        || holds(offered, "angora")
}

fn has_loops(offered: &Candidate) -> bool {
    is_built(offered, &[Construction::Boucle])
}

/// Whether a fibre without a row of the table is called elastic.
fn has_unnamed_elastic(offered: &Candidate) -> bool {
    let is_elastic = |fibre: &FibreName| match fibre {
        FibreName::Other(name) => fold(name).split(' ').any(|word| word.starts_with("elasti")),
        FibreName::Known(_) => false,
    };
    let blend = offered.facts.blend.as_ref();
    let mut parts = blend.iter().flat_map(|printed| printed.value.parts());
    parts.any(|part| is_elastic(&part.fibre))
}

/// Wool for a child, or where the pattern's yarn is not known to hold any.
fn is_new_wool(wanted: &Requirement, offered: &Candidate) -> bool {
    let is_wool = |fibre: &Fibre| fibre.name == "wool";
    let reference = wanted.facts.blend.as_ref();
    let had = reference.is_some_and(|printed| printed.value.share_where(is_wool) > 0.0);
    holds(offered, "wool") && (is_for_a_child(wanted) || !had)
}

/// Hair that felts, in a piece for the machine, on a yarn that does not take it;
/// where felting is wanted, that is no fault.
fn felts(wanted: &Requirement, offered: &Candidate) -> bool {
    let for_machine = wanted.care == Some(Care::MachineWash) && !is_for(wanted, &[Purpose::Felted]);
    let hair = |fibre: &Fibre| fibre.family == Family::Animal && fibre.name != "silk";
    for_machine && !takes_machine(offered) && share(offered, hair) > 0.0
}

fn takes_machine(offered: &Candidate) -> bool {
    let care = offered.facts.care.as_ref();
    care.is_some_and(|printed| printed.value == Care::MachineWash)
}

fn is_superwash(offered: &Candidate) -> bool {
    takes_machine(offered) && share(offered, |fibre| fibre.name == "wool") >= MOSTLY
}

fn grows(offered: &Candidate) -> bool {
    let growing = |fibre: &Fibre| GROWING.contains(&fibre.name);
    share(offered, growing) >= MOSTLY
}

#[cfg(test)]
mod tests {
    use super::super::samples::{Build, offered, wanted};
    use super::*;

    fn asked(purpose: Purpose, offered: &Candidate) -> Vec<Caution> {
        let wanted = Requirement {
            purpose: Some(purpose),
            ..wanted().of(&[("wool", 100.0)])
        };
        cautions(&wanted, offered)
    }

    fn has(cautions: &[Caution], hazard: Hazard) -> bool {
        cautions.iter().any(|c| c.hazard == hazard)
    }

    #[test]
    fn any_share_of_melting_fibre_forbids_a_hot_pad() {
        let blend = offered().of(&[("cotton", 95.0), ("polyester", 5.0)]);
        let found = asked(Purpose::HotPad, &blend);
        assert!(
            found
                .iter()
                .any(|caution| caution.severity == Severity::Forbids)
        );
        assert!(has(&found, MELTS));
        let cotton = asked(Purpose::HotPad, &offered().of(&[("cotton", 100.0)]));
        assert!(
            has(&cotton, BURNS)
                && cotton
                    .iter()
                    .all(|caution| caution.severity == Severity::Beside)
        );
    }

    #[test]
    fn an_unknown_fibre_may_melt() {
        for yarn in [offered(), offered().of(&[("wool", 90.0), ("moss", 10.0)])] {
            let found = asked(Purpose::HotPad, &yarn);
            assert!(
                has(&found, MAY_MELT)
                    && found
                        .iter()
                        .all(|caution| caution.severity <= Severity::Withholds)
            );
        }
    }

    /// Common practice, no source.
    #[test]
    fn halo_and_loops_are_cautions_where_a_baby_may_be_near() {
        let mohair = offered().of(&[("mohair", 60.0), ("silk", 40.0)]);
        let built = |construction| offered().built(construction);
        for purpose in [Purpose::Baby, Purpose::Toy, Purpose::ChildNightwear] {
            for yarn in [
                mohair.clone(),
                built(Construction::Brushed),
                built(Construction::Eyelash),
            ] {
                let found = asked(purpose, &yarn);
                assert!(has(&found, HALO) && !has(&found, LOOPS));
            }
            assert!(has(&asked(purpose, &built(Construction::Boucle)), LOOPS));
        }
        assert!(!has(&asked(Purpose::Garment, &mohair), HALO));
        let loops = built(Construction::Boucle);
        assert!(!has(&asked(Purpose::Garment, &loops), LOOPS));
        assert!(asked(Purpose::Toy, &built(Construction::Plied)).is_empty());
    }

    /// Elastodiene is the fibre name for rubber; elastane has no latex. From memory
    /// and common practice, no source.
    #[test]
    fn rubber_is_a_caution_whatever_it_is_for_and_elastane_is_none() {
        let of = |name| offered().of(&[("cotton", 95.0), (name, 5.0)]);
        let anything = Requirement {
            purpose: None,
            ..wanted()
        };
        for name in ["elastodiene", "rubber", "latex"] {
            assert!(has(&cautions(&anything, &of(name)), LATEX), "{name}");
            assert!(has(&asked(Purpose::Home, &of(name)), LATEX), "{name}");
        }
        assert!(asked(Purpose::Home, &of("elastane")).is_empty());
        let unnamed = asked(Purpose::Home, &of("elastic thread"));
        assert!(has(&unnamed, MAY_BE_LATEX) && !has(&unnamed, LATEX));
    }

    /// Common practice, no source.
    #[test]
    fn fibres_without_spring_grow_in_wear_and_together_too() {
        let grows =
            |parts: &[(&str, f64)]| has(&asked(Purpose::Garment, &offered().of(parts)), GROWS);
        for name in GROWING {
            assert!(grows(&[(name, 100.0)]), "{name}");
        }
        assert!(grows(&[("bamboo viscose", 100.0)]));
        assert!(grows(&[("linen", 30.0), ("cotton", 30.0), ("wool", 40.0)]));
        for name in ["wool", "acrylic", "nylon", "mohair"] {
            assert!(!grows(&[(name, 100.0)]), "{name}");
        }
    }

    #[test]
    fn what_is_to_felt_asks_for_a_swatch_and_not_for_a_gentle_wash() {
        let felted = Requirement {
            purpose: Some(Purpose::Felted),
            care: Some(Care::MachineWash),
            ..wanted()
        };
        let found = cautions(&felted, &offered().of(&[("wool", 100.0)]));
        assert!(has(&found, FELTING_IS_WANTED) && !has(&found, FELTS));
    }

    /// US CPSC, 16 CFR 1120: none at hood or neck; at waist and bottom 3 in at most
    /// outside the channel, no knots or toggles.
    #[test]
    fn cords_are_spoken_of_at_neck_hood_waist_and_hem() {
        for word in ["hood", "neck", "waist", "hem", "3 in", "toggles"] {
            assert!(CORDS.text.contains(word), "{word}");
        }
    }

    #[test]
    fn children_get_cords_and_nightwear_gets_fire() {
        let found = asked(Purpose::ChildNightwear, &offered());
        assert!(has(&found, NIGHTWEAR) && has(&found, CORDS));
        assert!(asked(Purpose::Home, &offered()).is_empty());
    }

    #[test]
    fn wool_in_a_wool_pattern_is_no_news_to_a_grown_person() {
        let wool = offered().of(&[("wool", 100.0)]);
        assert!(!has(&asked(Purpose::Garment, &wool), WOOL));
        assert!(has(&asked(Purpose::Child, &wool), WOOL));
        let cotton_wanted = Requirement {
            purpose: Some(Purpose::Garment),
            ..wanted().of(&[("cotton", 100.0)])
        };
        assert!(has(&cautions(&cotton_wanted, &wool), WOOL));
    }

    #[test]
    fn wool_felts_in_a_machine_unless_it_is_treated() {
        let machine = Requirement {
            purpose: Some(Purpose::Garment),
            care: Some(Care::MachineWash),
            ..wanted()
        };
        let wool = || offered().of(&[("wool", 100.0)]);
        assert!(has(
            &cautions(&machine, &wool().care(Care::HandWash)),
            FELTS
        ));
        let treated = cautions(&machine, &wool().care(Care::MachineWash));
        assert!(!has(&treated, FELTS) && has(&treated, SUPERWASH_GROWS));
    }

    /// Which cautions are shown, and that no other is: what does not apply would
    /// teach people to read past all of them.
    #[test]
    fn each_purpose_and_yarn_has_its_cautions_and_no_other() {
        use Purpose::{Accessory, Baby, Child, ChildNightwear, Garment, Home};
        let of = |parts: &[(&str, f64)]| offered().of(parts);
        let cotton = || of(&[("cotton", 100.0)]);
        let superwash = || of(&[("wool", 75.0), ("nylon", 25.0)]).care(Care::MachineWash);
        let rows: [(Purpose, Candidate, &[Hazard]); 18] = [
            (Home, of(&[("wool", 50.0), ("elastane", 50.0)]), &[]),
            (Home, of(&[("alpaca", 100.0)]), &[]),
            (Home, superwash(), &[]),
            (Garment, offered(), &[]),
            (Garment, cotton(), &[GROWS]),
            (Accessory, cotton(), &[GROWS]),
            (Garment, of(&[("wool", 51.0), ("cotton", 49.0)]), &[]),
            (Garment, of(&[("wool", 50.0), ("cotton", 50.0)]), &[GROWS]),
            (Garment, of(&[("wool", 97.0), ("elastane", 3.0)]), &[]),
            (
                Garment,
                of(&[("wool", 95.0), ("elastodiene", 5.0)]),
                &[LATEX],
            ),
            (Garment, superwash(), &[SUPERWASH_GROWS]),
            (
                Garment,
                of(&[("wool", 40.0), ("nylon", 60.0)]).care(Care::MachineWash),
                &[],
            ),
            (Garment, cotton().care(Care::MachineWash), &[GROWS]),
            (Child, of(&[("acrylic", 100.0)]), &[CORDS]),
            (Child, of(&[("wool", 100.0)]), &[CORDS, WOOL]),
            (Baby, of(&[("acrylic", 100.0)]), &[CORDS]),
            (
                Baby,
                of(&[("angora", 20.0), ("acrylic", 80.0)]),
                &[CORDS, HALO],
            ),
            (
                ChildNightwear,
                of(&[("acrylic", 100.0)]),
                &[NIGHTWEAR, CORDS],
            ),
        ];
        for (purpose, yarn, expected) in rows {
            let found = asked(purpose, &yarn);
            let texts: Vec<&str> = found.iter().map(|caution| caution.hazard.text).collect();
            assert_eq!(found.len(), expected.len(), "{purpose:?}: {texts:?}");
            for (caution, hazard) in found.iter().zip(expected) {
                assert_eq!(caution.hazard, *hazard, "{purpose:?}: {texts:?}");
                assert_eq!(caution.severity, Severity::Beside);
            }
        }
    }

    #[test]
    fn only_hair_felts_and_only_in_a_machine() {
        let felting = |care, yarn: &Candidate| {
            let asked = Requirement {
                purpose: Some(Purpose::Home),
                care,
                ..wanted()
            };
            has(&cautions(&asked, yarn), FELTS)
        };
        let wool = offered().of(&[("wool", 10.0), ("cotton", 90.0)]);
        assert!(felting(Some(Care::MachineWash), &wool));
        assert!(!felting(Some(Care::HandWash), &wool) && !felting(None, &wool));
        for other in ["silk", "cotton", "acrylic"] {
            let yarn = offered().of(&[(other, 100.0)]);
            assert!(!felting(Some(Care::MachineWash), &yarn), "{other}");
        }
    }
}
