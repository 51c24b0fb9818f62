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
    "Never for anything hot: this yarn has fibres that melt, and what is molten sticks to the skin.",
    EXTENSION,
);
/// Unknown fibre handled hot.
pub const MAY_MELT: Hazard = practice(
    "It is not known whether this yarn melts: keep it from anything hot until the label or the maker says what it is made of.",
);
/// Fibre that does not melt, handled hot.
pub const BURNS: Hazard = published(
    "Fibres that do not melt still burn: work hot pads thick or double and keep them from flames.",
    EXTENSION,
);
/// Nightwear of children.
pub const NIGHTWEAR: Hazard = published(
    "Children's nightwear must meet rules on flammability, and a yarn's label does not show that it does: check the rules of your country.",
    "16 CFR 1615 and 1616; EN 14878:2007",
);
/// Cords on clothes of children.
pub const CORDS: Hazard = published(
    "No cords or ties at a child's hood or neck; at waist and hem only short ends (US: 3 in at most), without knots or toggles. Check the rules of your country.",
    "US CPSC, 16 CFR 1120; Tukes, EN 14682",
);
/// Loose fibre near babies.
pub const HALO: Hazard = practice(
    "This yarn sheds: trade advice keeps angora, mohair, brushed and eyelash yarns away from babies. Ask whoever cares for the baby.",
);
/// Open loops near babies.
pub const LOOPS: Hazard = practice(
    "Small fingers and toes catch in the loops of this yarn: take a smooth one for a baby.",
);
/// Wool on the skin.
pub const WOOL: Hazard = published(
    "Coarse wool can itch next to the skin; true allergy to wool was not found, lanolin reactions are rare. Ask the wearer, and a doctor where skin reacts.",
    "Zallmann et al. 2017, Acta Derm Venereol 97:906-915",
);
/// Natural rubber; elastane has none.
pub const LATEX: Hazard = practice(
    "This yarn has rubber (elastodiene), which may be natural latex: not for anyone with a latex allergy. Ask the maker, and a doctor.",
);
/// Elastic of which nobody says what it is.
pub const MAY_BE_LATEX: Hazard = practice(
    "The label says elastic but not which: it may be rubber latex. With a latex allergy, ask the maker before you touch it.",
);
/// Felting that is not wanted.
pub const FELTS: Hazard = practice(
    "Animal fibre that is not treated for the machine felts and shrinks in it: follow the label, wash a swatch first.",
);
/// Felting that is wanted.
pub const FELTING_IS_WANTED: Hazard = practice(
    "No label says how far a yarn felts, and shades of one yarn differ: felt a swatch as you will felt the piece, measure it before and after.",
);
/// Growth of treated wool.
pub const SUPERWASH_GROWS: Hazard = practice(
    "Wool treated for the machine often grows when wet: wash the swatch as you will wash the piece.",
);
/// Growth in wear.
pub const GROWS: Hazard = practice(
    "Silk, alpaca, cotton, linen and viscose (bamboo, lyocell, modal) tend to grow by their own weight in wear: hang the washed swatch before you measure it.",
);

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

    const ALL: [Hazard; 14] = [
        MELTS,
        MAY_MELT,
        BURNS,
        NIGHTWEAR,
        CORDS,
        HALO,
        LOOPS,
        WOOL,
        LATEX,
        MAY_BE_LATEX,
        FELTS,
        FELTING_IS_WANTED,
        SUPERWASH_GROWS,
        GROWS,
    ];

    #[test]
    fn cautions_are_short_and_are_sentences() {
        for hazard in ALL {
            assert!(hazard.text.chars().count() <= 200, "{}", hazard.text);
            assert!(hazard.text.ends_with('.'), "{}", hazard.text);
        }
    }
}
