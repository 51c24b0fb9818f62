//! Yarns: added one by one, listed, shown, removed, out as a table.

use super::{AppError, Records, heard::Heard};
use crate::{
    label::band::read_band,
    record::{Name, Yarn, contradictions},
    report::{Align, Listing, Notice, Table, facts_words},
    store::Found,
    words::number,
};
use serde::Serialize;

/// One yarn of a list.
#[derive(Debug, Serialize)]
pub struct YarnLine {
    /// Who makes it.
    pub maker: String,
    /// What it is called.
    pub name: String,
    /// Length per mass.
    pub m_per_100g: Option<f64>,
    /// Weight classes that it may have.
    pub weight_classes: Vec<u8>,
    /// Fibres, in words.
    pub blend: Option<String>,
    /// Whether it is no longer made.
    pub discontinued: bool,
    /// Whether it was found by likeness to the text only.
    pub by_likeness: bool,
}

impl YarnLine {
    fn of(yarn: &Yarn, by_likeness: bool) -> Self {
        Self {
            maker: yarn.maker.to_string(),
            name: yarn.name.to_string(),
            m_per_100g: yarn.facts.grist().map(|grist| grist.as_metres_per_100_g()),
            weight_classes: yarn
                .facts
                .class
                .iter()
                .flat_map(|class| class.value.as_slice())
                .map(|class| class.number())
                .collect(),
            blend: yarn
                .facts
                .blend
                .as_ref()
                .map(|blend| blend.value.to_string()),
            discontinued: yarn.discontinued,
            by_likeness,
        }
    }

    fn row(&self) -> Vec<String> {
        let classes: Vec<String> = self.weight_classes.iter().map(u8::to_string).collect();
        let remarks = [
            (self.discontinued, "no longer made"),
            (self.by_likeness, "only like what was typed"),
        ];
        let remarks: Vec<&str> = remarks
            .into_iter()
            .filter(|(holds, _)| *holds)
            .map(|(_, remark)| remark)
            .collect();
        vec![
            format!("{}, {}", self.maker, self.name),
            self.m_per_100g
                .map(|metres| number(metres, 0))
                .unwrap_or_default(),
            classes.join(" or "),
            self.blend.clone().unwrap_or_default(),
            remarks.join(", "),
        ]
    }
}

/// Kept yarns: all of them, or at most `limit` that `text` may mean.
pub fn list_yarns(
    records: &Records,
    text: Option<&str>,
    limit: usize,
) -> Result<Listing<YarnLine>, AppError> {
    let reader = records.store()?.reader()?;
    let mut rows = Vec::new();
    match text {
        Some(text) => {
            let hits = reader.search_yarns(text, limit)?;
            rows.extend(
                hits.iter()
                    .map(|hit| YarnLine::of(&hit.yarn.record, hit.found == Found::ByLikeness)),
            );
        }
        None => reader.yarns(|yarn| {
            rows.push(YarnLine::of(&yarn.record, false));
            Ok::<(), AppError>(())
        })?,
    }
    let mut table = Table::new(&[
        ("yarn", Align::Left),
        ("m/100 g", Align::Right),
        ("class", Align::Left),
        ("fibre", Align::Left),
        ("", Align::Left),
    ]);
    table.rows = rows.iter().map(YarnLine::row).collect();
    Ok(Listing {
        title: "Yarns".to_owned(),
        table,
        empty: match text {
            Some(text) => format!("No yarn is called anything like `{text}`."),
            None => "No yarn is kept yet: import a table with `import yarns FILE`, or add one with `yarn add`.".to_owned(),
        },
        rows,
        warnings: Vec::new(),
    })
}

/// What is kept of one yarn, and where its label contradicts itself.
pub fn show_yarn(records: &Records, text: &str) -> Result<Notice, AppError> {
    Ok(yarn_notice(&records.yarn_named(text)?.record))
}

/// What is kept of a yarn, as a notice.
pub(super) fn yarn_notice(yarn: &Yarn) -> Notice {
    let facts = &yarn.facts;
    let mut details = vec![("known".to_owned(), facts_words(facts, None))];
    macro_rules! printed {
        ($($field:ident $label:literal),*) => {$(
            if let Some(printed) = &facts.$field {
                details.push((format!("{} as printed", $label), printed.text.clone()));
            }
        )*};
    }
    printed!(length "length", mass "mass", count "count", class "class", blend "fibre", construction "construction", gauge "gauge", needles "needle", care "care", price "price");
    details.extend(
        yarn.gtin
            .iter()
            .map(|gtin| ("article number".to_owned(), gtin.to_string())),
    );
    if !yarn.shades.is_empty() {
        details.push(("shades".to_owned(), yarn.shades.join(", ")));
    }
    if !yarn.notes.is_empty() {
        details.push(("notes".to_owned(), yarn.notes.clone()));
    }
    let mut warnings = contradictions(facts);
    if yarn.discontinued {
        warnings.push("This yarn is no longer made.".to_owned());
    }
    Notice {
        done: yarn.title(),
        details,
        warnings,
    }
}

/// Keeps one yarn from the text of its band.
pub fn add_yarn(
    records: &mut Records,
    maker: &str,
    name: &str,
    band: &str,
    notes: &str,
) -> Result<Notice, AppError> {
    let read = read_band(band);
    let mut heard = Heard::default();
    heard.band("band", &read);
    if read.facts == crate::record::YarnFacts::default() {
        return Err(AppError::Usage(format!(
            "`{band}` says nothing of a yarn: write what its band says, as in `50 g = 125 m, 100% wool, DK`"
        )));
    }
    let yarn = Yarn {
        maker: Name::new("a maker", maker)?,
        name: Name::new("a yarn's name", name)?,
        facts: read.facts,
        gtin: read.gtin,
        shades: read.shade.into_iter().collect(),
        discontinued: false,
        notes: notes.trim().to_owned(),
    };
    records
        .store_mut()?
        .write(|writer| writer.add_yarn(&yarn).map_err(AppError::from))?;
    heard.warnings.extend(contradictions(&yarn.facts));
    Ok(Notice {
        done: format!("{} kept", yarn.title()),
        details: vec![("known".to_owned(), facts_words(&yarn.facts, None))],
        warnings: heard.warnings,
    })
}

/// Removes a yarn that no lot and no swatch refers to.
pub fn remove_yarn(records: &mut Records, text: &str) -> Result<Notice, AppError> {
    let yarn = records.yarn_named(text)?;
    records
        .store_mut()?
        .write(|writer| writer.remove_yarn(yarn.id).map_err(AppError::from))?;
    Ok(Notice {
        done: format!("{} removed", yarn.record.title()),
        ..Notice::default()
    })
}
