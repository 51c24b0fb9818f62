//! The file read: what its head declares, pieces and edges.

use super::{
    EdgeNeed, NeedsFile, NeedsYarn, PieceNeed, StitchUse,
    fabric::{at, by_size, needed, per_area, read_fabric},
    sample::read_sample,
};
use crate::{
    files::{
        CellNote, FileError,
        toml_reader::{Keys, MOST_TABLES, as_text, read_toml},
    },
    label::cells,
    measure::{Grist, Length},
    quantity::Edge,
    record::{Name, contradictions},
    words::{fold, or_list},
};
use std::collections::HashSet;
use toml::de::DeValue;

/// Keys of the file itself.
const KEYS: &str = "pattern sizes gauge margin step yarn stitch piece edge sample";

/// Keys of a `[[yarn]]`.
const YARN_KEYS: &str = "key called put_up";

/// Keys of a `[[stitch]]`: what it takes of another one, by your own measure.
const STITCH_KEYS: &str = "name takes of";

/// Keys of a `[[piece]]`.
const PIECE_KEYS: &str = "name yarn stitch shape width top height around radius inner degrees \
                          rows gauge times";

/// Keys of an `[[edge]]`.
const EDGE_KEYS: &str = "name yarn length takes tail times";

/// Keys of a `[[sample]]`, which has the measures of a piece where it is a swatch.
const SAMPLE_KEYS: &str = "name yarn put_up before after mass size pieces edges stitch shape \
                           width top height around radius inner degrees rows gauge times";

/// A file, and what was noticed while reading it.
#[derive(Debug, Clone, PartialEq)]
pub struct NeedsReading {
    /// What it holds.
    pub needs: NeedsFile,
    /// Notes, in the order of the file.
    pub warnings: Vec<CellNote>,
}

/// Reads a file of samples and pieces, or says all that is wrong with it. `file` is
/// what messages call it.
pub fn read_needs_file(file: &str, bytes: &[u8]) -> Result<NeedsReading, FileError> {
    let (needs, warnings) = read_toml(file, bytes, KEYS, read_keys)?;
    Ok(NeedsReading { needs, warnings })
}

/// The most stitches that a file may name: what each takes is learned from all that
/// was weighed, in work that grows with their square.
const MOST_STITCHES: usize = 40;

/// What a stitch is called that is not named.
const MAIN_STITCH: &str = "main stitch";

/// Names that tables refer to.
pub(super) struct Named {
    pub sizes: Vec<Name>,
    pub per_area: Option<f64>,
    yarns: Vec<NeedsYarn>,
    pub(super) stitches: Vec<StitchUse>,
}

impl Named {
    /// Length per mass of a yarn role.
    pub fn grist(&self, yarn: usize) -> Option<Grist> {
        Some(self.yarns.get(yarn)?.grist)
    }

    /// The place of a stitch, which is new where it was not named before; the
    /// first one for no name.
    pub fn stitch(&mut self, name: Option<String>) -> usize {
        if let (None, false) = (&name, self.stitches.is_empty()) {
            return 0;
        }
        let name = name.unwrap_or_else(|| MAIN_STITCH.to_owned());
        let known = self
            .stitches
            .iter()
            .position(|s| fold(&s.name) == fold(&name));
        known.unwrap_or_else(|| {
            self.stitches.push(StitchUse { name, of: None });
            self.stitches.len() - 1
        })
    }
}

fn read_keys(keys: &Keys<'_>) -> Option<NeedsFile> {
    let pattern = keys.name("pattern", "write `pattern = \"...\"`, its name");
    let margin = keys.value("margin", cells::percent);
    let step = keys.value("step", cells::step);
    let gauge = keys.value("gauge", cells::gauge);
    let mut named = Named {
        sizes: read_sizes(keys)?,
        per_area: gauge
            .as_ref()
            .and_then(|gauge| per_area(&gauge.value.gauge)),
        yarns: read_yarns(keys)?,
        stitches: Vec::new(),
    };
    read_stitches(keys, &mut named);
    let pieces = keys.each_named(
        "piece",
        PIECE_KEYS,
        ("name", |piece: &PieceNeed| &piece.name),
        |piece| read_piece(piece, &mut named),
    )?;
    let edges = keys.each("edge", EDGE_KEYS, |edge| read_edge(edge, &named));
    let mut places = 0..;
    let samples = keys.each("sample", SAMPLE_KEYS, |sample| {
        read_sample(sample, places.next()?, &mut named, &pieces)
    });
    few_stitches(keys, &named);
    let no_sample = samples.as_ref().is_some_and(Vec::is_empty);
    for (key, missing) in [("piece", pieces.is_empty()), ("sample", no_sample)] {
        if missing {
            let allowed = format!("begin each with a line `[[{key}]]`");
            keys.lacks(key, &allowed);
        }
    }
    Some(NeedsFile {
        pattern: pattern?,
        sizes: named.sizes,
        gauge,
        margin: margin.map(|cell| cell.value),
        step: step.map(|cell| cell.value),
        yarns: named.yarns,
        stitches: named.stitches,
        pieces,
        edges: edges?,
        samples: samples?,
    })
}

fn few_stitches(keys: &Keys<'_>, named: &Named) {
    let stitches = named.stitches.len();
    if stitches > MOST_STITCHES {
        let why = format!("{stitches} stitches are named");
        keys.fault_here(why, format!("name at most {MOST_STITCHES}"));
    }
}

fn read_sizes(keys: &Keys<'_>) -> Option<Vec<Name>> {
    let allowed = "write `sizes = [\"S\", \"M\"]`, as the pattern calls them";
    let Some(value) = keys.get("sizes") else {
        return Name::new("a size", "one size").ok().map(|one| vec![one]);
    };
    let texts: Option<Vec<Name>> = match value.get_ref() {
        DeValue::Array(items) => items
            .iter()
            .map(|item| Name::new("a size", &as_text(item)?.text).ok())
            .collect(),
        _ => None,
    };
    let mut seen = HashSet::new();
    let sound = texts.filter(|names| {
        (1..=MOST_TABLES).contains(&names.len())
            && names.iter().all(|name| seen.insert(fold(name.as_str())))
    });
    if sound.is_none() {
        let why = format!("this is not a list of at most {MOST_TABLES} names, each once");
        keys.fault("sizes", "", why, allowed);
    }
    sound
}

fn read_yarns(keys: &Keys<'_>) -> Option<Vec<NeedsYarn>> {
    let yarns = keys.each("yarn", YARN_KEYS, read_yarn)?;
    if yarns.is_empty() {
        keys.lacks("yarn", "begin each with a line `[[yarn]]`");
        return None;
    }
    Some(yarns)
}

fn read_yarn(keys: &Keys<'_>) -> Option<NeedsYarn> {
    let key = keys.name("key", "name the yarn as the pattern does: A, B, MC");
    let allowed = "write length and mass of one skein, as in `120 m / 50 g`";
    let facts = keys.needed("put_up", allowed, cells::put_up)?.value;
    for found in contradictions(&facts) {
        keys.note(found);
    }
    let Some(grist) = facts.grist() else {
        keys.lacks("length and weight", allowed);
        return None;
    };
    Some(NeedsYarn {
        key: key?,
        called: keys.text("called").map(|text| text.text),
        facts,
        grist,
    })
}

/// Every `[[stitch]]`; one that takes so many times another names it first.
fn read_stitches(keys: &Keys<'_>, named: &mut Named) {
    keys.each("stitch", STITCH_KEYS, |stitch| read_stitch(stitch, named));
}

fn read_stitch(keys: &Keys<'_>, named: &mut Named) -> Option<()> {
    let name = keys.name("name", "name the stitch")?;
    let other = keys.text("of").map(|other| named.stitch(Some(other.text)));
    let takes = keys.value("takes", cells::percent);
    let place = named.stitch(Some(name.to_string()));
    let tied = other.and_then(|other| named.stitches.get(other)?.of);
    let of = match (other, takes) {
        (Some(other), Some(takes)) if other != place && tied.is_none() => {
            (other, takes.value.as_fraction())
        }
        (None, None) => return None,
        _ => {
            let why = "`takes` and `of` go together";
            let allowed =
                "as in `takes = \"120 %\"` and `of = \"stockinette\"`, which is weighed itself";
            keys.fault_here(why, allowed);
            return None;
        }
    };
    named.stitches.get_mut(place)?.of = Some(of);
    Some(())
}

/// The place of the yarn role that a table names; the first where it names none.
pub(super) fn read_yarn_place(keys: &Keys<'_>, named: &Named) -> Option<usize> {
    let Some(text) = keys.text("yarn") else {
        return (!keys.has("yarn")).then_some(0);
    };
    let known: Vec<&str> = named.yarns.iter().map(|yarn| yarn.key.as_str()).collect();
    let place = known.iter().position(|key| fold(key) == fold(&text.text));
    if place.is_none() {
        let allowed = format!("write {}", or_list(&known));
        let why = "there is no such yarn";
        keys.fault("yarn", &text.text, why, allowed);
    }
    place
}

fn read_piece(keys: &Keys<'_>, named: &mut Named) -> Option<PieceNeed> {
    let name = keys.name("name", "name the piece: back, sleeve, yoke");
    let sizes = named.sizes.len();
    let yarn = read_yarn_place(keys, named);
    let stitch = named.stitch(keys.text("stitch").map(|text| text.text));
    let times = read_times(keys, sizes);
    let fabric = read_fabric(keys, sizes, named.per_area)?;
    Some(PieceNeed {
        name: name?,
        yarn: yarn?,
        stitch,
        times: times?,
        extents: fabric.extents,
        one_measure_grows: fabric.one_measure_grows && sizes > 1,
    })
}

fn read_times(keys: &Keys<'_>, sizes: usize) -> Option<Vec<u32>> {
    let times = if keys.has("times") {
        keys.whole::<u32>("times")?
    } else {
        1
    };
    Some(vec![times; sizes])
}

fn read_edge(keys: &Keys<'_>, named: &Named) -> Option<EdgeNeed> {
    let sizes = named.sizes.len();
    let yarn = read_yarn_place(keys, named);
    let times = read_times(keys, sizes)?;
    let length = by_size(keys, "length", sizes, cells::length);
    let tail = by_size(keys, "tail", sizes, cells::length);
    let takes = if length.is_some() {
        Some(needed(keys, "takes", sizes, cells::times)?)
    } else {
        by_size(keys, "takes", sizes, cells::times)
    };
    if !keys.has("length") && !keys.has("tail") {
        keys.lacks("length", "give `length` with `takes`, `tail`, or both");
        return None;
    }
    let none = Length::metres(0.0).ok()?;
    let edges = times.iter().enumerate().map(|(place, times)| Edge {
        length: at(&length, place).unwrap_or(none),
        takes: at(&takes, place).unwrap_or(0.0),
        tail: at(&tail, place).unwrap_or(none),
        times: *times,
    });
    Some(EdgeNeed {
        yarn: yarn?,
        edges: edges.collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const WHOLE: &str = r#"
pattern = "Hobplate"
sizes = ["S", "M"]
gauge = "22 sts x 30 rows / 10 cm"
step = "10 m"

[[yarn]]
key = "A"
put_up = "120 m / 50 g"

[[stitch]]
name = "rib"
of = "stockinette"
takes = "115 %"

[[piece]]
name = "back"
stitch = "stockinette"
shape = "rectangle"
width = ["46 cm", "50 cm"]
height = ["56 cm", "58 cm"]

[[piece]]
name = "band"
stitch = "rib"
rows = ["1-10: 200", "1-10: 220"]

[[edge]]
name = "cast-on"
length = "90 cm"
takes = 3
tail = "20 cm"

[[sample]]
size = "M"
before = "400 g"
after = "112 g"
"#;

    fn faults_with(old: &str, new: &str) -> Vec<String> {
        assert!(WHOLE.contains(old), "{old}");
        match read_needs_file("n.toml", WHOLE.replacen(old, new, 1).as_bytes()) {
            Err(FileError::Faults { faults, .. }) => {
                faults.iter().map(ToString::to_string).collect()
            }
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn a_whole_file_is_read() {
        let read = read_needs_file("n.toml", WHOLE.as_bytes()).unwrap().needs;
        assert_eq!((read.sizes.len(), read.pieces.len()), (2, 2));
        assert_eq!(read.stitches[1].of, Some((0, 1.15)));
        assert_eq!(read.pieces[0].stitch, 0);
        let area = read.pieces[0].extents[1].area.unwrap();
        assert!((area - 0.29).abs() < 1e-12);
        assert!(!read.pieces[0].one_measure_grows);
        assert_eq!(read.pieces[1].extents[1].stitches, Some(2200.0));
        assert!((read.edges[0].edges[0].metres() - 2.9).abs() < 1e-12);
        assert!((read.samples[0].used.as_grams() - 288.0).abs() < 1e-9);
    }

    #[test]
    fn what_is_wrong_is_told_with_line_and_key() {
        let faults = faults_with("[\"46 cm\", \"50 cm\"]", "[\"46 cm\"]");
        assert_eq!(
            faults,
            [
                "line 20, character 9, piece 1, width: the list holds 1 value for 2 sizes; write one text for all sizes, or a list with one for each"
            ]
        );
        let faults = faults_with("\"rectangle\"", "\"trapezium\"");
        assert!(
            faults[0].starts_with("line 19") && faults[0].contains("no such shape"),
            "{faults:?}"
        );
        let faults = faults_with("height = [\"56 cm\", \"58 cm\"]", "");
        assert!(
            faults[0].contains("piece 1: `height` is not given"),
            "{faults:?}"
        );
        let faults = faults_with("size = \"M\"", "size = \"XL\"");
        assert!(faults[0].contains("sample 1, size: `XL`"), "{faults:?}");
        let faults = faults_with("after = \"112 g\"", "after = \"412 g\"");
        assert!(faults[0].contains("no yarn was used"), "{faults:?}");
        let faults = faults_with("after = \"112 g\"", "");
        assert!(faults[0].contains("it has no weight"), "{faults:?}");
        let faults = faults_with("takes = 3", "");
        assert!(
            faults[0].contains("edge 1: `takes` is not given"),
            "{faults:?}"
        );
        let faults = faults_with("stitch = \"rib\"", "stich = \"rib\"");
        assert!(faults[0].contains("did you mean `stitch`?"), "{faults:?}");
    }

    #[test]
    fn a_sample_is_of_pieces_of_its_own_yarn() {
        let more = "[[yarn]]\nkey = \"B\"\nput_up = \"100 m / 50 g\"\n\n[[stitch]]";
        let text = WHOLE.replacen("[[stitch]]", more, 1);
        let text = text.replacen(
            "size = \"M\"",
            "size = \"M\"\nyarn = \"B\"\npieces = [\"back\"]",
            1,
        );
        let error = read_needs_file("n.toml", text.as_bytes()).unwrap_err();
        assert!(
            error.to_string().contains("no such piece of this yarn"),
            "{error}"
        );
    }

    proptest! {
        #[test]
        fn prop_no_change_of_a_line_makes_reading_panic(line in 0usize..40, text in "[ -~]{0,40}") {
            let lines: Vec<&str> = WHOLE.lines().collect();
            let changed: Vec<&str> = lines
                .iter()
                .enumerate()
                .map(|(place, old)| if place == line { text.as_str() } else { old })
                .collect();
            let _ = read_needs_file("n.toml", changed.join("\n").as_bytes());
        }
    }

    #[test]
    fn an_empty_file_is_told_what_it_lacks() {
        let error = read_needs_file("n.toml", b"").unwrap_err().to_string();
        assert!(error.contains("`pattern` is not given") && error.contains("`yarn` is not given"));
    }
}
