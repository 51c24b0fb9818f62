//! The chance of running out: fields, table and sentence.

use super::{Align, Table, per_size::skeins_of_sizes};
use crate::{app::SizeChance, words::number};
use serde::Serialize;

/// Skeins that are sure enough for one size and role.
#[derive(Debug, Clone, Serialize)]
pub struct SureLine {
    /// The size.
    pub size: String,
    /// Key of the role.
    pub yarn: String,
    /// How sure was asked for, %.
    pub sure_percent: f64,
    /// The fewest skeins that are so sure.
    pub skeins: u32,
    /// Chance of running out with them, %.
    pub chance_percent: f64,
    /// The chance for counts about them.
    pub chances: Vec<ChanceLine>,
}

/// The chance of running out with so many skeins.
#[derive(Debug, Clone, Serialize)]
pub struct ChanceLine {
    /// So many.
    pub skeins: u32,
    /// The chance, %.
    pub chance_percent: f64,
}

impl SureLine {
    /// The chance for one role.
    pub fn new(key: &str, found: &SizeChance) -> Self {
        let about = found.about.iter();
        Self {
            size: found.size.clone(),
            yarn: key.to_owned(),
            sure_percent: found.sure.as_percent(),
            skeins: found.skeins,
            chance_percent: found.chance * 100.0,
            chances: about
                .map(|(skeins, chance)| ChanceLine {
                    skeins: *skeins,
                    chance_percent: chance * 100.0,
                })
                .collect(),
        }
    }
}

/// Head of the part, and its table.
pub(super) fn sure_part(lines: &[SureLine]) -> Option<(String, Table)> {
    let sure = number(lines.first()?.sure_percent, 2);
    let mut table = Table::new(&[
        ("size", Align::Left),
        ("skeins", Align::Right),
        ("chance of running out with so many", Align::Left),
    ]);
    table.rows = lines.iter().map(row).collect();
    Some((format!("To be {sure} % sure of enough"), table))
}

/// The same in one sentence, sizes in order; nothing where it was not asked for.
pub(super) fn sure_sentence(lines: &[SureLine]) -> Option<String> {
    let sure = number(lines.first()?.sure_percent, 2);
    let counts: Vec<String> = lines.iter().map(|line| line.skeins.to_string()).collect();
    let most = lines.iter().map(|line| line.chance_percent);
    let most = share(most.fold(0.0, f64::max));
    let at_most = if lines.len() > 1 { "at most " } else { "" };
    Some(format!(
        "To be {sure} % sure of enough: {}; chance of running out then {at_most}{most} %",
        skeins_of_sizes(&counts)
    ))
}

fn row(line: &SureLine) -> Vec<String> {
    let chances: Vec<String> = line
        .chances
        .iter()
        .map(|chance| format!("{}: {} %", chance.skeins, share(chance.chance_percent)))
        .collect();
    vec![
        line.size.clone(),
        line.skeins.to_string(),
        chances.join(", "),
    ]
}

/// Never a bare 0 or 100: a chance is not a promise.
fn share(percent: f64) -> String {
    match percent {
        p if p < 0.1 => "under 0.1".to_owned(),
        p if p > 99.9 => "over 99.9".to_owned(),
        p => number(p, 1),
    }
}
