//! What would help, in words and as fields.

use crate::{
    app::RemedyAnswer,
    matching::{Remedy, Rework, Turn},
    measure::NeedleSize,
    report::Style,
    words::{count_of, number},
};
use schemars::JsonSchema;
use serde::Serialize;

/// One remedy with the skeins that result.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct RemedyLine {
    /// Key of the role.
    pub yarn: String,
    /// `hold strands`, `change needle`, `rework stitches` or `another size`.
    pub kind: &'static str,
    /// What to do, with numbers.
    pub text: String,
    /// Strands to hold, where that is the remedy.
    pub strands: Option<u8>,
    /// What the need is multiplied by.
    pub need_factor: f64,
    /// Stitch counts of each size, where they are reworked.
    pub counts: Vec<ReworkLine>,
    /// Skeins that result, for each size.
    pub skeins: Vec<RemedySkeins>,
}

/// Stitches of one size, before and after.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ReworkLine {
    /// The size.
    pub size: String,
    /// Cast-on of the pattern.
    pub from_stitches: u32,
    /// Cast-on that keeps the width.
    pub to_stitches: u32,
}

/// Skeins of one size after a remedy.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct RemedySkeins {
    /// The size.
    pub size: String,
    /// How many.
    pub skeins: u32,
}

impl RemedyLine {
    /// A remedy for one role.
    pub fn new(key: &str, answer: &RemedyAnswer, style: &Style) -> Self {
        let remedy = &answer.remedy;
        let skeins = answer.skeins.iter();
        Self {
            yarn: key.to_owned(),
            kind: kind(remedy),
            text: with_need(answer, style),
            strands: match remedy {
                Remedy::HoldStrands { strands, .. } => Some(*strands),
                _ => None,
            },
            need_factor: answer.need_factor,
            counts: counts(remedy),
            skeins: skeins
                .map(|bought| RemedySkeins {
                    size: bought.size.clone(),
                    skeins: bought.purchase.skeins,
                })
                .collect(),
        }
    }

    /// What to do, and the skeins then.
    pub(in crate::report) fn sentence(&self) -> String {
        let each: Vec<String> = self
            .skeins
            .iter()
            .map(|line| format!("{} for size {}", line.skeins, line.size))
            .collect();
        match self.skeins.as_slice() {
            [] => self.text.clone(),
            [one] => format!("{} Skeins then: {}.", self.text, one.skeins),
            _ => format!("{} Skeins then: {}.", self.text, each.join(", ")),
        }
    }
}

/// What to do, and what reworked counts do to the need.
fn with_need(answer: &RemedyAnswer, style: &Style) -> String {
    let text = remedy_text(&answer.remedy, style);
    match answer.remedy {
        Remedy::ReworkStitches { .. } | Remedy::AnotherSize { .. } => {
            format!(
                "{text} You need {} times the yarn.",
                number(answer.need_factor, 3)
            )
        }
        Remedy::HoldStrands { .. } | Remedy::ChangeNeedle { .. } => text,
    }
}

fn kind(remedy: &Remedy) -> &'static str {
    match remedy {
        Remedy::HoldStrands { .. } => "hold strands",
        Remedy::ChangeNeedle { .. } => "change needle",
        Remedy::ReworkStitches { .. } => "rework stitches",
        Remedy::AnotherSize { .. } => "another size",
    }
}

fn counts(remedy: &Remedy) -> Vec<ReworkLine> {
    let Remedy::ReworkStitches { counts, .. } = remedy else {
        return Vec::new();
    };
    let line = |count: &Rework| ReworkLine {
        size: count.size.clone(),
        from_stitches: count.from,
        to_stitches: count.to,
    };
    counts.iter().map(line).collect()
}

/// What to do, with its numbers.
pub fn remedy_text(remedy: &Remedy, style: &Style) -> String {
    match remedy {
        Remedy::HoldStrands {
            strands,
            grist,
            departure,
        } => format!(
            "Hold {strands} strands together: {} in all, {} times the limit from what is wanted. You need {strands} times as many metres.",
            style.grist(*grist),
            number(*departure, 2)
        ),
        Remedy::ChangeNeedle {
            turn,
            steps,
            from,
            to,
            expected_per_10_cm,
            wanted_per_10_cm,
        } => format!(
            "Go {} {} of needle{}: about {} stitches over 10 cm are expected and {} are wanted (one size shifts about one stitch; common practice).",
            match turn {
                Turn::Down => "down",
                Turn::Up => "up",
            },
            count_of(f64::from(*steps), "size"),
            needles(*from, *to),
            number(*expected_per_10_cm, 1),
            number(*wanted_per_10_cm, 1)
        ),
        Remedy::ReworkStitches { factor, counts } => format!(
            "Keep the yarn's own gauge and rework the stitch counts by {}{}.",
            number(*factor, 3),
            counted(counts)
        ),
        Remedy::AnotherSize {
            knit,
            instead_of,
            width_m,
            wanted_m,
            ..
        } => format!(
            "Work the counts of size {knit} to get size {instead_of}: {} cm come out where {} cm are wanted.",
            number(width_m * 100.0, 1),
            number(wanted_m * 100.0, 1)
        ),
    }
}

/// `, from 4 to 4.5 mm`, where both are known.
fn needles(from: Option<NeedleSize>, to: Option<NeedleSize>) -> String {
    let mm = |needle: NeedleSize| number(needle.as_millimetres(), 2);
    let both = from.zip(to);
    both.map_or(String::new(), |(from, to)| {
        format!(", from {} to {} mm", mm(from), mm(to))
    })
}

fn counted(counts: &[Rework]) -> String {
    let each: Vec<String> = counts
        .iter()
        .map(|count| {
            format!(
                "size {} {} to {} stitches",
                count.size, count.from, count.to
            )
        })
        .collect();
    if each.is_empty() {
        String::new()
    } else {
        format!(" ({})", each.join(", "))
    }
}
