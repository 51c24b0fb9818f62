//! Cautions and what each rests on, and what fibres do near a flame.
//!
//! They inform; they replace neither the label, nor local rules, nor
//! professional advice. Fire: Iowa State University / USDA Cooperative Extension
//! ranking of fibres. Nightwear: 16 CFR 1615 and 1616, EN 14878:2007. Cords: US
//! CPSC on drawstrings (16 CFR 1120), Tukes (Finland) on EN 14682. Wool: Zallmann
//! et al., Acta Derm Venereol 2017;97:906-915. Burning: Iowa State University and USDA Cooperative Extension
//! list, and teaching pages on textiles that agree with it (common practice);
//! blends and finishes mislead, and pages disagree on single fibres. The rest is
//! common practice.

use super::Basis;

/// A caution and what it rests on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hazard {
    /// One or two sentences.
    pub text: &'static str,
    /// What they rest on.
    pub basis: Basis,
}

const fn practice(text: &'static str) -> Hazard {
    Hazard {
        text,
        basis: Basis::Practice,
    }
}

const fn published(text: &'static str, source: &'static str) -> Hazard {
    Hazard {
        text,
        basis: Basis::Published(source),
    }
}

const EXTENSION: &str = "Iowa State University / USDA Cooperative Extension";

/// Melting fibre handled hot.
pub const MELTS: Hazard = published(
    "Never for hot pads: fibres of this yarn melt, and what is molten sticks to the skin.",
    EXTENSION,
);
/// Unknown fibre handled hot.
pub const MAY_MELT: Hazard = practice(
    "It is not known whether this yarn melts: do not use it for hot pads until the label or the maker says what it is made of.",
);
/// Fibre that does not melt, handled hot.
pub const BURNS: Hazard = published(
    "Fibres that do not melt still burn: work hot pads thick or double and keep them from flames.",
    EXTENSION,
);
/// Nightwear of children.
pub const NIGHTWEAR: Hazard = published(
    "Rules on flammability hold for children's nightwear: check those of your country, the yarn's label does not show that it passes.",
    "16 CFR 1615 and 1616; EN 14878:2007",
);
/// Cords on clothes of children.
pub const CORDS: Hazard = published(
    "No cords or ties at a child's hood, head or neck: check the rules of your country.",
    "US CPSC, 16 CFR 1120; Tukes, EN 14682",
);
/// Loose fibre near babies.
pub const HALO: Hazard = practice(
    "This yarn sheds or has a halo, which trade advice keeps away from babies; ask whoever cares for the baby.",
);
/// Wool on the skin.
pub const WOOL: Hazard = published(
    "Coarse wool can itch next to the skin; true allergy to wool was not found, lanolin reactions are rare. Ask the wearer, and a doctor where skin reacts.",
    "Zallmann et al. 2017, Acta Derm Venereol 97:906-915",
);
/// Elastic cores.
pub const ELASTIC: Hazard = practice(
    "Some elastic yarns have a core of natural rubber: with a latex allergy, ask the maker.",
);
/// Felting.
pub const FELTS: Hazard = practice(
    "Animal fibre that is not treated for the machine felts and shrinks in it: follow the label, wash a swatch first.",
);
/// Growth of treated wool.
pub const SUPERWASH_GROWS: Hazard = practice(
    "Wool treated for the machine often grows when wet: wash the swatch as you will wash the piece.",
);
/// Growth in wear.
pub const GROWS: Hazard = practice(
    "Silk, alpaca and cotton tend to grow by their own weight in wear: hang the washed swatch before you measure it.",
);

/// Every caution, in the order in which they are shown.
pub const ALL: [Hazard; 11] = [
    MELTS,
    MAY_MELT,
    BURNS,
    NIGHTWEAR,
    CORDS,
    HALO,
    WOOL,
    ELASTIC,
    FELTS,
    SUPERWASH_GROWS,
    GROWS,
];

/// What one group of fibres does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BurnSign {
    /// The fibres.
    pub fibres: &'static str,
    /// In the flame and beside it.
    pub in_flame: &'static str,
    /// The smell.
    pub smell: &'static str,
    /// What is left.
    pub residue: &'static str,
}

/// Groups that can be told apart; single fibres within a group cannot.
pub const BURN_SIGNS: [BurnSign; 3] = [
    BurnSign {
        fibres: "cotton, linen, viscose, lyocell",
        in_flame: "does not shrink back; burns fast and goes on",
        smell: "paper, leaves",
        residue: "little light grey ash",
    },
    BurnSign {
        fibres: "wool and other hair, silk",
        in_flame: "curls away, burns slowly, mostly goes out by itself",
        smell: "hair, feathers",
        residue: "dark beads that crush to powder",
    },
    BurnSign {
        fibres: "acrylic, nylon, polyester, acetate and other synthetics",
        in_flame: "shrinks and melts, may drip; acrylic burns on with black smoke",
        smell: "something acrid, sweetish or like vinegar",
        residue: "a hard bead",
    },
];

/// What goes before any burn test.
pub const BURN_CAUTIONS: [&str; 4] = [
    "Fire is fire: a small tuft in metal tweezers, over a sink or foil with water at hand, in moving air, away from children, hair and sleeves. Leave it to someone who has done it before.",
    "Synthetic fibre drips, and the drips stick to skin and stay hot.",
    "Blends and finishes mislead: a blend shows signs of several groups, and a treated fibre those of none.",
    "It is a first indication of a group of fibres, never proof of one: write `unknown` where it is not known.",
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cautions_are_short_and_are_sentences() {
        for hazard in ALL {
            assert!(hazard.text.chars().count() <= 200, "{}", hazard.text);
            assert!(hazard.text.ends_with('.'), "{}", hazard.text);
        }
    }
}
