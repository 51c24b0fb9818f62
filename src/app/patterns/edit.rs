//! A pattern as the text of its file, to be edited, and back.

use crate::{
    app::{AppError, KeptFields, RecordChange, Records},
    files::pattern_file::{read_typed_pattern, write_pattern},
    record::{Id, Pattern, Stored},
};

/// The field that holds the text of a pattern.
pub const PATTERN_TEXT: &str = "table";

/// The pattern with this number as the text of its file.
pub fn pattern_to_edit(records: &Records, number: i64) -> Result<KeptFields, AppError> {
    let pattern = records.store()?.reader()?.pattern(Id::new(number))?;
    let text = write_pattern(&pattern.record);
    Ok(KeptFields {
        version: pattern.version,
        title: pattern.record.name.to_string(),
        typed: [(PATTERN_TEXT, text)].into_iter().collect(),
    })
}

/// Keeps a new pattern, or changes one that was read at a version; gives its
/// number.
pub fn save_pattern(
    records: &mut Records,
    read: Option<(i64, i64)>,
    text: &str,
) -> Result<(i64, RecordChange), AppError> {
    let reading = read_typed_pattern(text)?;
    let pattern = reading.pattern;
    let number = records.store_mut()?.write(|writer| match read {
        None => writer.add_pattern(&pattern).map(Id::number),
        Some((number, version)) => writer
            .update_pattern(Id::new(number), version, &pattern)
            .map(|_| number),
    })?;
    let change = RecordChange::PatternKept {
        name: pattern.name.to_string(),
        notes: reading.warnings,
    };
    Ok((number, change))
}

/// One pattern to choose from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PatternChoice {
    /// Its number.
    pub number: i64,
    /// Its name.
    pub name: String,
    /// What it is for.
    pub purpose: &'static str,
    /// Its sizes in order.
    pub sizes: Vec<String>,
    /// Keys of its yarns.
    pub yarns: Vec<String>,
}

/// Every pattern, to choose from.
pub fn pattern_choices(records: &Records) -> Result<Vec<PatternChoice>, AppError> {
    let patterns = records.store()?.reader()?.patterns()?;
    Ok(patterns.iter().map(choice).collect())
}

/// The pattern with this number, where it is kept, as one of a list to choose
/// from.
pub fn pattern_choice(records: &Records, number: i64) -> Result<Vec<PatternChoice>, AppError> {
    let kept = records.store()?.reader()?.pattern(Id::new(number));
    match kept.map_err(AppError::from) {
        Ok(kept) => Ok(vec![choice(&kept)]),
        Err(gone) if gone.is_gone() => Ok(Vec::new()),
        Err(other) => Err(other),
    }
}

fn choice(kept: &Stored<Pattern>) -> PatternChoice {
    let pattern = &kept.record;
    let sizes = pattern.sizes.iter().map(|size| size.name.to_string());
    let yarns = pattern.yarns.iter().map(|yarn| yarn.key.to_string());
    PatternChoice {
        number: kept.id.number(),
        name: pattern.name.to_string(),
        purpose: pattern.purpose.name(),
        sizes: sizes.collect(),
        yarns: yarns.collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const PAD: &str = include_str!("../../../sample-stash/patterns/hobplate.toml");

    #[test]
    fn a_pattern_is_edited_as_text_and_the_second_editor_is_told() {
        let mut records = Records::in_memory().unwrap();
        let (number, _) = save_pattern(&mut records, None, PAD).unwrap();
        let read = pattern_to_edit(&records, number).unwrap();
        let edited = read.typed.text(PATTERN_TEXT).replace("110 m", "120 m");
        let at = Some((number, read.version));
        save_pattern(&mut records, at, &edited).unwrap();
        assert!(
            pattern_to_edit(&records, number)
                .unwrap()
                .typed
                .text(PATTERN_TEXT)
                .contains("120 m")
        );
        assert!(
            save_pattern(&mut records, at, &edited)
                .unwrap_err()
                .is_clash()
        );
        let choices = pattern_choices(&records).unwrap();
        assert_eq!(choices[0].sizes, ["one size"]);
        assert_eq!(pattern_choice(&records, number).unwrap(), choices);
        assert_eq!(pattern_choice(&records, number + 1).unwrap(), []);
    }
}
