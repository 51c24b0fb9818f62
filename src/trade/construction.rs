//! How a yarn is built, and which constructions can be compared by grist.
//!
//! Common practice, no source.

/// How a yarn is built.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Construction {
    /// Two or more singles twisted together.
    Plied,
    /// Plied yarns plied again.
    Cabled,
    /// One single.
    Single,
    /// A knitted tube or chain.
    Chainette,
    /// A tube with fibre blown into it.
    Blown,
    /// Brushed to a halo.
    Brushed,
    /// Loops stand out.
    Boucle,
    /// Thick and thin.
    Slub,
    /// A flat band.
    Tape,
}

impl Construction {
    /// All of them, in the order in which they are listed to people.
    pub const ALL: [Self; 9] = [
        Self::Plied,
        Self::Cabled,
        Self::Single,
        Self::Chainette,
        Self::Blown,
        Self::Brushed,
        Self::Boucle,
        Self::Slub,
        Self::Tape,
    ];

    /// The word used here.
    pub fn name(self) -> &'static str {
        match self {
            Self::Plied => "plied",
            Self::Cabled => "cabled",
            Self::Single => "single",
            Self::Chainette => "chainette",
            Self::Blown => "blown",
            Self::Brushed => "brushed",
            Self::Boucle => "boucle",
            Self::Slub => "slub",
            Self::Tape => "tape",
        }
    }

    /// The group it belongs to.
    pub fn group(self) -> Group {
        match self {
            Self::Plied | Self::Cabled => Group::Spun,
            Self::Single => Group::Single,
            Self::Chainette | Self::Blown => Group::Tube,
            Self::Brushed => Group::Brushed,
            Self::Boucle | Self::Slub => Group::Textured,
            Self::Tape => Group::Tape,
        }
    }

    /// Whether length per mass says the same of both. A tube holds air, so its
    /// length per mass is that of a thinner yarn: not comparable with a spun
    /// one. Halo, loops and slubs carry mass beside the core: comparable only
    /// with the very same construction. A tape is smooth and holds no more air
    /// than a spun yarn by anything that was found, so it counts as smooth.
    pub fn comparable_by_grist(self, other: Self) -> bool {
        let (a, b) = (self.group(), other.group());
        let uneven = |group| matches!(group, Group::Brushed | Group::Textured);
        let spun = |group| matches!(group, Group::Spun | Group::Single);
        match () {
            () if self == other => true,
            () if uneven(a) || uneven(b) => false,
            () => !(a == Group::Tube && spun(b) || spun(a) && b == Group::Tube),
        }
    }
}

/// Constructions that behave alike.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Group {
    /// Plied, cabled.
    Spun,
    /// Single.
    Single,
    /// Chainette, blown.
    Tube,
    /// Brushed.
    Brushed,
    /// Boucle, slub.
    Textured,
    /// Tape.
    Tape,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn air_halo_and_loops_forbid_comparing_length_per_mass() {
        use Construction::{Blown, Boucle, Brushed, Cabled, Chainette, Plied, Single, Slub, Tape};
        for (a, b) in [
            (Plied, Cabled),
            (Plied, Single),
            (Chainette, Blown),
            (Brushed, Brushed),
            (Tape, Plied),
        ] {
            assert!(a.comparable_by_grist(b), "{a:?} {b:?}");
        }
        for (a, b) in [
            (Chainette, Plied),
            (Single, Blown),
            (Brushed, Plied),
            (Boucle, Slub),
            (Brushed, Boucle),
            (Tape, Slub),
        ] {
            assert!(!a.comparable_by_grist(b), "{a:?} {b:?}");
        }
    }

    #[test]
    fn comparing_goes_both_ways_and_a_construction_compares_with_itself() {
        for a in Construction::ALL {
            assert!(a.comparable_by_grist(a));
            for b in Construction::ALL {
                assert_eq!(a.comparable_by_grist(b), b.comparable_by_grist(a));
            }
        }
    }
}
