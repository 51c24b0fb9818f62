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
}
