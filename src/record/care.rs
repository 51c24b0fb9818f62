//! How a yarn may be washed.

/// What a label allows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Care {
    /// Takes a machine wash.
    MachineWash,
    /// By hand only.
    HandWash,
    /// Dry cleaning only.
    DryClean,
}

impl Care {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::MachineWash, Self::HandWash, Self::DryClean];

    /// The words used here.
    pub fn name(self) -> &'static str {
        match self {
            Self::MachineWash => "machine wash",
            Self::HandWash => "hand wash",
            Self::DryClean => "dry clean",
        }
    }
}
