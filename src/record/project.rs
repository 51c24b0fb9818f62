//! A pattern in a size that someone means to make, with a rank among others.

use super::{Id, Name, Pattern, Yarn};

/// A project.
#[derive(Debug, Clone, PartialEq)]
pub struct Project {
    /// What people call it, and what its yarn is reserved for.
    pub name: Name,
    /// The pattern, which may be gone.
    pub pattern: Id<Pattern>,
    /// What the pattern was called when the project was added.
    pub pattern_name: Name,
    /// The size, by its name in the pattern.
    pub size: String,
    /// Projects of lower rank come first.
    pub rank: f64,
    /// Fibres to avoid, as typed; may be empty.
    pub without: String,
    /// The only fibres, as typed; may be empty.
    pub only: String,
    /// How it will be washed, as typed; empty where the pattern says.
    pub care: String,
    /// The most to spend on it, as typed; may be empty.
    pub max_cost: String,
    /// Whether nothing is to be bought for it.
    pub enough: bool,
    /// Whether each of its yarns must be of one dye lot.
    pub one_lot: bool,
    /// Words of a shade, as typed; may be empty.
    pub shade: String,
    /// Words of a place, as typed; may be empty.
    pub place: String,
    /// Yarns that were chosen by hand, at most one a role.
    pub pins: Vec<Pin>,
}

/// A yarn that was chosen by hand for a role.
#[derive(Debug, Clone, PartialEq)]
pub struct Pin {
    /// Key of the role.
    pub role: Name,
    /// The yarn, which may be gone.
    pub yarn: Id<Yarn>,
    /// What the yarn was called when it was chosen.
    pub yarn_name: String,
    /// Only this shade.
    pub shade: Option<String>,
}

impl Project {
    /// What is chosen by hand for a role.
    pub fn pin(&self, role: &str) -> Option<&Pin> {
        self.pins.iter().find(|pin| pin.role.as_str() == role)
    }
}
