//! What the lots of a candidate do for the needs of one role.

use super::{
    AppError,
    question::{
        Asked, Role,
        amounts::{Worked, bought, with_margin},
        candidate::{Candidate, LotHeld},
    },
    skeins::ONE_SIZE,
};
use crate::{
    quantity::{Cover, Shelf, cover},
    report::{CoverLine, metres_and_yards},
    words::{and_list, count_of, number},
};

/// One line a size: the best shade that no role before it has taken. Says so
/// where another shade would do too.
pub(super) fn cover_lines(
    asked: &Asked,
    role: &Role,
    candidate: &Candidate,
    how: Worked,
    taken: &[String],
) -> Result<Vec<CoverLine>, AppError> {
    let mut lines = Vec::new();
    for place in asked.places() {
        let Some(bought) = bought(asked, role, candidate, place, how)? else {
            continue;
        };
        let shelves = shelves(candidate, taken);
        let covers = cover(with_margin(&bought)?, &shelves, Some(bought.skein));
        let size = asked.sizes.get(place).cloned().unwrap_or_default();
        lines.extend(
            covers
                .first()
                .map(|best| line(role, size, best, &covers, candidate)),
        );
    }
    Ok(lines)
}

fn shelves(candidate: &Candidate, taken: &[String]) -> Vec<Shelf<usize>> {
    let lots = candidate.lots.iter().enumerate();
    lots.filter(|(_, held)| !taken.contains(&held.lot.shade))
        .filter_map(|(key, held)| {
            Some(Shelf {
                key,
                shade: held.lot.shade.clone(),
                holds: held.length(&candidate.facts)?,
            })
        })
        .collect()
}

fn line(
    role: &Role,
    size: String,
    best: &Cover<usize>,
    all: &[Cover<usize>],
    candidate: &Candidate,
) -> CoverLine {
    let lots: Vec<String> = best
        .lots
        .iter()
        .filter_map(|(key, length)| Some((candidate.lots.get(*key)?, *length)))
        .map(|(held, length)| format!("{}, {}", lot_words(held), metres_and_yards(length)))
        .collect();
    let others = all.iter().skip(1).filter(|cover| cover.covers()).count();
    CoverLine {
        yarn: role.key.clone(),
        text: sentence(&size, best, &lots, others),
        size,
        shade: best.shade.clone(),
        covers: best.covers(),
        lots,
        left_over_m: best.left_over_m,
        missing_m: best.missing_m,
        missing_skeins: best.missing_skeins,
    }
}

/// A lot as people find it: its number and where it lies.
fn lot_words(held: &LotHeld) -> String {
    let lot = held
        .lot
        .lot
        .as_deref()
        .map(|lot| format!("lot {lot}"))
        .unwrap_or_else(|| "an unnumbered lot".to_owned());
    let place = match held.lot.place.as_str() {
        "" => String::new(),
        place => format!(", {place}"),
    };
    format!("{} of {lot}{place}", held.usable)
}

fn sentence(size: &str, best: &Cover<usize>, lots: &[String], others: usize) -> String {
    let size = of_size(size);
    let shade = match best.shade.as_str() {
        "" => String::new(),
        shade => format!(" in {shade}"),
    };
    match (best.missing_m, lots.is_empty()) {
        (Some(_), true) => format!("{size}Nothing free{shade}."),
        (Some(missing), false) => {
            format!(
                "{size}Not enough{shade}: {}. {}.",
                and_list(lots),
                short(missing, best.missing_skeins)
            )
        }
        (None, _) => format!(
            "{size}Enough{shade}: {}; {} m left over.{}{}",
            and_list(lots),
            number(best.left_over_m.unwrap_or(0.0), 0),
            mixed(best),
            also(others)
        ),
    }
}

/// `Size M: `, or nothing where there is one size only.
fn of_size(size: &str) -> String {
    match size {
        ONE_SIZE => String::new(),
        size => format!("Size {size}: "),
    }
}

fn short(metres: f64, skeins: Option<u32>) -> String {
    let yards = number(metres / crate::measure::units::YARD_M, 0);
    let more = skeins.map(|skeins| format!(", {} more", count_of(f64::from(skeins), "skein")));
    format!(
        "Short by {} m ({yards} yd){}",
        number(metres, 0),
        more.unwrap_or_default()
    )
}

fn mixed(best: &Cover<usize>) -> &'static str {
    match best.is_mixed() {
        true => " Alternate skeins of the lots every few rows.",
        false => "",
    }
}

fn also(others: usize) -> String {
    match others {
        0 => String::new(),
        1 => " Another shade would do too.".to_owned(),
        n => format!(" {n} other shades would do too."),
    }
}
