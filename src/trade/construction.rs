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
    /// A strand of fibre with hardly any twist.
    Roving,
    /// A knitted tube or chain.
    Chainette,
    /// A tube with fibre blown into it.
    Blown,
    /// A flat knitted or woven band, or a strip of cloth.
    Tape,
    /// A fine flat band with a sheen.
    Ribbon,
    /// Loops stand out.
    Boucle,
    /// Thick and thin.
    Slub,
    /// Short pile all around a core.
    Chenille,
    /// Dense short pile, knitted or flocked.
    Velvet,
    /// Long loose ends hang from a core.
    Eyelash,
    /// Brushed to a halo.
    Brushed,
}

impl Construction {
    /// All of them, in the order in which they are listed to people.
    pub const ALL: [Self; 14] = [
        Self::Plied,
        Self::Cabled,
        Self::Single,
        Self::Roving,
        Self::Chainette,
        Self::Blown,
        Self::Tape,
        Self::Ribbon,
        Self::Boucle,
        Self::Slub,
        Self::Chenille,
        Self::Velvet,
        Self::Eyelash,
        Self::Brushed,
    ];

    /// The word used here.
    pub fn name(self) -> &'static str {
        match self {
            Self::Plied => "plied",
            Self::Cabled => "cabled",
            Self::Single => "single",
            Self::Roving => "roving",
            Self::Chainette => "chainette",
            Self::Blown => "blown",
            Self::Tape => "tape",
            Self::Ribbon => "ribbon",
            Self::Boucle => "boucle",
            Self::Slub => "slub",
            Self::Chenille => "chenille",
            Self::Velvet => "velvet",
            Self::Eyelash => "eyelash",
            Self::Brushed => "brushed",
        }
    }

    /// The group it belongs to.
    pub fn group(self) -> Group {
        match self {
            Self::Plied | Self::Cabled => Group::Spun,
            Self::Single | Self::Roving => Group::Single,
            Self::Chainette | Self::Blown | Self::Tape | Self::Ribbon => Group::Band,
            Self::Boucle | Self::Slub => Group::Textured,
            Self::Chenille | Self::Velvet | Self::Eyelash => Group::Pile,
            Self::Brushed => Group::Brushed,
        }
    }

    /// Whether it is smooth and even: spun or single.
    pub fn is_smooth(self) -> bool {
        matches!(self.group(), Group::Spun | Group::Single)
    }

    /// Whether length per mass says the same of both: only among smooth yarns, or
    /// of the very same construction. A tube holds air and a band lies flat; halo,
    /// loops, slubs and pile carry mass beside the core.
    pub fn comparable_by_grist(self, other: Self) -> bool {
        self == other || self.is_smooth() && other.is_smooth()
    }
}

/// Constructions that behave alike. Spun and single yarns are near to each other,
/// all other groups are far apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Group {
    /// Plied, cabled.
    Spun,
    /// Single, roving.
    Single,
    /// Chainette, blown, tape, ribbon: tubes and flat bands.
    Band,
    /// Boucle, slub.
    Textured,
    /// Chenille, velvet, eyelash.
    Pile,
    /// Brushed.
    Brushed,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn air_halo_loops_and_pile_forbid_comparing_length_per_mass() {
        use Construction::{
            Blown, Boucle, Brushed, Cabled, Chainette, Chenille, Eyelash, Plied, Ribbon, Roving,
            Single, Slub, Tape, Velvet,
        };
        for (a, b) in [
            (Plied, Cabled),
            (Plied, Single),
            (Roving, Plied),
            (Brushed, Brushed),
            (Tape, Tape),
        ] {
            assert!(a.comparable_by_grist(b), "{a:?} {b:?}");
        }
        for (a, b) in [
            (Chainette, Plied),
            (Chainette, Blown),
            (Single, Blown),
            (Brushed, Plied),
            (Boucle, Slub),
            (Brushed, Boucle),
            (Tape, Plied),
            (Tape, Ribbon),
            (Chenille, Velvet),
            (Eyelash, Roving),
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
