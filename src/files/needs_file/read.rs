//! The file read.

use super::{
    EDGE_KEYS, EdgeNeed, NEEDS_KEYS, NeedsFile, NeedsYarn, PIECE_KEYS, PieceNeed, SAMPLE_KEYS,
    StitchUse,
    by_size::{by_size, needed},
    declared::{read_sizes, read_stitches, read_yarns},
    fabric::{per_area, read_fabric},
    sample::read_sample,
};
use crate::{
    files::{
        CellNote, FileError,
        pattern_file::{keys::Keys, syntax::Findings},
        text::text_of,
    },
    label::cells,
    measure::{Grist, Length},
    quantity::Edge,
    record::Name,
    words::{fold, or_list},
};
use toml::de::DeTable;

/// A file, and what was noticed while reading it.
#[derive(Debug, Clone, PartialEq)]
pub struct NeedsReading {
    /// What it holds.
    pub needs: NeedsFile,
    /// What to know, in the order of the file.
    pub warnings: Vec<CellNote>,
}

/// Reads a file of samples and pieces, or says all that is wrong with it.
pub fn read_needs_file(file: &str, bytes: &[u8]) -> Result<NeedsReading, FileError> {
    let text = text_of(file, bytes)?;
    let mut found = Findings::new(text);
    let tree = found.tree();
    let needs = match found.faults.is_empty() {
        true => needs_of(&tree, &mut found),
        false => None,
    };
    found.faults.sort_by_key(|fault| fault.place);
    found.notes.sort_by_key(|note| note.place);
    match needs {
        Some(needs) if found.faults.is_empty() => Ok(NeedsReading {
            needs,
            warnings: found.notes,
        }),
        _ => Err(FileError::Faults {
            file: file.to_owned(),
            faults: found.faults,
        }),
    }
}

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

fn needs_of(tree: &DeTable<'_>, found: &mut Findings<'_>) -> Option<NeedsFile> {
    let keys = Keys::new(tree, 0..0, String::new(), &NEEDS_KEYS, found);
    let pattern = keys.name("pattern", "write `pattern = \"...\"`, its name", found);
    let margin = keys.value("margin", cells::percent, found);
    let step = keys.value("step", cells::step, found);
    let gauge = keys.value("gauge", cells::gauge, found);
    let mut named = Named {
        sizes: read_sizes(&keys, found)?,
        per_area: gauge
            .as_ref()
            .and_then(|gauge| per_area(&gauge.value.gauge)),
        yarns: read_yarns(&keys, found)?,
        stitches: Vec::new(),
    };
    read_stitches(&keys, &mut named, found);
    let tables = keys.tables("piece", &PIECE_KEYS, found);
    let pieces: Vec<Option<PieceNeed>> = tables
        .iter()
        .map(|piece| read_piece(piece, &mut named, found))
        .collect();
    let pieces: Vec<PieceNeed> = pieces.into_iter().collect::<Option<_>>()?;
    each_once(&tables, pieces.iter().map(|piece| &piece.name), found);
    let edges = keys.tables("edge", &EDGE_KEYS, found);
    let edges: Vec<Option<EdgeNeed>> = edges
        .iter()
        .map(|edge| read_edge(edge, &named, found))
        .collect();
    let samples = keys.tables("sample", &SAMPLE_KEYS, found);
    let read: Vec<_> = samples
        .iter()
        .enumerate()
        .map(|(place, sample)| read_sample(sample, place, &mut named, &pieces, found))
        .collect();
    for (key, missing) in [("piece", pieces.is_empty()), ("sample", read.is_empty())] {
        if missing {
            let allowed = format!("begin each with a line `[[{key}]]`");
            keys.lacks(key, &allowed, found);
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
        edges: edges.into_iter().collect::<Option<_>>()?,
        samples: read.into_iter().collect::<Option<_>>()?,
    })
}

/// The place of the yarn role that a table names; the first where it names none.
pub(super) fn read_yarn_place(
    keys: &Keys<'_, '_>,
    named: &Named,
    found: &mut Findings<'_>,
) -> Option<usize> {
    let Some(text) = keys.text("yarn", found) else {
        return keys.get("yarn").is_none().then_some(0);
    };
    let known: Vec<&str> = named.yarns.iter().map(|yarn| yarn.key.as_str()).collect();
    let place = known.iter().position(|key| fold(key) == fold(&text.text));
    if place.is_none() {
        let allowed = format!("write {}", or_list(&known));
        let why = "there is no such yarn";
        found.fault(&text.at, &keys.named("yarn"), &text.text, why, allowed);
    }
    place
}

fn read_piece(
    keys: &Keys<'_, '_>,
    named: &mut Named,
    found: &mut Findings<'_>,
) -> Option<PieceNeed> {
    let name = keys.name("name", "name the piece: back, sleeve, yoke", found);
    let sizes = named.sizes.len();
    let yarn = read_yarn_place(keys, named, found);
    let stitch = named.stitch(keys.text("stitch", found).map(|text| text.text));
    let times = read_times(keys, sizes, found);
    let fabric = read_fabric(keys, sizes, named.per_area, found)?;
    Some(PieceNeed {
        name: name?,
        yarn: yarn?,
        stitch,
        times: times?,
        extents: fabric.extents,
        one_measure_grows: fabric.one_measure_grows && sizes > 1,
    })
}

fn read_times(keys: &Keys<'_, '_>, sizes: usize, found: &mut Findings<'_>) -> Option<Vec<u32>> {
    let given = keys.get("times").is_some();
    let times = keys.whole::<u32>("times", found);
    match given {
        true => Some(vec![times?; sizes]),
        false => Some(vec![1; sizes]),
    }
}

fn read_edge(keys: &Keys<'_, '_>, named: &Named, found: &mut Findings<'_>) -> Option<EdgeNeed> {
    let sizes = named.sizes.len();
    let yarn = read_yarn_place(keys, named, found);
    let times = read_times(keys, sizes, found)?;
    let length = by_size(keys, "length", sizes, cells::length, found);
    let tail = by_size(keys, "tail", sizes, cells::length, found);
    let takes = match length.is_some() {
        true => Some(needed(keys, "takes", sizes, cells::times, found)?),
        false => by_size(keys, "takes", sizes, cells::times, found),
    };
    if keys.get("length").is_none() && keys.get("tail").is_none() {
        keys.lacks(
            "length",
            "give `length` with `takes`, `tail`, or both",
            found,
        );
        return None;
    }
    let none = Length::metres(0.0).ok()?;
    let edges = times.iter().enumerate().map(|(place, times)| Edge {
        length: length
            .as_ref()
            .and_then(|l| l.values.get(place).copied())
            .unwrap_or(none),
        takes: takes
            .as_ref()
            .and_then(|t| t.values.get(place).copied())
            .unwrap_or(0.0),
        tail: tail
            .as_ref()
            .and_then(|t| t.values.get(place).copied())
            .unwrap_or(none),
        times: *times,
    });
    Some(EdgeNeed {
        yarn: yarn?,
        edges: edges.collect(),
    })
}

/// Reports names that stood before, where they stand again.
fn each_once<'n>(
    tables: &[Keys<'_, '_>],
    names: impl Iterator<Item = &'n Name>,
    found: &mut Findings<'_>,
) {
    let mut seen = std::collections::HashSet::new();
    for (table, name) in tables.iter().zip(names) {
        if !seen.insert(fold(name.as_str())) {
            let at = table
                .get("name")
                .map_or(table.at.clone(), toml::Spanned::span);
            let why = "this name stood before";
            found.fault(
                &at,
                &table.named("name"),
                name.as_str(),
                why,
                "give each its own name",
            );
        }
    }
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
        assert!(faults[0].contains("not weighed"), "{faults:?}");
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
