//! A pattern from its materials paragraph: its text read into the fields of the form,
//! to be corrected there, or saved at once with what is said beside it.

use super::{
    AddPatternRequest,
    fields::{entered, need_field, size_field, sizes_of_form, yarn_field, yarns_of_form},
};
use crate::{
    app::{
        AppError, Fault, FaultKind, FormData, InputReader, QuestionFault, RecordChange, Records,
        input::filled,
        once::number_made,
        read::{facts_of, texts_of},
        skeins::size_name,
    },
    files::{CellNote, pattern_file::each_need},
    label::{
        cells,
        materials::{Materials, MaterialsYarn, read_materials},
        size_list::size_list,
    },
    measure::Length,
    record::{Id, Need, Printed, RecordError, YarnFacts},
    words::{fold, joined},
};

/// What was understood of a materials paragraph, each value in its field.
#[derive(Debug, Clone, Default)]
pub struct ReadMaterials {
    /// The fields of the pattern.
    pub typed: FormData,
    /// Notes, and what was not understood.
    pub notes: Vec<String>,
}

/// Reads a materials paragraph into the fields of a pattern.
pub fn read_pattern_text(name: &str, text: &str) -> Result<ReadMaterials, AppError> {
    let found = read_materials(text);
    let amounts: Vec<Vec<Amount>> = found.yarns.iter().map(amounts).collect();
    let mut typed = texts_of(YarnFacts {
        gauge: found.gauge.clone(),
        ..YarnFacts::default()
    })?;
    typed.set("name", name);
    typed.set(
        "purpose",
        found.purpose.map_or("", |purpose| purpose.name()),
    );
    typed.set("fit", found.fit.map_or("", |fit| fit.name()));
    let sizes = sizes(&found, &amounts);
    for (place, size) in (1..).zip(&sizes) {
        typed.set(&size_field(place, "name"), size);
    }
    typed.set(&yarn_field(1, "key"), "A");
    for ((place, yarn), amounts) in (1..).zip(&found.yarns).zip(&amounts) {
        fill_yarn(&mut typed, place, yarn)?;
        fill_needs(&mut typed, place, &sizes, amounts);
    }
    typed.set("notes", shades(&found.yarns, &typed));
    let notes = found.notes.into_iter().map(|note| note.message);
    Ok(ReadMaterials {
        typed,
        notes: notes.collect(),
    })
}

/// The shades of the yarns by their keys, which a pattern has no field for.
fn shades(yarns: &[MaterialsYarn], typed: &FormData) -> String {
    let shades = (1..).zip(yarns).filter_map(|(place, yarn)| {
        let key = typed.text(&yarn_field(place, "key"));
        let shade = yarn.band.shade.as_ref()?;
        Some(joined([key, "shade", shade], " "))
    });
    joined(shades, "; ")
}

/// The amount of one size, with the size where it is named.
type Amount = (Option<String>, Printed<Need>);

fn amounts(yarn: &MaterialsYarn) -> Vec<Amount> {
    let amount = yarn.band.amount.as_ref();
    amount.map_or_else(Vec::new, |amount| {
        each_amount(amount.text.trim_end_matches('.'), &yarn.band.facts)
    })
}

/// The amounts of a text, each with a text of its own. Where no skein is known they
/// are told apart all the same; what the skein lacks is a fault when they are saved.
fn each_amount(text: &str, facts: &YarnFacts) -> Vec<Amount> {
    let mut facts = facts.clone();
    if facts.skein_length().is_none() {
        facts.length = Length::metres(1.0).ok().map(|one| Printed::new("", one));
    }
    each_need(text, &facts)
}

/// Names of the sizes: as listed, else as the amounts name them, else counted.
fn sizes(found: &Materials, amounts: &[Vec<Amount>]) -> Vec<String> {
    let none = Vec::new();
    let longest = amounts.iter().max_by_key(|amounts| amounts.len());
    let longest = longest.unwrap_or(&none);
    if found.sizes.is_empty() {
        let count = longest.len().max(1);
        let named = |place: usize| longest.get(place).and_then(|(size, _)| size.as_deref());
        let names = (0..count).map(|place| size_name(named(place), place, count));
        return names.collect();
    }
    let missing = longest.len().saturating_sub(found.sizes.len());
    let missing = std::iter::repeat_n(String::new(), missing);
    found.sizes.iter().cloned().chain(missing).collect()
}

fn fill_yarn(typed: &mut FormData, place: usize, yarn: &MaterialsYarn) -> Result<(), AppError> {
    let facts = texts_of(yarn.band.facts.clone())?;
    for (field, text) in facts.iter() {
        typed.set(&yarn_field(place, field), text);
    }
    let letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ".chars();
    let letter = letters.skip(place - 1).map(String::from).next();
    let key = yarn
        .key
        .clone()
        .or(letter)
        .unwrap_or_else(|| place.to_string());
    typed.set(&yarn_field(place, "key"), key);
    if let Some(title) = &yarn.title {
        typed.set(
            &yarn_field(place, "maker"),
            title.maker.as_deref().unwrap_or(""),
        );
        typed.set(&yarn_field(place, "name"), title.name.as_str());
    }
    if let Some(with) = &yarn.held_with {
        typed.set(&yarn_field(place, "held-with"), with.as_str());
    }
    if let Some(strands) = yarn.band.strands_held {
        typed.set(&yarn_field(place, "strands"), strands.to_string());
    }
    Ok(())
}

/// An amount for each size: by its name, else in order; a single one for all.
fn fill_needs(typed: &mut FormData, yarn: usize, sizes: &[String], amounts: &[Amount]) {
    for (place, size) in sizes.iter().enumerate() {
        let of_name = amounts
            .iter()
            .find(|(name, _)| name.as_ref().is_some_and(|name| fold(name) == fold(size)));
        let amount = match (of_name, amounts) {
            (Some(amount), _) => Some(amount),
            (None, [one]) => Some(one),
            (None, all) => all.get(place),
        };
        if let Some((_, amount)) = amount {
            typed.set(&need_field(place + 1, yarn), amount.text.as_str());
        }
    }
}

/// Adds a pattern from its materials paragraph and what is said beside it.
pub fn add_pattern(
    records: &mut Records,
    request: &AddPatternRequest,
) -> Result<RecordChange, AppError> {
    let text = request.wants.as_deref().unwrap_or("");
    let mut read = read_pattern_text(&request.name, text)?;
    complete(&mut read.typed, request)?;
    let mut found = entered(&read.typed).map_err(with_options)?;
    let told = read
        .notes
        .into_iter()
        .map(|note| CellNote::new(None, "", note));
    found.notes = told.chain(std::mem::take(&mut found.notes)).collect();
    let all = [&request.name, text].into_iter().map(AsRef::as_ref);
    let what: Vec<&str> = ["add", "pattern"].into_iter().chain(all).collect();
    records.change_once(what, |writer, made| {
        let number = match number_made(made) {
            Some(number) => number,
            None => writer.add_pattern(&found.pattern).map(Id::number)?,
        };
        Ok((number.to_string(), found.clone().into()))
    })
}

/// The fields with what is said beside the text.
fn complete(typed: &mut FormData, request: &AddPatternRequest) -> Result<(), AppError> {
    for (field, text) in [
        ("purpose", &request.purpose),
        ("fit", &request.fit),
        ("margin-included", &request.margin_included),
    ] {
        if let Some(text) = filled(text) {
            typed.set(field, text);
        }
    }
    let named = filled(&request.sizes).map_or_else(Vec::new, size_list);
    for (place, size) in (1..).zip(&named) {
        typed.set(&size_field(place, "name"), size);
    }
    let mut reader = InputReader::default();
    for text in &request.needs {
        if let Some((yarn, amounts)) = read_amounts(&mut reader, typed, text) {
            put_amounts(typed, yarn, &amounts, !named.is_empty());
        }
    }
    reader.check()?;
    even(typed, &named)
}

/// The yarn that a text of amounts is for, and the amounts.
fn read_amounts(
    reader: &mut InputReader,
    typed: &FormData,
    text: &str,
) -> Option<(usize, Vec<Amount>)> {
    let keys = (1..=yarns_of_form(typed)).map(|yarn| typed.text(&yarn_field(yarn, "key")));
    let keys: Vec<&str> = keys.collect();
    let of_key = text.split_once([':', '=']).and_then(|(key, rest)| {
        let place = keys
            .iter()
            .position(|known| fold(known) == fold(key.trim()))?;
        Some((place + 1, rest.trim()))
    });
    let only = (keys.len() == 1).then_some((1, text));
    let Some((yarn, text)) = of_key.or(only) else {
        let fault = QuestionFault::NoSuchRole {
            pattern: typed.text("name").to_owned(),
            given: text
                .split([':', '='])
                .next()
                .unwrap_or(text)
                .trim()
                .to_owned(),
            keys: keys.iter().map(|key| (*key).to_owned()).collect(),
        };
        reader.fault("needs", fault);
        return None;
    };
    // What is wrong with the yarn itself is reported when the pattern is made.
    let said = typed.below(&yarn_field(yarn, ""));
    let facts = facts_of(&said, "", &mut InputReader::default()).unwrap_or_default();
    let amounts = each_amount(text, &facts);
    if amounts.is_empty() {
        reader.read("needs", cells::needs(text, &facts));
        return None;
    }
    Some((yarn, amounts))
}

/// Puts amounts in the places of their sizes; where no sizes are named they count them.
fn put_amounts(typed: &mut FormData, yarn: usize, amounts: &[Amount], are_sizes_named: bool) {
    let rows = sizes_of_form(typed).max(amounts.len());
    let was = typed.filled(&size_field(1, "name"));
    let counted = !are_sizes_named && rows > 1 && sizes_of_form(typed) == 1;
    let counted = counted && was.is_none_or(|name| name == size_name(None, 0, 1));
    let mut names = Vec::new();
    for place in 0..rows {
        let field = size_field(place + 1, "name");
        let own = amounts.get(place).and_then(|(size, _)| size.as_deref());
        if counted {
            typed.set(&field, size_name(own, place, rows));
        } else if !typed.has(&field) {
            typed.set(&field, "");
        }
        names.push(typed.text(&field).to_owned());
    }
    fill_needs(typed, yarn, &names, amounts);
}

/// Refuses amounts that are neither one for all sizes nor one for each.
fn even(typed: &FormData, named: &[String]) -> Result<(), AppError> {
    let rows = sizes_of_form(typed);
    let names = (1..=rows).filter(|size| typed.filled(&size_field(*size, "name")).is_some());
    let sizes = if named.is_empty() {
        names.count()
    } else {
        named.len()
    };
    for yarn in 1..=yarns_of_form(typed) {
        let given = (1..=rows).filter(|size| typed.filled(&need_field(*size, yarn)).is_some());
        let given = given.count();
        if given != 0 && (given != sizes || rows != sizes) {
            let key = typed.text(&yarn_field(yarn, "key")).to_owned();
            return Err(RecordError::NeedsPerSize { key, given, sizes }.into());
        }
    }
    Ok(())
}

/// Faults of fields under the options that fill them, each once.
fn with_options(error: AppError) -> AppError {
    let AppError::Faults(faults) = error else {
        return error;
    };
    let mut told: Vec<Fault> = Vec::new();
    for mut fault in faults {
        fault.field = option_of(&fault.field).to_owned();
        let is_told = |before: &Fault| {
            let is_missing = matches!(fault.kind, FaultKind::Missing | FaultKind::MissingAs(_));
            *before == fault || before.field == fault.field && is_missing
        };
        if !told.iter().any(is_told) {
            told.push(fault);
        }
    }
    AppError::Faults(told)
}

fn option_of(field: &str) -> &str {
    match field {
        "purpose" | "fit" | "margin-included" | "name" => field,
        field if field.starts_with("size-") && field.ends_with("-name") => "sizes",
        field if field.starts_with("size-") => "needs",
        _ => "wants",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::Pattern;

    /// Invented materials lines in forms that patterns print: common practice, no
    /// source.
    const LINES: [(&str, &[(&str, &str)]); 13] = [
        (
            "Umberlin DK (100% wool; 120 m / 50 g), 10 (11, 12, 14) balls; 22 sts and 30 rows to 10 cm on 4 mm; sizes S (M, L, XL)",
            &[
                ("yarn-1-key", "A"),
                ("yarn-1-name", "Umberlin DK"),
                ("yarn-1-length", "120 m"),
                ("yarn-1-mass", "50 g"),
                ("yarn-1-needle", "on 4 mm"),
                ("size-1-name", "S"),
                ("size-4-name", "XL"),
                ("size-1-yarn-1", "10 balls"),
                ("size-4-yarn-1", "14 balls"),
            ],
        ),
        (
            "MC: Umberlin DK (100% wool, 120 m/50 g), 5 (6, 7) balls. CC1: Hathrel DK (75% wool 25% nylon; 125 m/50 g), 1 (1, 2) balls. Sizes: 34 (36, 38) in",
            &[
                ("yarn-1-key", "MC"),
                ("yarn-2-key", "CC1"),
                ("yarn-2-name", "Hathrel DK"),
                ("size-2-name", "36 in"),
                ("size-3-yarn-1", "7 balls"),
                ("size-3-yarn-2", "2 balls"),
            ],
        ),
        (
            "Thrumwick Yard, Murrow Sock, 75% wool 25% nylon, 420 m/100 g, 1 skein, socks",
            &[
                ("yarn-1-maker", "Thrumwick Yard"),
                ("yarn-1-name", "Murrow Sock"),
                ("purpose", "socks"),
                ("size-1-name", "one size"),
                ("size-1-yarn-1", "1 skein"),
            ],
        ),
        (
            "Yarn A: Umberlin DK, 100% wool, 120 m/50 g, needs 600 m; Yarn B: Hathrel DK, 125 m/50 g, needs 200 m",
            &[
                ("yarn-1-key", "A"),
                ("yarn-2-key", "B"),
                ("yarn-2-length", "125 m"),
                ("size-1-yarn-1", "600 m"),
            ],
        ),
        (
            "Hathrel DK (125 m/50 g) 1200 (1300, 1400) m, sizes XS, S, M",
            &[
                ("size-1-name", "XS"),
                ("size-3-yarn-1", "1400 m"),
                ("size-3-name", "M"),
            ],
        ),
        (
            "Umberlin DK 120 m/50 g, needs 450 (500) g, 20-22 sts / 4 in, sizes small (large)",
            &[("size-1-yarn-1", "450 g"), ("size-2-name", "large")],
        ),
        (
            "120 m/50 g, 700 m in MC and 180 m in CC",
            &[("yarn-1-key", "MC"), ("yarn-2-key", "CC")],
        ),
        (
            "Umberlin DK (MC), 100% wool, 120 m/50 g, 5 balls; Hathrel DK (CC1), 125 m/50 g, 2 balls",
            &[("yarn-1-name", "Umberlin DK"), ("size-1-yarn-2", "2 balls")],
        ),
        (
            "Umberlin DK, 120 m/50 g, held double, 12 balls",
            &[("yarn-1-strands", "2"), ("size-1-yarn-1", "12 balls")],
        ),
        (
            "A: Kettrine Sock (75% wool, 25% nylon; 420 m/100 g), 1 (2) skeins. B: Mizzlet (70% mohair, 30% silk; 420 m/50 g), 1 (2) skeins, held together with A. 20 sts to 10 cm",
            &[
                ("yarn-2-held-with", "A"),
                ("size-2-yarn-2", "2 skeins"),
                ("yarn-1-held-with", ""),
            ],
        ),
        (
            "Kettrine Sock (75% wool, 25% nylon; 420 m / 100 g), 1 (2) skeins, held together with Mizzlet (70% mohair, 30% silk; 420 m / 50 g), 2 (3) balls. 20 sts x 28 rows / 10 cm",
            &[
                ("yarn-1-key", "A"),
                ("yarn-2-held-with", "A"),
                ("yarn-2-name", "Mizzlet"),
                ("size-2-yarn-2", "3 balls"),
            ],
        ),
        (
            "Yarn MC: Umberlin DK (120 m/50 g), 5 balls; yarn CC: Mizzlet (420 m/50 g), 1 ball. Hold 2 strands of MC and 1 strand of CC together throughout. 14 sts to 10 cm",
            &[
                ("yarn-2-held-with", "MC"),
                ("yarn-1-strands", "2"),
                ("size-1-yarn-2", "1 ball"),
            ],
        ),
        (
            "Umberlin DK (120 m/50 g), S (M, L): 5 (6, 7) balls",
            &[("size-2-name", "M"), ("size-2-yarn-1", "6 balls")],
        ),
    ];

    #[test]
    fn a_materials_line_fills_the_fields_that_it_says() {
        for (text, expected) in LINES {
            let read = read_pattern_text("Skerrablet", text).unwrap();
            for (field, value) in expected {
                assert_eq!(
                    read.typed.text(field),
                    *value,
                    "{field} of {text}\n{:?}",
                    read.typed
                );
            }
            assert_eq!(read.notes, [""; 0], "{text}");
        }
    }

    fn asked(text: &str) -> AddPatternRequest {
        AddPatternRequest {
            name: "Skerrablet".to_owned(),
            wants: Some(text.to_owned()),
            purpose: Some("garment".to_owned()),
            ..AddPatternRequest::default()
        }
    }

    fn added(request: &AddPatternRequest) -> Result<Pattern, AppError> {
        let mut records = Records::in_memory().unwrap();
        match add_pattern(&mut records, request)? {
            RecordChange::PatternEntered { pattern, .. } => Ok(*pattern),
            other => panic!("{other:?}"),
        }
    }

    fn needs(pattern: &Pattern, yarn: usize) -> Vec<&str> {
        pattern.yarns[yarn]
            .needs
            .iter()
            .map(|need| need.text.as_str())
            .collect()
    }

    fn sizes(pattern: &Pattern) -> Vec<&str> {
        pattern
            .sizes
            .iter()
            .map(|size| size.name.as_str())
            .collect()
    }

    #[test]
    fn sizes_and_amounts_may_stand_beside_the_text() {
        let text = "Umberlin DK (100% wool; 120 m / 50 g); 22 sts x 30 rows / 10 cm";
        let mut request = asked(text);
        request.sizes = Some("S, M, L".to_owned());
        request.needs = vec!["10, 11, 12 balls".to_owned()];
        let pattern = added(&request).unwrap();
        assert_eq!(sizes(&pattern), ["S", "M", "L"]);
        assert_eq!(needs(&pattern, 0), ["10 balls", "11 balls", "12 balls"]);
        request.sizes = None;
        let pattern = added(&request).unwrap();
        assert_eq!(sizes(&pattern), ["1", "2", "3"]);
        request.needs = vec!["900 m".to_owned()];
        request.sizes = Some("S (M)".to_owned());
        assert_eq!(needs(&added(&request).unwrap(), 0), ["900 m", "900 m"]);
    }

    #[test]
    fn amounts_of_several_yarns_are_given_by_key() {
        let mut request = asked("MC: 120 m/50 g, wool; CC1: 125 m/50 g; sizes S (M)");
        request.needs = vec!["cc1: 1, 2 balls".to_owned(), "MC: 5, 6 balls".to_owned()];
        let pattern = added(&request).unwrap();
        assert_eq!(needs(&pattern, 0), ["5 balls", "6 balls"]);
        assert_eq!(needs(&pattern, 1), ["1 balls", "2 balls"]);
        request.needs = vec!["5 balls".to_owned()];
        let Err(AppError::Faults(faults)) = added(&request) else {
            panic!("taken")
        };
        assert_eq!(faults[0].field, "needs");
    }

    #[test]
    fn what_is_lacking_is_told_by_option_once() {
        let mut request = asked("Umberlin DK, soft");
        request.purpose = None;
        request.sizes = Some("S, M".to_owned());
        let Err(AppError::Faults(faults)) = added(&request) else {
            panic!("taken")
        };
        let fields: Vec<&str> = faults.iter().map(|fault| fault.field.as_str()).collect();
        assert_eq!(fields, ["purpose", "needs"]);
        request = asked("120 m/50 g, 5 (6, 7) balls");
        request.sizes = Some("S, M".to_owned());
        assert!(matches!(
            added(&request),
            Err(AppError::Record(RecordError::NeedsPerSize {
                given: 3,
                sizes: 2,
                ..
            }))
        ));
    }
}
