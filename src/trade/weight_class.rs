//! The published weight classes 0 to 7.
//!
//! Source: Craft Yarn Council, Standard Yarn Weight System, current version
//! with eight classes (www.YarnStandards.com). All its ranges are guidelines.

use std::fmt;

/// A weight class, 0 (lace) to 7 (jumbo).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct WeightClass(u8);

impl WeightClass {
    /// The class of this number; `None` above 7.
    pub fn new(number: u8) -> Option<Self> {
        (number <= 7).then_some(Self(number))
    }

    /// 0 to 7.
    pub fn number(self) -> u8 {
        self.0
    }

    /// The published name.
    pub fn name(self) -> &'static str {
        match self.0 {
            0 => "lace",
            1 => "super fine",
            2 => "fine",
            3 => "light",
            4 => "medium",
            5 => "bulky",
            6 => "super bulky",
            _ => "jumbo",
        }
    }

    /// Steps between two classes.
    pub fn steps_to(self, other: Self) -> u8 {
        self.0.abs_diff(other.0)
    }
}

impl fmt::Display for WeightClass {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.0, self.name())
    }
}
