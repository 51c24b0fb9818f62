//! Cautions and what each rests on.
//!
//! They inform; they replace neither the label, nor local rules, nor
//! professional advice. Fire: Iowa State University / USDA Cooperative Extension
//! ranking of fibres. Nightwear: 16 CFR 1615 and 1616, EN 14878:2007. Cords: US
//! CPSC on drawstrings (16 CFR 1120), Tukes (Finland) on EN 14682. Wool: Zallmann
//! et al., Acta Derm Venereol 2017;97:906-915. The rest is common practice.

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
