//! A band or a materials line read, field by field, to be corrected.

use super::super::{AppError, FaultKind, FormData, InputReader};
use crate::{
    files::{
        CellNote,
        csv::{fact_columns, read_record, record_texts},
    },
    label::{
        band::{BandReading, Title, read_titled},
        reading::NoteKind,
    },
    record::{Name, Yarn, YarnFacts},
};

/// What was understood of a text, each value in its field.
#[derive(Debug, Clone, Default)]
pub struct ReadFields {
    /// The facts, by the names of [`fact_columns`].
    pub facts: FormData,
    /// `maker`, `name`, `gtin`, `shade`, `lot`, `need`, `strands`, `purpose`, `fit`: what is not
    /// said is empty.
    pub more: FormData,
    /// Notes, and what was not taken.
    pub notes: Vec<String>,
}

/// Reads a text into its fields. Written back by `facts_of` they mean the same.
pub fn read_fields(text: &str) -> Result<ReadFields, AppError> {
    let (title, band) = read_titled(text);
    let band = band.without_name(title.as_ref());
    Ok(ReadFields {
        facts: texts_of(band.facts.clone())?,
        more: more(&band, title.as_ref()),
        notes: band.notes().into_iter().map(|note| note.message).collect(),
    })
}

/// Facts as the texts of their fields; what is not known has none.
pub(in crate::app) fn texts_of(facts: YarnFacts) -> Result<FormData, AppError> {
    let known = record_texts(&nameless(facts)?).into_iter();
    Ok(known
        .filter(|(name, text)| is_fact(name) && text != UNKNOWN)
        .collect())
}

const UNKNOWN: &str = "unknown";

fn is_fact(name: &str) -> bool {
    fact_columns().any(|column| column.name == name)
}

fn more(band: &BandReading, title: Option<&Title>) -> FormData {
    let said = [
        ("maker", title.and_then(|title| title.maker.clone())),
        ("name", title.map(|title| title.name.clone())),
        ("gtin", band.gtin.as_ref().map(ToString::to_string)),
        ("shade", band.shade.clone()),
        ("lot", band.lot.clone()),
        (
            "need",
            band.amount.as_ref().map(|amount| amount.text.clone()),
        ),
        (
            "strands",
            band.strands_held.map(|strands| strands.to_string()),
        ),
        (
            "purpose",
            band.purpose.map(|purpose| purpose.name().to_owned()),
        ),
        ("fit", band.fit.map(|fit| fit.name().to_owned())),
    ];
    said.into_iter()
        .filter_map(|(name, text)| Some((name, text?)))
        .collect()
}

/// A yarn of these facts alone; its names are never shown.
fn nameless(facts: YarnFacts) -> Result<Yarn, AppError> {
    Ok(Yarn {
        maker: Name::maker("-")?,
        name: Name::yarn("-")?,
        facts,
        gtin: None,
        more_gtins: Vec::new(),
        low: None,
        shades: Vec::new(),
        discontinued: false,
        notes: String::new(),
    })
}

/// The facts that the fields say; an empty field is not known. Nothing where a
/// fault was found. `prefix` stands before the names of the fields.
pub(in crate::app) fn facts_of(
    typed: &FormData,
    prefix: &str,
    reader: &mut InputReader,
) -> Option<YarnFacts> {
    let read = read_record::<Yarn>(|column| match (column, typed.text(column).trim()) {
        ("maker" | "name", _) => "-",
        ("length" | "mass", "") => UNKNOWN,
        (column, text) if is_fact(column) => text,
        _ => "",
    });
    match read {
        Ok((yarn, notes)) => {
            reader.note("", notes.into_iter().filter_map(with_field));
            Some(yarn.facts)
        }
        Err(faults) => {
            for fault in faults {
                let field = format!("{prefix}{}", fault.field);
                reader.fault(&field, FaultKind::Cell(fault));
            }
            None
        }
    }
}

/// A sentence with the name of its field before it. What contradicts itself is found
/// again, and told, where the facts are used.
fn with_field(note: CellNote) -> Option<String> {
    match &note.kind {
        NoteKind::Text(text) => Some(note.placed(text)),
        NoteKind::Contradiction(_) => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_band_says_can_be_corrected_field_by_field() {
        let text =
            "50 g = 125 m, DK, 75% wool 25% nylon, 22 sts x 30 rows / 10 cm, 4 mm, hand wash";
        let mut read = read_fields(text).unwrap();
        assert_eq!(read.facts.text("length"), "125 m");
        let mut reader = InputReader::default();
        let facts = facts_of(&read.facts, "", &mut reader).unwrap();
        assert_eq!(facts, read_titled(text).1.facts);
        read.facts.set("length", "120 m");
        let facts = facts_of(&read.facts, "", &mut reader).unwrap();
        assert_eq!(facts.length.unwrap().value.as_metres(), 120.0);
    }

    #[test]
    fn a_bad_field_is_named_with_its_prefix() {
        let typed: FormData = [("mass", "heavy")].into_iter().collect();
        let mut reader = InputReader::default();
        assert!(facts_of(&typed, "offered-", &mut reader).is_none());
        let Err(AppError::Faults(faults)) = reader.check() else {
            panic!("taken")
        };
        assert_eq!(faults[0].field, "offered-mass");
    }
}
