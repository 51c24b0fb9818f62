//! One yarn for one pattern.

mod cover;
mod lines;
mod skeins_line;

pub use cover::CoverLine;
pub use lines::{EstimateLine, RoleHead};
pub use skeins_line::SkeinsLine;
pub(in crate::report) use skeins_line::{about_fewest, skeins_table};

use super::{
    Block, DepartureLine, NotJudgedLine, Page, Rail, RemedyLine, Render, Role, SWATCH_LINE, Style,
    SureLine, caution_text,
    gauge_change::GaugeChangeFields,
    judgement::{news, serialize_verdict, verdict_words},
    remark_sentence,
    sure::sure_part,
    working_sentences,
};
use crate::{
    app::{CheckAnswer, RoleAnswer},
    matching::Verdict,
    words::number,
};
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
    /// What another gauge than the pattern's does, where one was given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gauge_change: Option<GaugeChangeFields>,
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

impl Render for CheckAnswer {
    fn fields(&self) -> impl Serialize {
        CheckReport::new(self, &Style::default())
    }

    fn page(&self, style: &Style) -> Page {
        CheckReport::new(self, style).page(style)
    }
}

impl CheckReport {
    /// The fields of an answer, with texts in a style.
    pub fn new(answer: &CheckAnswer, style: &Style) -> Self {
        let notes = style.notes(&answer.notes).into_iter();
        let remarks = answer.remarks.iter();
        let mut report = Self {
            candidate: answer.candidate.title.clone(),
            pattern: answer.pattern.clone(),
            verdict: answer.verdict(),
            overall: answer.overall(),
            margin_percent: answer.margin.as_percent(),
            gauge_change: answer.gauge_change.as_ref().map(GaugeChangeFields::new),
            working: working_sentences(&answer.working, style),
            warnings: notes
                .chain(remarks.map(|remark| remark_sentence(remark, style)))
                .collect(),
            ..Self::default()
        };
        for role in &answer.roles {
            report.roles.push(RoleHead::new(answer, role, style));
            report.add(role, style);
        }
        report
    }

    fn add(&mut self, role: &RoleAnswer, style: &Style) {
        let (key, offered) = (role.key.as_str(), &role.offered);
        let judgement = &offered.judgement;
        let departures = judgement.departures.iter();
        self.departures
            .extend(departures.map(|found| DepartureLine::new(key, found, style)));
        let missing = judgement.not_judged.iter();
        self.not_judged
            .extend(missing.map(|found| NotJudgedLine::new(key, found, style)));
        let remedies = role.remedies.iter();
        self.remedies
            .extend(remedies.map(|found| RemedyLine::new(key, found, style)));
        for caution in judgement.cautions.iter().map(caution_text) {
            if !self.cautions.contains(&caution) {
                self.cautions.push(caution);
            }
        }
        let skeins = offered.skeins.iter();
        self.skeins
            .extend(skeins.map(|found| SkeinsLine::new(key, found)));
        let chances = offered.chances.iter();
        self.sure
            .extend(chances.map(|found| SureLine::new(key, found)));
        let estimates = role.estimates.iter();
        self.estimates
            .extend(estimates.map(|found| EstimateLine::new(key, found)));
        let cover = offered.cover.iter();
        self.cover
            .extend(cover.map(|found| CoverLine::new(key, found, style)));
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled(format!("{} for {}", self.candidate, self.pattern));
        for head in &self.roles {
            self.role(&mut page, head, style);
        }
        page.part("Cautions", Role::Caution, &self.cautions);
        page.part("Working", Role::Aside, &self.working);
        page.part("To know", Role::Caution, &self.warnings);
        page.section("Before you buy");
        page.text(Role::Plain, self.swatch);
        page
    }

    fn role(&self, page: &mut Page, head: &RoleHead, style: &Style) {
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
        self.departures(page, &head.yarn, style);
        self.not_judged(page, &head.yarn);
        self.remedies(page, &head.yarn);
        self.skeins(page, head, style);
        self.sure(page, &head.yarn);
        let estimates = self.estimates.iter().filter(|line| line.yarn == head.yarn);
        let estimates: Vec<String> = estimates.map(|line| line.sentence(style)).collect();
        page.part(
            "Skeins, estimated: the need is a mass and no length per mass is known",
            Role::Doubtful,
            &estimates,
        );
        let cover = self.cover.iter().filter(|line| line.yarn == head.yarn);
        let cover: Vec<String> = cover.map(|line| line.text.clone()).collect();
        page.part("From the stash, margin included", Role::Plain, &cover);
    }

    fn departures(&self, page: &mut Page, key: &str, style: &Style) {
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
            page.blocks.push(departure(line, style));
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

    fn skeins(&self, page: &mut Page, head: &RoleHead, style: &Style) {
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
        page.table(skeins_table(&lines, style));
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

fn departure(line: &DepartureLine, style: &Style) -> Block {
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
            style.rail(Rail {
                wanted,
                offered,
                tolerance,
                unit,
            }),
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
            gauge_change: None,
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
