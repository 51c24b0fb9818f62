//! The measures and counts of a piece or a swatch, and values that differ by size.

use crate::{
    files::toml_reader::{Keys, Text, as_text},
    label::cells::{self, Cell},
    measure::{Gauge, Interval, Length, Over},
    quantity::{Extent, Shape, stitches_in},
    words::{count_of, or_list},
};
use toml::de::DeValue;

const SHAPES: [&str; 6] = [
    "rectangle",
    "trapezoid",
    "triangle",
    "circle segment",
    "ring",
    "tube",
];

/// Keys that measure a piece.
const MEASURES: [&str; 7] = [
    "width", "top", "height", "around", "radius", "inner", "degrees",
];

/// The fabric of a piece in each size.
pub(super) struct Fabric {
    pub extents: Vec<Extent>,
    pub one_measure_grows: bool,
}

/// Reads shape, rows and gauge; at least one of shape and rows must be there.
/// `usual` are the stitches per m2 of the file's own gauge.
pub(super) fn read_fabric(keys: &Keys<'_>, sizes: usize, usual: Option<f64>) -> Option<Fabric> {
    let shape = keys.text("shape");
    let outline = match &shape {
        Some(text) => Some(read_outline(keys, &crate::words::fold(&text.text), sizes)?),
        None => {
            without_shape(keys);
            None
        }
    };
    let rows = by_size(keys, "rows", sizes, cells::row_counts);
    let gauges = by_size(keys, "gauge", sizes, cells::gauge);
    if outline.is_none() && !keys.has("rows") {
        let shapes = or_list(SHAPES);
        let allowed = format!("give `shape` ({shapes}) with its measures, or `rows`");
        keys.lacks("shape", &allowed);
        return None;
    }
    let extents = (0..sizes).map(|place| Extent {
        area: outline.as_ref().and_then(|outline| {
            let shape = outline.shapes.get(place)?;
            Some(shape.area())
        }),
        stitches: at(&rows, place).map(|rows| stitches_in(&rows)),
        per_area: at(&gauges, place).map_or(usual, |stated| per_area(&stated.gauge)),
    });
    Some(Fabric {
        extents: extents.collect(),
        one_measure_grows: outline.is_some_and(|outline| outline.one_measure_grows),
    })
}

/// Stitches per m2: stitches per m x rows per m, middles of ranges; a gauge that
/// does not say over what length counts over 10 cm.
pub(super) fn per_area(gauge: &Gauge) -> Option<f64> {
    let gauge = gauge.or_over(Over::centimetres(10.0).ok()?);
    let middle = |range: Interval<f64>| (range.low() + range.high()) / 2.0;
    Some(middle(gauge.stitches_per_metre()?) * middle(gauge.rows_per_metre()?))
}

fn without_shape(keys: &Keys<'_>) {
    for key in MEASURES {
        if keys.has(key) {
            let allowed = format!("add `shape`: {}", or_list(SHAPES));
            let why = "this measures a shape, and none is given";
            keys.fault(key, "", why, allowed);
        }
    }
}

struct Outline {
    shapes: Vec<Shape>,
    one_measure_grows: bool,
}

/// Keys that a shape must have, and those that it may have.
fn keys_of(shape: &str) -> Option<(&'static [&'static str], &'static [&'static str])> {
    Some(match shape {
        "rectangle" | "triangle" | "circle segment" => (&["width", "height"], &[]),
        "trapezoid" => (&["width", "top", "height"], &[]),
        "ring" => (&["radius"], &["inner", "degrees"]),
        "tube" => (&["around", "height"], &["top"]),
        _ => return None,
    })
}

fn read_outline(keys: &Keys<'_>, shape: &str, sizes: usize) -> Option<Outline> {
    let Some((must, may)) = keys_of(shape) else {
        let allowed = format!("write {}", or_list(SHAPES));
        keys.fault("shape", shape, "there is no such shape", allowed);
        return None;
    };
    for key in MEASURES {
        let odd = !must.contains(&key) && !may.contains(&key);
        if odd && keys.has(key) {
            let why = format!("a {shape} has no `{key}`");
            let known: Vec<&str> = must.iter().chain(may).copied().collect();
            let allowed = format!("its measures are {}", crate::words::and_list(&known));
            keys.fault(key, "", why, allowed);
        }
    }
    let mut measures: Vec<(&str, Option<SizeValues<Length>>)> = Vec::new();
    for key in must {
        measures.push((key, needed(keys, key, sizes, cells::length)));
    }
    for key in may.iter().filter(|key| **key != "degrees") {
        measures.push((key, by_size(keys, key, sizes, cells::length)));
    }
    let degrees = by_size(keys, "degrees", sizes, cells::degrees);
    let of = |key: &str, place: usize| {
        let (_, read) = measures.iter().find(|(known, _)| *known == key)?;
        at(read, place)
    };
    let shapes: Option<Vec<Shape>> = (0..sizes)
        .map(|place| one_shape(shape, |key| of(key, place), at(&degrees, place)))
        .collect();
    let listed = measures
        .iter()
        .flat_map(|(_, read)| read)
        .filter(|read| read.listed)
        .count();
    let outline = Outline {
        shapes: shapes?,
        one_measure_grows: listed == 1 && must.len() > 1,
    };
    with_an_area(keys, outline)
}

fn one_shape(
    shape: &str,
    of: impl Fn(&str) -> Option<Length>,
    degrees: Option<f64>,
) -> Option<Shape> {
    Some(match shape {
        "rectangle" => Shape::Rectangle {
            width: of("width")?,
            height: of("height")?,
        },
        "triangle" => Shape::Triangle {
            width: of("width")?,
            height: of("height")?,
        },
        "circle segment" => Shape::Segment {
            width: of("width")?,
            height: of("height")?,
        },
        "trapezoid" => Shape::Trapezoid {
            width: of("width")?,
            top: of("top")?,
            height: of("height")?,
        },
        "ring" => Shape::Ring {
            radius: of("radius")?,
            inner: of("inner").or(Length::metres(0.0).ok())?,
            degrees: degrees.unwrap_or(360.0),
        },
        _ => Shape::Tube {
            around: of("around")?,
            top: of("top").or_else(|| of("around"))?,
            height: of("height")?,
        },
    })
}

/// A ring whose inner edge lies outside its outer one has no area.
fn with_an_area(keys: &Keys<'_>, outline: Outline) -> Option<Outline> {
    let sound = outline.shapes.iter().all(|shape| shape.area() > 0.0);
    if !sound {
        let why = "this shape has no area";
        let allowed = "the inner edge of a ring lies within its outer edge";
        keys.fault_here(why, allowed);
    }
    sound.then_some(outline)
}

/// A value for each size, and whether it was given as a list.
pub(super) struct SizeValues<T> {
    pub values: Vec<T>,
    pub listed: bool,
}

/// The value in the size at `place`, where it was given.
pub(super) fn at<T: Clone>(values: &Option<SizeValues<T>>, place: usize) -> Option<T> {
    values.as_ref()?.values.get(place).cloned()
}

/// The value of `key` in each of `sizes` sizes; `None` where it is not there or
/// bad.
pub(super) fn by_size<T: Clone>(
    keys: &Keys<'_>,
    key: &str,
    sizes: usize,
    read: impl Fn(&str) -> Cell<T>,
) -> Option<SizeValues<T>> {
    let value = keys.get(key)?;
    let DeValue::Array(items) = value.get_ref() else {
        let one = keys.value(key, read)?.value;
        return Some(SizeValues {
            values: vec![one; sizes],
            listed: false,
        });
    };
    let texts: Vec<Option<Text>> = items.iter().map(as_text).collect();
    let allowed = "write one text for all sizes, or a list with one for each";
    if texts.len() != sizes || texts.iter().any(Option::is_none) {
        let count =
            |n: usize, word| count_of(f64::from(u32::try_from(n).unwrap_or(u32::MAX)), word);
        let why = format!(
            "the list holds {} for {}",
            count(texts.len(), "value"),
            count(sizes, "size")
        );
        keys.fault(key, "", why, allowed);
        return None;
    }
    let read: Vec<Option<T>> = texts
        .iter()
        .flatten()
        .map(|text| keys.read(key, text, &read).map(|cell| cell.value))
        .collect();
    Some(SizeValues {
        values: read.into_iter().collect::<Option<_>>()?,
        listed: true,
    })
}

/// As [`by_size`], for a key that must be there.
pub(super) fn needed<T: Clone>(
    keys: &Keys<'_>,
    key: &str,
    sizes: usize,
    read: impl Fn(&str) -> Cell<T>,
) -> Option<SizeValues<T>> {
    if !keys.has(key) {
        keys.lacks(key, "give it as text, or as a list with one for each size");
    }
    by_size(keys, key, sizes, read)
}
