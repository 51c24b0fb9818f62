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

mod fabric;
mod read;
mod sample;

use crate::{
    label::cells::Step,
    measure::{Grist, Mass, Ratio},
    quantity::{Edge, Extent},
    record::{Name, Printed, StatedGauge, YarnFacts},
};
pub use read::{NeedsReading, read_needs_file};
use toml::Value;

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

/// The answers, as typed; what differs by size has one text for each, or one
/// for all.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct NeedsTemplate {
    /// Name of the pattern.
    pub pattern: String,
    /// Names of the sizes, in order.
    pub sizes: Vec<String>,
    /// The gauge.
    pub gauge: String,
    /// Length and mass of one skein.
    pub put_up: String,
    /// What shape the piece has.
    pub shape: String,
    /// Its width; of a tube the way around.
    pub width: Vec<String>,
    /// Its width at the top.
    pub top: Vec<String>,
    /// Its height.
    pub height: Vec<String>,
    /// How many of it there are.
    pub times: String,
    /// The size that was knitted.
    pub size: String,
    /// What the yarn weighed before.
    pub before: String,
    /// What was left of it.
    pub after: String,
    /// What the finished pieces weigh.
    pub mass: String,
}

/// The text of the file; what is empty is left out.
pub fn write_template(template: &NeedsTemplate) -> String {
    let around = match crate::words::fold(&template.shape).as_str() {
        "tube" => "around",
        _ => "width",
    };
    let mut out = String::new();
    put(&mut out, "pattern", &template.pattern);
    if !template.sizes.is_empty() {
        line(&mut out, "sizes", &listed(&template.sizes));
    }
    put(&mut out, "gauge", &template.gauge);
    out.push_str("\n[[yarn]]\n");
    put(&mut out, "key", "A");
    put(&mut out, "put_up", &template.put_up);
    out.push_str("\n[[piece]]\n");
    put(&mut out, "name", "piece");
    put(&mut out, "shape", &template.shape);
    by_size(&mut out, around, &template.width);
    by_size(&mut out, "top", &template.top);
    by_size(&mut out, "height", &template.height);
    put(&mut out, "times", &template.times);
    out.push_str("\n[[sample]]\n");
    put(&mut out, "size", &template.size);
    put(&mut out, "before", &template.before);
    put(&mut out, "after", &template.after);
    put(&mut out, "mass", &template.mass);
    out
}

fn listed(texts: &[String]) -> Value {
    Value::from(texts.to_vec())
}

fn line(out: &mut String, key: &str, value: &Value) {
    out.push_str(&format!("{key} = {value}\n"));
}

fn put(out: &mut String, key: &str, text: &str) {
    if !text.is_empty() {
        line(out, key, &Value::from(text));
    }
}

fn by_size(out: &mut String, key: &str, texts: &[String]) {
    match texts {
        [] => {}
        [one] => put(out, key, one),
        several => line(out, key, &listed(several)),
    }
}

#[cfg(test)]
mod template_tests {
    use super::*;
    use crate::files::needs_file::read_needs_file;
    use proptest::prelude::*;

    fn texts(texts: &[&str]) -> Vec<String> {
        texts.iter().map(|text| (*text).to_owned()).collect()
    }

    fn scarf() -> NeedsTemplate {
        NeedsTemplate {
            pattern: "A \"scarf\" \\ x".to_owned(),
            sizes: texts(&["short", "long"]),
            put_up: "120 m / 50 g".to_owned(),
            shape: "rectangle".to_owned(),
            width: texts(&["30 cm"]),
            height: texts(&["120 cm", "180 cm"]),
            size: "short".to_owned(),
            mass: "150 g".to_owned(),
            ..NeedsTemplate::default()
        }
    }

    #[test]
    fn what_is_written_reads_back() {
        let text = write_template(&scarf());
        let read = read_needs_file("n", text.as_bytes()).unwrap().needs;
        assert_eq!(read.pattern.as_str(), scarf().pattern);
        let areas: Vec<Option<f64>> = read.pieces[0].extents.iter().map(|e| e.area()).collect();
        assert!((areas[0].unwrap() - 0.36).abs() < 1e-12);
        assert!((areas[1].unwrap() - 0.54).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn prop_no_text_breaks_out_of_its_place(text in ".{0,40}", many in proptest::collection::vec(".{0,20}", 0..4)) {
            let template = NeedsTemplate {
                pattern: text.clone(),
                gauge: text.clone(),
                shape: text.clone(),
                sizes: many.clone(),
                width: many,
                mass: text,
                ..scarf()
            };
            let tree: toml::Table = write_template(&template).parse().unwrap();
            let known = ["pattern", "sizes", "gauge", "yarn", "piece", "sample"];
            prop_assert!(tree.keys().all(|key| known.contains(&key.as_str())));
        }
    }
}
