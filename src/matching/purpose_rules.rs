//! What a purpose or the asker forbids whatever the numbers say, and what a purpose is
//! wary of.
//!
//! Common practice, no source. Fibres that melt near heat are a hazard
//! (`hazard`), which forbids them.

use super::{Candidate, Exclusion, FibreLimits, Requirement, Severity};
use crate::{
    record::{Blend, Care, FibreName, Purpose},
    trade::{Construction, Family, Fibre, Group},
};

/// A rule by which a yarn will not work.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Bar {
    /// The asker must keep away from it.
    Excluded(Exclusion),
    /// Too little of it felts.
    DoesNotFelt {
        /// Share that felts, 0 to 1.
        share: f64,
        /// Whether it was treated for the machine.
        is_treated: bool,
    },
}

/// Something that holds a good verdict back to `could work`.
#[derive(Debug, Clone, PartialEq)]
pub enum Cap {
    /// Heels wear through: too little hard fibre, or hardly any twist.
    HeelsWear {
        /// Share of hard fibre, 0 to 1.
        hard: f64,
        /// How it is built, where that is too loose.
        loose: Option<Construction>,
    },
    /// It sheds near a baby.
    Sheds,
    /// A baby's fingers catch in its loops.
    Loops,
    /// Neither cotton nor wool, near heat.
    NearHeat,
    /// Whether it felts is not known.
    MayNotFelt,
}

/// What the purpose says of a yarn.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Rules {
    pub(super) bar: Option<Bar>,
    pub(super) caps: Vec<Cap>,
}

/// Least share of hard fibre that keeps heels from wearing through.
const HARD_ENOUGH: f64 = 0.10;
/// Fibres that wear well in a blend.
const HARD: [&str; 5] = ["nylon", "polyester", "mohair", "silk", "ramie"];
/// Least share that has to felt.
const FELTS_ENOUGH: f64 = 0.80;
/// Fibres that shed.
const SHEDDING: [&str; 2] = ["angora", "mohair"];

impl Bar {
    /// What it does to the verdict: of a fibre that is not known nothing is said.
    pub(super) fn severity(&self) -> Severity {
        match self {
            Self::Excluded(Exclusion::FibreNotKnown) => Severity::Withholds,
            Self::Excluded(_) | Self::DoesNotFelt { .. } => Severity::Forbids,
        }
    }
}

/// The rules of the asker and of the purpose that apply.
pub(super) fn rules(wanted: &Requirement, offered: &Candidate, limits: &FibreLimits) -> Rules {
    let of_purpose = of_purpose(wanted, offered);
    let excluded = limits.exclusion(blend(offered)).map(Bar::Excluded);
    Rules {
        bar: excluded.or(of_purpose.bar),
        ..of_purpose
    }
}

/// The rules of the purpose alone.
pub(super) fn of_purpose(wanted: &Requirement, offered: &Candidate) -> Rules {
    let caps = |caps: Vec<Cap>| Rules { bar: None, caps };
    match wanted.purpose {
        Some(Purpose::Socks) => caps(heels(offered).into_iter().collect()),
        Some(Purpose::Baby) => caps(near_babies(offered)),
        Some(Purpose::HotPad) => caps(near_heat(offered).into_iter().collect()),
        Some(Purpose::Felted) => felted(offered),
        _ => Rules::default(),
    }
}

fn blend(offered: &Candidate) -> Option<&Blend> {
    offered.facts.blend.as_ref().map(|printed| &printed.value)
}

fn construction(offered: &Candidate) -> Option<Construction> {
    let built = offered.facts.construction.as_ref();
    built.map(|printed| printed.value)
}

/// Share of a blend in fibres of these names.
fn share_of(blend: &Blend, names: &[&str]) -> f64 {
    blend.share_where(|fibre: &Fibre| names.contains(&fibre.name))
}

fn heels(offered: &Candidate) -> Option<Cap> {
    let hard = blend(offered).map(|blend| share_of(blend, &HARD));
    let loose = construction(offered).filter(|built| built.group() == Group::Single);
    let is_soft = hard.is_some_and(|hard| hard < HARD_ENOUGH - 1e-9);
    (is_soft || loose.is_some()).then(|| Cap::HeelsWear {
        hard: hard.unwrap_or(0.0),
        loose,
    })
}

fn near_babies(offered: &Candidate) -> Vec<Cap> {
    let built = construction(offered);
    let loose_ends = matches!(built, Some(Construction::Brushed | Construction::Eyelash));
    let hair = blend(offered).is_some_and(|blend| share_of(blend, &SHEDDING) > 0.0);
    let sheds = (loose_ends || hair).then_some(Cap::Sheds);
    let loops = (built == Some(Construction::Boucle)).then_some(Cap::Loops);
    sheds.into_iter().chain(loops).collect()
}

fn near_heat(offered: &Candidate) -> Option<Cap> {
    let usual = share_of(blend(offered)?, &["cotton", "wool"]);
    (usual < 1.0 - 1e-9).then_some(Cap::NearHeat)
}

/// Treated wool does not felt; of a fibre that is not known it may be that it does.
fn felted(offered: &Candidate) -> Rules {
    let unknown = |blend: &Blend| {
        let known = blend.share_where(|_| true);
        let other = |part: &crate::record::BlendPart| matches!(part.fibre, FibreName::Other(_));
        if blend.parts().iter().any(other) {
            1.0 - known
        } else {
            0.0
        }
    };
    let (felts, may) = match blend(offered) {
        Some(blend) => (felting_share(blend), unknown(blend)),
        None => (0.0, 1.0),
    };
    let care = offered.facts.care.as_ref().map(|printed| printed.value);
    let is_treated = care == Some(Care::MachineWash);
    let is_short = |share: f64| share < FELTS_ENOUGH - 1e-9;
    Rules {
        bar: (is_treated || is_short(felts + may)).then_some(Bar::DoesNotFelt {
            share: felts,
            is_treated,
        }),
        caps: is_short(felts)
            .then_some(Cap::MayNotFelt)
            .into_iter()
            .collect(),
    }
}

/// Share of felting fibre from which a cloth felts in the machine: common practice,
/// no source.
pub(super) const FELTS_FROM: f64 = 0.25;

/// Share of a blend, 0 to 1, that felts unless it was treated: hair, not silk.
pub(super) fn felting_share(blend: &Blend) -> f64 {
    blend.share_where(felts)
}

fn felts(fibre: &Fibre) -> bool {
    fibre.family == Family::Animal && fibre.name != "silk"
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::matching::samples::{Build, blend, offered, wanted};

    fn of(purpose: Purpose, offered: &Candidate) -> Rules {
        let wanted = Requirement {
            purpose: Some(purpose),
            ..wanted()
        };
        of_purpose(&wanted, offered)
    }

    fn holds_back(purpose: Purpose, offered: &Candidate) -> bool {
        !of(purpose, offered).caps.is_empty()
    }

    fn mixed(first: (&str, f64), rest: &str) -> Candidate {
        offered().of(&[first, (rest, 100.0 - first.1)])
    }

    #[test]
    fn a_tenth_of_hard_fibre_keeps_heels_and_less_does_not() {
        for (share, held) in [(9.9, true), (10.0, false), (10.1, false)] {
            for hard in HARD {
                let yarn = mixed((hard, share), "cotton");
                assert_eq!(holds_back(Purpose::Socks, &yarn), held, "{hard} {share}");
            }
        }
        assert!(holds_back(
            Purpose::Socks,
            &mixed(("acrylic", 25.0), "wool")
        ));
        assert!(!holds_back(
            Purpose::Garment,
            &offered().of(&[("wool", 100.0)])
        ));
    }

    #[test]
    fn socks_of_little_twist_wear_through_whatever_the_fibre() {
        let nylon = || mixed(("nylon", 25.0), "wool");
        for (built, held) in [
            (Construction::Single, true),
            (Construction::Roving, true),
            (Construction::Plied, false),
            (Construction::Cabled, false),
        ] {
            assert_eq!(
                holds_back(Purpose::Socks, &nylon().built(built)),
                held,
                "{built:?}"
            );
        }
    }

    #[test]
    fn four_fifths_have_to_felt_and_none_of_it_treated() {
        let bar = |yarn: &Candidate| of(Purpose::Felted, yarn).bar;
        for (share, barred) in [(79.9, true), (80.0, false), (80.1, false)] {
            for other in ["silk", "nylon"] {
                let found = bar(&mixed(("wool", share), other));
                assert_eq!(found.is_some(), barred, "{other} {share}");
            }
        }
        let treated = offered().of(&[("wool", 100.0)]).care(Care::MachineWash);
        assert!(matches!(
            bar(&treated),
            Some(Bar::DoesNotFelt {
                is_treated: true,
                ..
            })
        ));
        assert_eq!(
            bar(&offered().of(&[("alpaca", 100.0)]).care(Care::HandWash)),
            None
        );
    }

    #[test]
    fn fibre_that_is_not_known_may_felt() {
        for yarn in [offered(), mixed(("moss", 40.0), "wool")] {
            let found = of(Purpose::Felted, &yarn);
            assert_eq!(
                (found.bar, found.caps.as_slice()),
                (None, &[Cap::MayNotFelt][..])
            );
        }
        let mostly_cotton = mixed(("moss", 40.0), "cotton");
        assert!(of(Purpose::Felted, &mostly_cotton).bar.is_some());
    }

    #[test]
    fn near_heat_cotton_and_wool_are_usual() {
        assert!(!holds_back(
            Purpose::HotPad,
            &mixed(("cotton", 60.0), "wool")
        ));
        for other in ["linen", "viscose", "silk"] {
            assert!(
                holds_back(Purpose::HotPad, &mixed((other, 1.0), "cotton")),
                "{other}"
            );
        }
    }

    #[test]
    fn what_sheds_or_has_loops_is_held_back_for_babies_only() {
        for (built, cap) in [
            (Construction::Brushed, Some(Cap::Sheds)),
            (Construction::Eyelash, Some(Cap::Sheds)),
            (Construction::Boucle, Some(Cap::Loops)),
            (Construction::Plied, None),
        ] {
            let yarn = offered().of(&[("wool", 100.0)]).built(built);
            let expected: Vec<Cap> = cap.into_iter().collect();
            assert_eq!(of(Purpose::Baby, &yarn).caps, expected, "{built:?}");
            assert!(of(Purpose::Child, &yarn).caps.is_empty());
        }
        assert!(holds_back(Purpose::Baby, &mixed(("angora", 5.0), "wool")));
    }

    #[test]
    fn hair_felts_and_silk_and_plants_do_not() {
        let half = blend(&[
            ("wool", 30.0),
            ("alpaca", 20.0),
            ("silk", 30.0),
            ("cotton", 20.0),
        ]);
        assert!((felting_share(&half) - 0.5).abs() < 1e-12);
    }
}
