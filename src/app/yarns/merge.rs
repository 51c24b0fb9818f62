//! Two yarns that are one, entered twice: what belongs to one goes to the other, which
//! keeps what it says and takes over what it does not.

use crate::{
    app::{
        AppError, FormData, RecordChange, Records, change::read_from_form, once::number_made,
        question::lookup::yarn_in,
    },
    files::csv::{YARN_COLUMNS, read_record, record_texts},
    label::cells::written,
    measure::{Length, Mass},
    record::{Id, Pin, Printed, Project, Stored, Yarn},
    store::Writer,
    trade::Gtin,
    words::{fold, joined},
};

/// What a merge of two yarns did.
#[derive(Debug, Clone, Default)]
pub struct YarnsMerged {
    /// The number of the yarn that stays.
    pub number: i64,
    /// What the one is called that is gone.
    pub gone: String,
    /// What the one is called that stays.
    pub kept: String,
    /// How many lots, swatches, projects and patterns are of the one that stays now.
    pub lots: usize,
    /// The same of swatches.
    pub swatches: usize,
    /// How many of these held both yarns, and are of several strands of one now.
    pub doubled: usize,
    /// The same of projects.
    pub projects: usize,
    /// The same of patterns that call for it.
    pub patterns: usize,
    /// Fields that the one that stays took over.
    pub filled: Vec<String>,
    /// Fields of which both said something: what stays, and what the other said.
    pub conflicts: Vec<(String, String, String)>,
}

/// What no table and no form knows: written where it is required and not known.
const UNKNOWN: &str = "unknown";

/// Merges the yarn that `from` names into the one that `into` names.
pub fn merge_yarns(
    records: &mut Records,
    from: &str,
    into: &str,
) -> Result<RecordChange, AppError> {
    records.change_once(["merge", "yarn", from, into], |writer, made| {
        let merged = match number_made(made) {
            Some(number) => made_before(writer, number)?,
            None => {
                let (from, into) = (yarn_in(writer, from)?.yarn, yarn_in(writer, into)?.yarn);
                merge(writer, &from, &into)?
            }
        };
        let number = merged.number.to_string();
        Ok((number, RecordChange::YarnsMerged(Box::new(merged))))
    })
}

/// Merges the yarn with this number into the one that `into` names.
pub fn merge_yarn_numbered(
    records: &mut Records,
    from: i64,
    into: &str,
) -> Result<(i64, RecordChange), AppError> {
    let merged = records.store_mut()?.write(|writer| {
        let (from, into) = (writer.yarn(Id::new(from))?, yarn_in(writer, into)?.yarn);
        merge(writer, &from, &into)
    })?;
    Ok((merged.number, RecordChange::YarnsMerged(Box::new(merged))))
}

fn made_before(writer: &Writer<'_>, number: i64) -> Result<YarnsMerged, AppError> {
    Ok(YarnsMerged {
        number,
        kept: writer.yarn(Id::new(number))?.record.title(),
        ..YarnsMerged::default()
    })
}

fn merge(
    writer: &Writer<'_>,
    from: &Stored<Yarn>,
    into: &Stored<Yarn>,
) -> Result<YarnsMerged, AppError> {
    if from.id == into.id {
        return Err(AppError::SameYarn(into.record.title()));
    }
    let (yarn, filled, conflicts) = both(&from.record, &into.record)?;
    writer.give_colours(from.id, into.id)?;
    writer.update_yarn(into.id, into.version, &yarn)?;
    let into = &Stored {
        record: yarn,
        ..into.clone()
    };
    let doubled = writer.swatches_naming(from.id)?.into_iter();
    let doubled = doubled.filter(|swatch| swatch.yarns().contains(&into.id));
    let merged = YarnsMerged {
        doubled: doubled.count(),
        number: into.id.number(),
        gone: from.record.title(),
        kept: into.record.title(),
        lots: give_lots(writer, from, into)?,
        swatches: writer.give_swatches(from.id, into.id)?,
        projects: give_pins(writer, from, into)?,
        patterns: rename_in_patterns(writer, &from.record, &into.record)?,
        filled,
        conflicts,
    };
    writer.remove_yarn(from.id)?;
    Ok(merged)
}

/// What both say together: what the one that stays does not say, it takes over.
#[expect(clippy::type_complexity, reason = "three parts of one answer")]
fn both(
    from: &Yarn,
    into: &Yarn,
) -> Result<(Yarn, Vec<String>, Vec<(String, String, String)>), AppError> {
    let texts = |yarn: &Yarn| record_texts(yarn).into_iter().collect::<FormData>();
    let (theirs, mut ours) = (texts(from), texts(into));
    let (mut filled, mut conflicts) = (Vec::new(), Vec::new());
    let of_label = YARN_COLUMNS.iter().map(|column| column.name);
    let apart = ["maker", "name", "notes", "shades", "gtin"];
    for name in of_label.filter(|name| !apart.contains(name)) {
        let (their, our) = (theirs.text(name).to_owned(), ours.text(name).to_owned());
        let is_said = |text: &str| !text.is_empty() && text != UNKNOWN;
        if !is_said(&their) || fold(&their) == fold(&our) {
            continue;
        }
        match is_said(&our) {
            true => conflicts.push((name.to_owned(), our, their)),
            false => {
                ours.set(name, their);
                filled.push(name.to_owned());
            }
        }
    }
    let shades = into.shades.iter().chain(&from.shades);
    let mut names: Vec<&String> = Vec::new();
    shades.for_each(|shade| {
        if !names.iter().any(|it| fold(it) == fold(shade)) {
            names.push(shade);
        }
    });
    ours.set("shades", joined(names, "|"));
    ours.set("notes", notes(from, into));
    let mut gtins: Vec<&Gtin> = into.gtins().collect();
    let new = from
        .gtins()
        .filter(|gtin| !into.gtins().any(|it| it == *gtin));
    let new: Vec<&Gtin> = new.collect();
    filled.extend((!new.is_empty()).then(|| "gtin".to_owned()));
    gtins.extend(new);
    ours.set("gtin", joined(gtins, "|"));
    let (yarn, _) = read_from_form(read_record::<Yarn>(|column| ours.text(column)))?;
    Ok((yarn, filled, conflicts))
}

/// The notes of both.
fn notes(from: &Yarn, into: &Yarn) -> String {
    let theirs = (!into.notes.contains(&from.notes)).then(|| from.notes.clone());
    let all = [Some(into.notes.clone()), theirs];
    let all = all.into_iter().flatten().filter(|text| !text.is_empty());
    joined(all, "; ")
}

fn give_lots(
    writer: &Writer<'_>,
    from: &Stored<Yarn>,
    into: &Stored<Yarn>,
) -> Result<usize, AppError> {
    let lots = writer.lots_of(from.id)?;
    for stock in &lots {
        let mut lot = stock.lot.record.clone();
        let there = writer.lot_named(into.id, &lot.shade, lot.lot.as_deref(), &lot.place)?;
        if let Some(there) = there {
            return Err(AppError::LotInBoth {
                title: lot.title(&into.record.title()),
                numbers: [stock.lot.id.number(), there.lot.id.number()],
            });
        }
        lot.weighed = lot
            .weighed
            .or_else(|| own_put_up(&from.record, &into.record));
        writer.give_lot(stock.lot.id, into.id, &lot)?;
    }
    Ok(lots.len())
}

/// The put-up that a lot needs for itself, where its yarn now says another one.
fn own_put_up(from: &Yarn, into: &Yarn) -> Option<Printed<(Mass, Option<Length>)>> {
    let mass = from.facts.skein_mass()?;
    let length = from.facts.skein_length();
    let is_same = into.facts.skein_mass() == Some(mass) && into.facts.skein_length() == length;
    let value = (mass, length);
    (!is_same).then(|| Printed::new(written::weighed(&value), value))
}

/// Pins of projects name the yarn that stays.
fn give_pins(
    writer: &Writer<'_>,
    from: &Stored<Yarn>,
    into: &Stored<Yarn>,
) -> Result<usize, AppError> {
    let is_of = |pin: &Pin| pin.yarn == from.id;
    let mut given = 0;
    for kept in writer.projects()? {
        if !kept.record.pins.iter().any(is_of) {
            continue;
        }
        let pins = kept.record.pins.iter().map(|pin| match is_of(pin) {
            false => pin.clone(),
            true => Pin {
                yarn: into.id,
                yarn_name: into.record.title(),
                ..pin.clone()
            },
        });
        let project = Project {
            pins: pins.collect(),
            ..kept.record.clone()
        };
        writer.update_project(kept.id, kept.version, &project)?;
        given += 1;
    }
    Ok(given)
}

/// Patterns that call for a yarn by a name that it has no longer call for the new one.
pub(super) fn rename_in_patterns(
    writer: &Writer<'_>,
    before: &Yarn,
    after: &Yarn,
) -> Result<usize, AppError> {
    let is_called = |yarn: &Yarn, called: &str| {
        [fold(&yarn.title()), fold(yarn.name.as_str())].contains(&fold(called))
    };
    let is_old =
        |called: &Option<String>| called.as_deref().is_some_and(|it| is_called(before, it));
    let still = |called: &Option<String>| called.as_deref().is_some_and(|it| is_called(after, it));
    let mut renamed = 0;
    for kept in writer.patterns()? {
        let mut pattern = kept.record.clone();
        for yarn in &mut pattern.yarns {
            if is_old(&yarn.called) && !still(&yarn.called) {
                yarn.called = Some(after.title());
            }
        }
        if pattern != kept.record {
            writer.update_pattern(kept.id, kept.version, &pattern)?;
            renamed += 1;
        }
    }
    Ok(renamed)
}
