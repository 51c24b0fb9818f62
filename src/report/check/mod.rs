//! One yarn for one pattern.

mod lines;
mod skeins_line;

pub use lines::{CoverLine, EstimateLine, RoleHead};
pub use skeins_line::SkeinsLine;
pub(in crate::report) use skeins_line::{about_fewest, skeins_table};

use super::{
    Block, DepartureLine, NotJudgedLine, Page, Rail, RemedyLine, Report, Role, SWATCH_LINE,
    SureLine,
    judgement::{news, serialize_verdict, verdict_words},
    sure::sure_part,
};
use crate::{matching::Verdict, words::number};
use serde::Serialize;

/// Answer to `check`: one yarn for one or more yarn roles of a pattern. `yarn`
/// in each line is the key of the role.
#[derive(Debug, Clone, Serialize)]
pub struct CheckReport {
    /// The candidate, as people call it.
    pub candidate: String,
    /// The pattern, as people call it.
    pub pattern: String,
    /// The weakest verdict of all roles, in its words.
    #[serde(serialize_with = "serialize_verdict")]
    pub verdict: Verdict,
    /// The largest overall departure of all roles, in tolerances.
    pub overall: Option<f64>,
    /// What each role asks and gets.
    pub roles: Vec<RoleHead>,
    /// Departures that were judged.
    pub departures: Vec<DepartureLine>,
    /// What could not be judged.
    pub not_judged: Vec<NotJudgedLine>,
    /// What would bring it within.
    pub remedies: Vec<RemedyLine>,
    /// Cautions.
    pub cautions: Vec<String>,
    /// Margin bought beyond the need, %.
    pub margin_percent: f64,
    /// Skeins for each size and role.
    pub skeins: Vec<SkeinsLine>,
    /// The chance of running out, where it was asked for.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub sure: Vec<SureLine>,
    /// What needs stated as a mass alone may come to; several readings, never one.
    pub estimates: Vec<EstimateLine>,
    /// What the lots in stock do for it.
    pub cover: Vec<CoverLine>,
    /// How the answer was come by, a sentence each.
    pub working: Vec<String>,
    /// What to know about what was read.
    pub warnings: Vec<String>,
    /// The line that ends every answer.
    pub swatch: &'static str,
}

impl Report for CheckReport {
    fn page(&self) -> Page {
        let mut page = Page::titled(format!("{} for {}", self.candidate, self.pattern));
        for head in &self.roles {
            self.role(&mut page, head);
        }
        page.part("Cautions", Role::Caution, &self.cautions);
        page.part("Working", Role::Aside, &self.working);
        page.part("To know", Role::Caution, &self.warnings);
        page.section("Before you buy");
        page.text(Role::Plain, self.swatch);
        page
    }
}

impl CheckReport {
    fn role(&self, page: &mut Page, head: &RoleHead) {
        if self.roles.len() > 1 {
            page.section(format!("Yarn {}", head.yarn));
        }
        page.text(
            news(head.verdict),
            format!("Verdict: {}", verdict_words(head.verdict)),
        );
        page.items(Role::Plain, &head.reasons);
        page.text(Role::Plain, format!("Wanted: {}", head.wanted));
        page.text(Role::Plain, format!("Offered: {}", head.offered));
        self.departures(page, &head.yarn);
        self.not_judged(page, &head.yarn);
        self.remedies(page, &head.yarn);
        self.skeins(page, head);
        self.sure(page, &head.yarn);
        let estimates: Vec<String> = self
            .estimates
            .iter()
            .filter(|line| line.yarn == head.yarn)
            .map(EstimateLine::sentence)
            .collect();
        page.part(
            "Skeins, estimated: the need is a mass and no length per mass is known",
            Role::Doubtful,
            &estimates,
        );
        let cover: Vec<String> = self
            .cover
            .iter()
            .filter(|line| line.yarn == head.yarn)
            .map(|line| line.text.clone())
            .collect();
        page.part("From the stash, margin included", Role::Plain, &cover);
    }

    fn departures(&self, page: &mut Page, key: &str) {
        let lines: Vec<&DepartureLine> = self
            .departures
            .iter()
            .filter(|line| line.yarn == key)
            .collect();
        if lines.is_empty() {
            return;
        }
        page.section("How far it lies from the pattern, in tolerances (0 the same, 1 the edge)");
        for line in lines {
            page.blocks.push(departure(line));
            page.items(Role::Aside, &line.notes);
        }
    }

    fn not_judged(&self, page: &mut Page, key: &str) {
        let lines = self.not_judged.iter().filter(|line| line.yarn == key);
        let items: Vec<String> = lines
            .map(|line| format!("{}: {}; {}", line.criterion, line.why, line.measure))
            .collect();
        page.part("Could not be judged", Role::Plain, &items);
    }

    fn remedies(&self, page: &mut Page, key: &str) {
        let lines = self.remedies.iter().filter(|line| line.yarn == key);
        let items: Vec<String> = lines.map(RemedyLine::sentence).collect();
        page.part("What would help", Role::Plain, &items);
    }

    fn skeins(&self, page: &mut Page, head: &RoleHead) {
        let lines: Vec<SkeinsLine> = self
            .skeins
            .iter()
            .filter(|line| line.yarn == head.yarn)
            .cloned()
            .collect();
        if lines.is_empty() {
            return;
        }
        let strands = match head.strands {
            1 => String::new(),
            n => format!(" with {n} strands held together"),
        };
        page.section(format!(
            "Skeins{strands}, margin {} %",
            number(self.margin_percent, 1)
        ));
        page.table(skeins_table(&lines));
        if let Some(told) = about_fewest(&lines) {
            page.text(Role::Aside, told);
        }
    }

    fn sure(&self, page: &mut Page, key: &str) {
        let lines: Vec<SureLine> = self
            .sure
            .iter()
            .filter(|line| line.yarn == key)
            .cloned()
            .collect();
        if let Some((head, table)) = sure_part(&lines) {
            page.section(head);
            page.table(table);
        }
    }
}

fn departure(line: &DepartureLine) -> Block {
    let words = format!(
        "{} {}: wanted {}, offered {}, tolerance {}",
        line.criterion,
        number(line.departure, 2),
        line.wanted,
        line.offered,
        line.tolerance
    );
    let numbers = line
        .wanted_number
        .zip(line.offered_number)
        .zip(line.tolerance_number)
        .zip(line.unit);
    match numbers {
        Some((((wanted, offered), tolerance), unit)) => Block::Rail(
            words,
            Rail {
                wanted,
                offered,
                tolerance,
                unit,
            },
        ),
        None => Block::Text(Role::Plain, words),
    }
}

impl Default for CheckReport {
    fn default() -> Self {
        Self {
            candidate: String::new(),
            pattern: String::new(),
            verdict: Verdict::CannotSay,
            overall: None,
            roles: Vec::new(),
            departures: Vec::new(),
            not_judged: Vec::new(),
            remedies: Vec::new(),
            cautions: Vec::new(),
            margin_percent: 0.0,
            skeins: Vec::new(),
            sure: Vec::new(),
            estimates: Vec::new(),
            cover: Vec::new(),
            working: Vec::new(),
            warnings: Vec::new(),
            swatch: SWATCH_LINE,
        }
    }
}
