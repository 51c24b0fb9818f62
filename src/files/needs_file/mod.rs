//! What was knitted and weighed, and the pieces of every size, as one TOML file.
//!
//! ```toml
//! pattern = "Hobplate"
//! sizes = ["S", "M"]
//! gauge = "22 sts x 30 rows / 10 cm"
//! margin = "10 %"
//! step = "10 m"
//!
//! [[yarn]]
//! key = "A"
//! put_up = "120 m / 50 g"
//!
//! [[piece]]
//! name = "back"
//! shape = "rectangle"
//! width = ["46 cm", "50 cm"]
//! height = ["56 cm", "58 cm"]
//!
//! [[edge]]
//! name = "cast-on"
//! length = ["92 cm", "100 cm"]
//! takes = 3
//! tail = "20 cm"
//!
//! [[sample]]
//! size = "M"
//! before = "400 g"
//! after = "112 g"
//! ```
//!
//! Values are text as people write it; [`crate::label::cells`] reads it. A
//! value that differs by size is a list in the order of the sizes. A file is
//! read whole or refused with all that is wrong with it.

mod by_size;
mod fabric;
mod read;
mod sample;
mod template;

pub use read::{NeedsReading, read_needs_file};
pub use template::{NeedsTemplate, write_template};

use crate::{
    label::cells::Step,
    measure::{Grist, Mass, Ratio},
    quantity::{Edge, Extent},
    record::{Name, Printed, StatedGauge, YarnFacts},
};

/// The whole file.
#[derive(Debug, Clone, PartialEq)]
pub struct NeedsFile {
    /// Name of the pattern.
    pub pattern: Name,
    /// Names of the sizes, in order, at least one.
    pub sizes: Vec<Name>,
    /// Its gauge, where stated.
    pub gauge: Option<Printed<StatedGauge>>,
    /// Margin, where stated.
    pub margin: Option<Ratio>,
    /// What needs are rounded up to, where stated.
    pub step: Option<Step>,
    /// Yarn roles, at least one.
    pub yarns: Vec<NeedsYarn>,
    /// Stitches in the order in which they are named.
    pub stitches: Vec<StitchUse>,
    /// Pieces.
    pub pieces: Vec<PieceNeed>,
    /// Edges.
    pub edges: Vec<EdgeNeed>,
    /// What was weighed, at least one.
    pub samples: Vec<Sample>,
}

/// One yarn role.
#[derive(Debug, Clone, PartialEq)]
pub struct NeedsYarn {
    /// Its key.
    pub key: Name,
    /// What it is called.
    pub called: Option<String>,
    /// Its put-up.
    pub facts: YarnFacts,
    /// Its length per mass.
    pub grist: Grist,
}

/// One stitch, and what it takes of another where the user says so.
#[derive(Debug, Clone, PartialEq)]
pub struct StitchUse {
    /// Its name.
    pub name: String,
    /// Place of the other stitch, and how many times its yarn this one takes.
    pub of: Option<(usize, f64)>,
}

/// One piece in every size.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceNeed {
    /// Its name.
    pub name: Name,
    /// Place of its yarn.
    pub yarn: usize,
    /// Place of its stitch.
    pub stitch: usize,
    /// How many there are in each size.
    pub times: Vec<u32>,
    /// One such piece in each size.
    pub extents: Vec<Extent>,
    /// Whether only one of two measures changes from size to size.
    pub one_measure_grows: bool,
}

/// One edge in every size.
#[derive(Debug, Clone, PartialEq)]
pub struct EdgeNeed {
    /// Place of its yarn.
    pub yarn: usize,
    /// The edge in each size.
    pub edges: Vec<Edge>,
}

/// Something knitted and weighed.
#[derive(Debug, Clone, PartialEq)]
pub struct Sample {
    /// What messages call it.
    pub name: String,
    /// Place of its yarn role.
    pub yarn: usize,
    /// Length per mass of the yarn that was weighed.
    pub grist: Grist,
    /// Yarn in it.
    pub used: Mass,
    /// What it is of.
    pub of: SampleKind,
}

/// What was weighed.
#[derive(Debug, Clone, PartialEq)]
pub enum SampleKind {
    /// Pieces of one size.
    Pieces {
        /// Place of the size.
        size: usize,
        /// Places of the pieces.
        pieces: Vec<usize>,
        /// Whether the edges of that size were weighed with them.
        edges: bool,
    },
    /// A swatch.
    Swatch {
        /// Place of its stitch.
        stitch: usize,
        /// How much fabric it is.
        extent: Extent,
    },
}
