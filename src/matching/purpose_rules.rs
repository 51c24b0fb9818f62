//! What a purpose forbids whatever the numbers say, and what it is wary of.
//!
//! Common practice, no source. Fibres that melt near heat are a hazard
//! (`hazard`), which forbids them.

use super::{Candidate, Requirement, felting::felting_share};
use crate::{
    record::{Blend, Care, FibreName, Purpose},
    trade::{Construction, Fibre, Group},
};

/// A rule of the purpose by which a yarn will not work.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Bar {
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

/// The rules of the purpose that apply.
pub(super) fn rules(wanted: &Requirement, offered: &Candidate) -> Rules {
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
