//! A ball without a label, kept as a yarn: its length per mass with the range in which it
//! may lie, or the classes that its wraps allow; what was measured in its notes; what it
//! weighs in the stash. With its name found, it is edited like any yarn.

use super::{KeepBallRequest, MethodResult, UnlabelledRequest, measures};
use crate::{
    app::{
        AppError, InputReader, RecordChange, Records, StockLine, once::number_made, records::today,
        stock,
    },
    label::cells::{self, written},
    measure::{Grist, Interval, Mass},
    record::{Classes, Entry, EntryKind, Id, Lot, Name, Printed, StockAmount, Yarn, YarnFacts},
    store::Writer,
    words::joined,
};

/// Who makes what nobody knows the maker of.
const NO_MAKER: &str = "Unlabelled";

/// Keeps a ball as a yarn, with a lot of it where its weight is known.
pub fn keep_ball(
    records: &mut Records,
    request: &UnlabelledRequest,
    keep: &KeepBallRequest,
) -> Result<RecordChange, AppError> {
    let mut reader = InputReader::default();
    reader.must_fill("keep", &keep.keep);
    reader.check()?;
    let answer = measures(request)?;
    let text = |text: &Option<String>| text.as_deref().map_or("", str::trim).to_owned();
    let yarn = Yarn {
        maker: Name::maker(NO_MAKER)?,
        name: Name::yarn(&text(&keep.keep))?,
        facts: YarnFacts {
            mass: answer.net_grams.map(one_ball).transpose()?,
            ..facts(&answer.results)?
        },
        gtin: None,
        more_gtins: Vec::new(),
        low: None,
        shades: Vec::new(),
        discontinued: false,
        notes: joined(
            request.said().map(|(what, text)| joined([what, text], " ")),
            "; ",
        ),
    };
    let (shade, place) = (text(&keep.shade), text(&keep.place));
    let said = request.said().flat_map(|(what, text)| [what, text]);
    let what = ["keep", yarn.name.as_str(), &shade, &place];
    let what: Vec<&str> = what.into_iter().chain(said).collect();
    records.change_once(what, |writer, made| {
        let id = match number_made(made) {
            Some(number) => Id::new(number),
            None => {
                let id = writer.add_yarn(&yarn)?;
                if let Some(grams) = answer.net_grams {
                    let lot = Lot {
                        shade: shade.clone(),
                        place: place.clone(),
                        ..Lot::default()
                    };
                    writer.add_lot(id, &lot, &bought(grams)?)?;
                }
                id
            }
        };
        let change = RecordChange::BallKept {
            number: id.number(),
            yarn: Box::new(writer.yarn(id)?.record),
            line: line(writer, id)?.map(Box::new),
        };
        Ok((id.number().to_string(), change))
    })
}

/// What was measured as facts: a length per mass where one was, with its range; else the
/// classes that are possible.
fn facts(results: &[MethodResult]) -> Result<YarnFacts, AppError> {
    let width = |result: &MethodResult| {
        let grist = result.metres_per_gram?;
        Some((grist.high - grist.low) / grist.value)
    };
    let measured = results.iter().filter(|result| result.method.measures());
    let measured = measured.filter_map(|result| Some((width(result)?, result)));
    let best = measured.min_by(|(one, _), (other, _)| one.total_cmp(other));
    if let Some(grist) = best.and_then(|(_, result)| result.metres_per_gram) {
        let ends = [grist.value, grist.low, grist.high].map(Grist::metres_per_gram);
        let [value, low, high] = ends;
        let text = written::measured(value?, Interval::between(low?, high?)?);
        let read = cells::count(&text).ok();
        return Ok(YarnFacts {
            count: read.map(|read| Printed::new(text, read.value)),
            ..YarnFacts::default()
        });
    }
    let classes = results.iter().flat_map(|result| result.classes.clone());
    let classes = Classes::new(classes.collect());
    Ok(YarnFacts {
        class: classes.map(|classes| Printed::new(written::class(&classes), classes)),
        ..YarnFacts::default()
    })
}

/// The ball is all there is to count by.
fn one_ball(grams: f64) -> Result<Printed<Mass>, AppError> {
    let mass = Mass::grams(grams)?;
    Ok(Printed::new(written::mass(mass), mass))
}

fn bought(grams: f64) -> Result<Entry, AppError> {
    let amount = StockAmount::new(0.0, Some(Mass::grams(grams)?))?;
    Ok(Entry {
        kind: EntryKind::Bought,
        amount: Printed::new(amount.to_string(), amount),
        on: today(),
        notes: String::new(),
    })
}

/// The first lot of the yarn, where it has one.
fn line(writer: &Writer<'_>, yarn: Id<Yarn>) -> Result<Option<StockLine>, AppError> {
    let first = writer.lots_of(yarn)?.into_iter().next();
    first.map(|lot| stock::line(writer, lot)).transpose()
}
