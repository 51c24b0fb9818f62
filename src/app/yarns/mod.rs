//! Yarns: listed, shown, added, edited, merged, removed.

mod browse;
mod edit;
mod merge;
mod request;

pub use browse::{YarnFilter, YarnOrder, YarnQuery, browse_yarns};
pub use edit::{edit_yarn, save_yarn, yarn_to_edit};
pub use merge::{YarnsMerged, merge_yarn_numbered, merge_yarns};
pub use request::{AddYarnRequest, EditYarnRequest};

use super::{
    AppError, CouldBe, FaultKind, InputReader, ListedSwatch, RecordChange, Records, StockLine,
    once::number_made, question::lookup::yarn_in, swatches::listed_swatches, unlabelled::could_be,
};
use crate::{
    label::band::read_titled,
    record::{Id, Name, Printed, Stored, Yarn, YarnFacts, contradictions},
    store::{Found, Reader},
    trade::Colour,
};

/// One yarn of a list.
#[derive(Debug, Clone, PartialEq)]
pub struct ListedYarn {
    /// The yarn.
    pub yarn: Stored<Yarn>,
    /// Whether it was found by likeness to the text only.
    pub by_likeness: bool,
}

impl ListedYarn {
    fn new(yarn: Stored<Yarn>, found: Found) -> Self {
        Self {
            yarn,
            by_likeness: found == Found::ByLikeness,
        }
    }
}

/// Answer to [`list_yarns`].
#[derive(Debug, Clone)]
pub struct YarnList {
    /// What was looked for.
    pub text: Option<String>,
    /// What was found.
    pub yarns: Vec<ListedYarn>,
}

/// Kept yarns: all of them, or at most `limit` that `text` may mean.
pub fn list_yarns(
    records: &Records,
    text: Option<&str>,
    limit: usize,
) -> Result<YarnList, AppError> {
    let reader = records.store()?.reader()?;
    let mut yarns = Vec::new();
    match text {
        Some(text) => {
            let hits = reader.search_yarns(text, limit)?.into_iter();
            yarns.extend(hits.map(|hit| ListedYarn::new(hit.yarn, hit.found)));
        }
        None => reader.yarns(|yarn| {
            yarns.push(ListedYarn::new(yarn, Found::Exact));
            Ok::<(), AppError>(())
        })?,
    }
    Ok(YarnList {
        text: text.map(str::to_owned),
        yarns,
    })
}

/// At most `count` titles of yarns that `text`, which is still being typed, may mean,
/// best first.
pub fn suggest_yarns(records: &Records, text: &str, count: usize) -> Result<Vec<String>, AppError> {
    let hits = records.store()?.reader()?.suggest_yarns(text, count)?;
    Ok(hits
        .into_iter()
        .map(|hit| hit.yarn.record.title())
        .collect())
}

/// What is kept of one yarn itself.
#[derive(Debug, Clone)]
pub struct YarnAnswer {
    /// The yarn.
    pub yarn: Yarn,
    /// Shades of it that have a colour.
    pub colours: Vec<(String, Printed<Colour>)>,
    /// Which yarns it could be, where it is one without a label.
    pub could_be: Option<CouldBe>,
}

fn yarn_answer(reader: &Reader<'_>, yarn: Stored<Yarn>) -> Result<YarnAnswer, AppError> {
    Ok(YarnAnswer {
        colours: reader.colours_of(yarn.id)?,
        could_be: could_be(reader, &yarn)?,
        yarn: yarn.record,
    })
}

/// What is kept of one yarn, with its lots and its swatches.
pub fn show_yarn(records: &Records, text: &str) -> Result<YarnView, AppError> {
    yarn_view(&records.store()?.reader()?, records.yarn_named(text)?)
}

/// The number of the yarn of this name.
pub fn yarn_number(records: &Records, name: &str) -> Result<i64, AppError> {
    Ok(records.yarn_named(name)?.id.number())
}

/// Answer to [`show_yarn`]: a yarn with its lots and its swatches.
#[derive(Debug, Clone)]
pub struct YarnView {
    /// The yarn.
    pub yarn: YarnAnswer,
    /// Its lots.
    pub lots: Vec<StockLine>,
    /// Its swatches, also those in which it was held together with others.
    pub swatches: Vec<ListedSwatch>,
}

/// The yarn with this number, with its lots and its swatches.
pub fn view_yarn(records: &Records, number: i64) -> Result<YarnView, AppError> {
    let reader = records.store()?.reader()?;
    yarn_view(&reader, reader.yarn(Id::new(number))?)
}

fn yarn_view(reader: &Reader<'_>, yarn: Stored<Yarn>) -> Result<YarnView, AppError> {
    let lots = reader.lots_of(yarn.id)?.into_iter();
    Ok(YarnView {
        lots: lots
            .map(|lot| StockLine::new(reader, lot, &yarn.record))
            .collect::<Result<_, AppError>>()?,
        swatches: listed_swatches(reader, yarn.id)?,
        yarn: yarn_answer(reader, yarn)?,
    })
}

/// Keeps one yarn from the text of its band.
pub fn add_yarn(records: &mut Records, request: &AddYarnRequest) -> Result<RecordChange, AppError> {
    let (title, read) = read_titled(&request.band);
    let read = read.without_name(title.as_ref());
    let mut reader = InputReader::default();
    reader.band("band", &read);
    reader.note("band", read.beside_the_yarn());
    if read.facts == YarnFacts::default() {
        reader.fault("band", FaultKind::SaysNothing(request.band.clone()));
        reader.check()?;
    }
    let of_label = title.map_or_else(Default::default, |title| (title.maker, Some(title.name)));
    let own = |typed: &str| Some(typed.trim().to_owned()).filter(|typed| !typed.is_empty());
    let maker = own(&request.maker).or(of_label.0);
    let name = own(&request.name).or(of_label.1);
    reader.must_fill("maker", &maker);
    reader.must_fill("name", &name);
    let (maker, name) = reader.checked(maker.zip(name))?;
    let yarn = Yarn {
        maker: Name::maker(&maker)?,
        name: Name::yarn(&name)?,
        facts: read.facts,
        gtin: read.gtin,
        more_gtins: Vec::new(),
        low: None,
        shades: read.shade.into_iter().collect(),
        discontinued: false,
        notes: request.notes.trim().to_owned(),
    };
    reader.note("", contradictions(&yarn.facts));
    let AddYarnRequest {
        maker,
        name,
        band,
        notes,
    } = request;
    let what = ["add", "yarn", maker, name, band, notes];
    records.change_once(what, |writer, made| {
        let id = match number_made(made) {
            Some(number) => Id::new(number),
            None => writer.add_yarn(&yarn)?,
        };
        let yarn = Box::new(writer.yarn(id)?.record);
        let notes = reader.notes;
        let change = RecordChange::YarnKept { yarn, notes };
        Ok((id.number().to_string(), change))
    })
}

/// Removes a yarn that no lot and no swatch refers to.
pub fn remove_yarn(records: &mut Records, text: &str) -> Result<RecordChange, AppError> {
    records.change_once(["remove", "yarn", text], |writer, made| {
        let title = match made {
            Some(title) => title.to_owned(),
            None => {
                let yarn = yarn_in(writer, text)?.yarn;
                writer.remove_yarn(yarn.id)?;
                yarn.record.title()
            }
        };
        Ok((title.clone(), RecordChange::YarnRemoved { title }))
    })
}

/// Removes the yarn with this number, unless stock or a swatch refers to it.
pub fn remove_yarn_numbered(records: &mut Records, number: i64) -> Result<RecordChange, AppError> {
    records.store_mut()?.write(|writer| {
        let yarn = writer.yarn(Id::new(number))?;
        writer.remove_yarn(yarn.id)?;
        let title = yarn.record.title();
        Ok(RecordChange::YarnRemoved { title })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::{TableKind, import_table};

    fn shelf() -> Records {
        let mut records = Records::in_memory().unwrap();
        let yarns = include_str!("../../../sample-stash/yarns.csv");
        import_table(
            &mut records,
            TableKind::Yarns,
            "y",
            yarns.as_bytes(),
            false,
            |_| (),
        )
        .unwrap();
        let stock = include_str!("../../../sample-stash/stock.csv");
        import_table(
            &mut records,
            TableKind::Stock,
            "s",
            stock.as_bytes(),
            false,
            |_| (),
        )
        .unwrap();
        records
    }

    #[test]
    fn the_pages_of_a_list_hold_every_entry_once() {
        let records = shelf();
        let mut numbers = Vec::new();
        loop {
            let page = browse_yarns(&records, &YarnQuery::text(""), numbers.len(), 25).unwrap();
            numbers.extend(page.entries.iter().map(|entry| entry.yarn.id.number()));
            if !page.more {
                break;
            }
        }
        let seen: std::collections::BTreeSet<i64> = numbers.iter().copied().collect();
        assert_eq!((numbers.len(), seen.len()), (61, 61));
    }

    #[test]
    fn a_misspelt_name_is_suggested_and_marked_in_the_list() {
        let records = shelf();
        assert!(
            suggest_yarns(&records, "Umberlin", 5)
                .unwrap()
                .iter()
                .any(|t| t.contains("Umberlin"))
        );
        let found = browse_yarns(&records, &YarnQuery::text("Umbrelin"), 0, 5).unwrap();
        assert!(found.entries[0].yarn.record.title().contains("Umberlin"));
        assert!(found.entries[0].by_likeness);
    }
}
