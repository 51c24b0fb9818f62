//! What fibres do near a flame: a first indication only.
//!
//! Sources: Iowa State University and USDA Cooperative Extension list, and
//! teaching pages on textiles that agree with it (common practice). Blends and
//! finishes mislead, and pages disagree on single fibres.

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
