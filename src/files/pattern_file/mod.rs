//! A pattern as one TOML file, in and out.
//!
//! ```toml
//! pattern = "Saltglaze"
//! purpose = "garment"
//! fit = "fitted"
//! gauge = "22 sts x 30 rows / 10 cm"
//! multiple = "4 + 2"
//!
//! [[size]]
//! name = "M"
//! width = "98 cm"
//! cast_on = 216
//!
//! [[yarn]]
//! key = "A"
//! put_up = "125 m / 50 g"
//! fibre = "100% wool"
//! needs = "10 skeins"
//! ```
//!
//! Values are text as people write it; [`crate::label::cells`] reads it.
//! `needs` holds one text a size, or one for all of them in the order of the
//! sizes, as patterns print it; a single amount counts for every size. A file
//! is read whole or refused with all that is wrong with it. What is written
//! reads back to the same pattern; comments in a file are not kept.

mod gauge;
mod needs;
mod write;

use super::{
    CellNote, FileError,
    toml_reader::{Keys, read_toml},
};
use crate::{
    label::cells,
    record::{Fit, Name, Pattern, PatternYarn, Printed, Purpose, Size, YarnFacts, contradictions},
    trade::Construction,
    words::{fold, or_list},
};
use gauge::read_gauge;
use needs::read_needs;
pub use needs::{each_need, one_need};
pub use write::write_pattern;

/// Keys of the file itself.
const KEYS: &str = "pattern purpose fit gauge stitch worked washed gauge_strands multiple \
                    care tolerance margin_included notes size yarn";

/// Keys of a `[[size]]`.
const SIZE_KEYS: &str = "name width height cast_on rows";

/// Keys of a `[[yarn]]`.
const YARN_KEYS: &str = "key called put_up length mass count class fibre construction plies \
                         gauge needle care price strands held_with needs";

/// A pattern, and what was noticed while reading it.
#[derive(Debug, Clone, PartialEq)]
pub struct PatternReading {
    /// The pattern.
    pub pattern: Pattern,
    /// Notes, in the order of the file.
    pub warnings: Vec<CellNote>,
}

/// Reads a pattern file, or says all that is wrong with it. `file` is what
/// messages call it.
pub fn read_pattern(file: &str, bytes: &[u8]) -> Result<PatternReading, FileError> {
    let (pattern, warnings) = read_toml(file, bytes, KEYS, read_keys)?;
    Ok(PatternReading { pattern, warnings })
}

/// The same of a text that was typed.
pub fn read_typed_pattern(text: &str) -> Result<PatternReading, FileError> {
    read_pattern("the pattern", text.as_bytes())
}

fn read_keys(keys: &Keys<'_>) -> Option<Pattern> {
    let name = keys.name("pattern", "write `pattern = \"...\"`, its name");
    let purposes = names(Purpose::ALL.map(Purpose::name));
    let purpose = keys.needed("purpose", &purposes, cells::purpose);
    let fits = names(Fit::ALL.map(Fit::name));
    let fit = keys.needed("fit", &fits, cells::fit);
    let sizes = keys.each_named(
        "size",
        SIZE_KEYS,
        ("name", |size: &Size| &size.name),
        read_size,
    );
    let known = sizes.iter().flatten();
    let known: Vec<Name> = known.map(|size: &Size| size.name.clone()).collect();
    let mut first = Vec::new();
    let yarns = keys.each_named(
        "yarn",
        YARN_KEYS,
        ("key", |yarn: &PatternYarn| &yarn.key),
        |yarn| read_yarn(yarn, &known, &mut first),
    );
    let pattern = Pattern {
        gauge: read_gauge(keys),
        multiple: keys.printed("multiple"),
        care: keys.printed("care"),
        tolerance: keys.printed("tolerance"),
        margin_included: keys.yes_no("margin_included", cells::yes_no),
        notes: keys
            .text("notes")
            .map_or_else(String::new, |text| text.text),
        name: name?,
        purpose: purpose?.value,
        fit: fit?.value,
        sizes: sizes?,
        yarns: yarns?,
    };
    checked(pattern, keys)
}

/// The last word of the record itself.
fn checked(pattern: Pattern, keys: &Keys<'_>) -> Option<Pattern> {
    if !keys.is_sound() {
        return None;
    }
    let checked = pattern.checked();
    if let Err(error) = &checked {
        let allowed = "each size begins with a line `[[size]]`, each yarn with a line `[[yarn]]`";
        keys.fault_here(error.to_string(), allowed);
    }
    checked.ok()
}

fn names<const N: usize>(names: [&str; N]) -> String {
    let quoted: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
    format!("write {}", or_list(&quoted))
}

fn read_size(keys: &Keys<'_>) -> Option<Size> {
    let name = keys.name(
        "name",
        "write `name = \"M\"`, as the pattern calls the size",
    );
    Some(Size {
        width: keys.printed("width"),
        height: keys.printed("height"),
        cast_on: keys.whole("cast_on"),
        rows: keys.whole("rows"),
        name: name?,
    })
}

/// The yarn role, or `None` where something in it is bad; `first` are those before it
/// that another may be held together with.
fn read_yarn(keys: &Keys<'_>, sizes: &[Name], first: &mut Vec<Name>) -> Option<PatternYarn> {
    let key = keys.name("key", "name the yarn as the pattern does: A, B, MC, CC1");
    let reference = read_reference(keys);
    for found in contradictions(&reference) {
        keys.note(found);
    }
    let strands = keys.whole::<u8>("strands").unwrap_or(1);
    let held_with = match keys.has("held_with") {
        true => read_held_with(keys, first).map(Some),
        false => Some(None),
    };
    if let (Some(key), Some(None)) = (&key, &held_with) {
        first.push(key.clone());
    }
    let needs = read_needs(keys, &reference, sizes);
    Some(PatternYarn {
        key: key?,
        called: keys.text("called").map(|text| text.text),
        reference,
        strands,
        held_with: held_with?,
        needs: needs?,
    })
}

/// The key of a yarn before it.
fn read_held_with(keys: &Keys<'_>, first: &[Name]) -> Option<Name> {
    let known: Vec<String> = first.iter().map(|key| format!("`{key}`")).collect();
    let allowed = match known.as_slice() {
        [] => "put the yarn that it is held with above it".to_owned(),
        known => format!("write {}", or_list(known)),
    };
    let with = keys.name("held_with", &allowed)?;
    let is_known = first
        .iter()
        .any(|key| fold(key.as_str()) == fold(with.as_str()));
    if !is_known {
        let why = "this is the key of no yarn above";
        keys.fault("held_with", with.as_str(), why, allowed);
    }
    is_known.then_some(with)
}

fn read_reference(keys: &Keys<'_>) -> YarnFacts {
    let put_up = read_put_up(keys);
    let (construction, plies) = read_construction(keys);
    YarnFacts {
        class: keys.printed("class"),
        blend: keys.printed("fibre"),
        construction,
        plies,
        gauge: keys.printed("gauge"),
        needles: keys.printed("needle"),
        care: keys.printed("care"),
        price: keys.printed("price"),
        ..put_up
    }
}

/// Length, mass and count: from `put_up`, or from keys of their own.
fn read_put_up(keys: &Keys<'_>) -> YarnFacts {
    let whole = keys.value("put_up", cells::put_up);
    let own = YarnFacts {
        length: keys.printed("length"),
        mass: keys.printed("mass"),
        count: keys.printed("count"),
        ..YarnFacts::default()
    };
    let Some(whole) = whole else { return own };
    let twice = [
        (
            "length",
            whole.value.length.is_some() && own.length.is_some(),
        ),
        ("mass", whole.value.mass.is_some() && own.mass.is_some()),
        ("count", whole.value.count.is_some() && own.count.is_some()),
    ];
    for (key, _) in twice.into_iter().filter(|(_, twice)| *twice) {
        let why = "`put_up` says this already";
        keys.fault(key, "", why, "give it once");
    }
    YarnFacts {
        length: whole.value.length.or(own.length),
        mass: whole.value.mass.or(own.mass),
        count: whole.value.count.or(own.count),
        ..YarnFacts::default()
    }
}

fn read_construction(keys: &Keys<'_>) -> (Option<Printed<Construction>>, Option<u8>) {
    let built = keys.value("construction", cells::construction);
    let told = built.as_ref().and_then(|cell| cell.value.1);
    let plies = keys.whole::<u8>("plies");
    if let (Some(told), Some(plies)) = (told, plies)
        && told != plies
    {
        let why = format!("the construction says {told}");
        keys.fault("plies", &plies.to_string(), why, "say it once");
    }
    let construction = built.map(|cell| Printed::new(cell.text, cell.value.0));
    (construction, plies.or(told))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::{FlatOrRound, Need, Stitch};

    const WHOLE: &str = r#"
pattern = "Skerrablet"
purpose = "garment"
fit = "fitted"
gauge = "22 sts x 30 rows / 10 cm"
stitch = "stockinette"
worked = "in the round"
washed = true
multiple = "4 + 2"
care = "hand wash"
tolerance = "8 %"
margin_included = false
notes = "warm"

[[size]]
name = "S"
width = "93 cm"
cast_on = 204

[[size]]
name = "M"
width = "104 cm"
height = "60 cm"
rows = 180

[[yarn]]
key = "A"
called = "Thrumwick Yard, Grundlin DK"
put_up = "120 m / 50 g"
class = 3
fibre = "100% wool"
construction = "plied"
plies = 4
needle = "4 mm"
strands = 2
needs = "9 (10) skeins"
"#;

    fn pattern(text: &str) -> Pattern {
        match read_pattern("p.toml", text.as_bytes()) {
            Ok(reading) => reading.pattern,
            Err(error) => panic!("{error}"),
        }
    }

    fn faults(text: &str) -> Vec<String> {
        match read_pattern("p.toml", text.as_bytes()) {
            Err(FileError::Faults { faults, .. }) => {
                faults.iter().map(ToString::to_string).collect()
            }
            other => panic!("{other:?}"),
        }
    }

    /// The faults after `old` was replaced by `new` in a file without fault.
    fn faults_with(old: &str, new: &str) -> Vec<String> {
        assert!(WHOLE.contains(old), "{old}");
        faults(&WHOLE.replacen(old, new, 1))
    }

    #[test]
    fn a_whole_file_is_read() {
        let pattern = pattern(WHOLE);
        assert_eq!(pattern.name.as_str(), "Skerrablet");
        assert_eq!(
            (pattern.purpose, pattern.fit),
            (Purpose::Garment, Fit::Fitted)
        );
        let gauge = pattern.gauge.unwrap().value;
        assert_eq!(gauge.stitch, Some(Stitch::Stockinette));
        assert_eq!(
            (gauge.worked, gauge.washed),
            (Some(FlatOrRound::InTheRound), Some(true))
        );
        assert_eq!(pattern.multiple.unwrap().value.plus, 2);
        assert_eq!(pattern.margin_included, Some(false));
        assert_eq!(pattern.sizes[0].cast_on, Some(204));
        assert_eq!(pattern.sizes[1].rows, Some(180));
        let yarn = &pattern.yarns[0];
        assert_eq!((yarn.strands, yarn.reference.plies), (2, Some(4)));
        assert_eq!(yarn.reference.class.as_ref().unwrap().text, "3");
        assert_eq!(yarn.reference.grist().unwrap().as_metres_per_gram(), 2.4);
    }

    #[test]
    fn needs_in_one_line_get_a_text_of_their_own_each() {
        let yarn = &pattern(WHOLE).yarns[0];
        let texts: Vec<&str> = yarn.needs.iter().map(|need| need.text.as_str()).collect();
        assert_eq!(texts, ["9 skeins", "10 skeins"]);
        let Need::Skeins { count, skein } = yarn.needs[1].value else {
            panic!("{:?}", yarn.needs)
        };
        assert_eq!((count, skein.as_metres()), (10.0, 120.0));
    }

    #[test]
    fn one_amount_counts_for_every_size() {
        let text = WHOLE.replace("9 (10) skeins", "900 m");
        let needs = &pattern(&text).yarns[0].needs;
        assert_eq!(needs.len(), 2);
        assert_eq!(needs[0], needs[1]);
    }

    #[test]
    fn an_unknown_key_is_refused_with_the_near_one_and_its_place() {
        assert_eq!(
            faults_with("multiple", "mutliple"),
            ["line 9, character 1: `mutliple`: there is no such key; did you mean `multiple`?"]
        );
        let faults = faults_with("cast_on = 204", "zodiac = 1");
        assert!(
            faults[0].starts_with("line 18, character 1, size 1: `zodiac`"),
            "{faults:?}"
        );
        assert!(faults[0].contains("name, width, height, cast_on or rows"));
    }

    #[test]
    fn a_bad_value_is_told_with_line_key_and_what_is_allowed() {
        let faults = faults_with("\"93 cm\"", "\"wide\"");
        assert!(
            faults[0].starts_with("line 17, character 9, size 1, width: `wide`"),
            "{faults:?}"
        );
        let faults = faults_with("cast_on = 204", "cast_on = 0");
        assert!(faults[0].contains("size 1, cast_on: `0`"), "{faults:?}");
        let faults = faults_with("cast_on = 204", "cast_on = [1]");
        assert!(faults[0].contains("this is not text"), "{faults:?}");
    }

    #[test]
    fn all_that_is_wrong_is_told_at_once_in_the_order_of_the_file() {
        let text = WHOLE
            .replace("\"fitted\"", "\"snug as a bug\"")
            .replace("key = \"A\"\n", "")
            .replace("\"4 mm\"", "\"4 parsecs\"");
        let faults = faults(&text);
        assert_eq!(faults.len(), 3, "{faults:?}");
        assert!(faults[0].starts_with("line 4"), "{faults:?}");
        assert!(
            faults[1].contains("yarn 1: `key` is not given"),
            "{faults:?}"
        );
        assert!(faults[2].contains("yarn 1, needle"), "{faults:?}");
    }

    #[test]
    fn needs_must_be_as_many_as_sizes() {
        let faults = faults_with("9 (10) skeins", "9 (10, 11) skeins");
        assert!(
            faults[0].contains("it has 3 amounts for 2 sizes"),
            "{faults:?}"
        );
        let faults = faults_with("\"9 (10) skeins\"", "[\"9 skeins\"]");
        assert!(
            faults[0].contains("it has 1 amount for 2 sizes"),
            "{faults:?}"
        );
        let faults = faults_with("needs = \"9 (10) skeins\"", "");
        assert!(faults[0].contains("`needs` is not given"), "{faults:?}");
    }

    #[test]
    fn names_stand_once() {
        let faults = faults_with("name = \"M\"", "name = \"s\"");
        assert!(
            faults[0].contains("size 2, name: `s`: this name is there twice"),
            "{faults:?}"
        );
    }

    #[test]
    fn what_the_gauge_says_is_not_said_otherwise_beside_it() {
        let text = "22 sts x 30 rows / 10 cm in the round";
        let faults = faults(
            &WHOLE
                .replace("22 sts x 30 rows / 10 cm", text)
                .replace("worked = \"in the round\"", "worked = \"flat\""),
        );
        assert!(faults[0].contains("worked"), "{faults:?}");
        let faults = faults_with("gauge = \"22 sts x 30 rows / 10 cm\"", "");
        assert!(
            faults.iter().any(|f| f.contains("there is none")),
            "{faults:?}"
        );
    }

    #[test]
    fn what_is_no_toml_is_told_with_its_line() {
        let faults = faults_with("cast_on = 204", "cast_on 204");
        assert!(faults[0].starts_with("line 18"), "{faults:?}");
    }

    #[test]
    fn an_empty_file_is_told_what_it_lacks() {
        let faults = faults("");
        assert!(
            faults.iter().any(|f| f.contains("`pattern` is not given")),
            "{faults:?}"
        );
        assert!(
            faults.iter().any(|f| f.contains("`purpose` is not given")),
            "{faults:?}"
        );
    }

    #[test]
    fn a_pattern_without_sizes_or_yarns_is_refused() {
        let text = "pattern = \"x\"\npurpose = \"home\"\nfit = \"unfitted\"\n";
        assert!(faults(text)[0].contains("no size"));
    }
}
