//! One yarn for one pattern.

use super::{Align, Block, Page, Rail, Report, Role, SWATCH_LINE, Table, metres_and_yards};
use crate::{
    measure::{Length, units::YARD_M},
    words::{count_of, number},
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
    /// The weakest verdict of all roles.
    pub verdict: &'static str,
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
    /// What the lots in stock do for it.
    pub cover: Vec<CoverLine>,
    /// How the answer was come by, a sentence each.
    pub working: Vec<String>,
    /// What to know about what was read.
    pub warnings: Vec<String>,
    /// The line that ends every answer.
    pub swatch: &'static str,
}

/// What one role asks and gets.
#[derive(Debug, Clone, Serialize)]
pub struct RoleHead {
    /// Key of the role.
    pub yarn: String,
    /// What the pattern says of its yarn.
    pub wanted: String,
    /// What is offered.
    pub offered: String,
    /// The verdict.
    pub verdict: &'static str,
    /// What kind of news that is.
    #[serde(skip)]
    pub role: Role,
    /// Overall departure, in tolerances.
    pub overall: Option<f64>,
    /// Why, the weightiest first.
    pub reasons: Vec<String>,
}

/// One departure.
#[derive(Debug, Clone, Serialize)]
pub struct DepartureLine {
    /// Key of the role.
    pub yarn: String,
    /// On what.
    pub criterion: &'static str,
    /// In tolerances: 0 the same, 1 at the edge.
    pub departure: f64,
    /// What is wanted, with its unit.
    pub wanted: String,
    /// What is offered, with its unit.
    pub offered: String,
    /// The tolerance used, with its unit.
    pub tolerance: String,
    /// The same as numbers of `unit`, where they are numbers.
    pub wanted_number: Option<f64>,
    /// See `wanted_number`.
    pub offered_number: Option<f64>,
    /// See `wanted_number`.
    pub tolerance_number: Option<f64>,
    /// Unit of the three numbers.
    pub unit: Option<&'static str>,
    /// Where values come from, what was assumed.
    pub notes: Vec<String>,
}

/// One criterion that could not be judged.
#[derive(Debug, Clone, Serialize)]
pub struct NotJudgedLine {
    /// Key of the role.
    pub yarn: String,
    /// Which.
    pub criterion: &'static str,
    /// Why not.
    pub why: String,
    /// What to measure or ask, and how.
    pub measure: String,
}

/// One remedy with the skeins that result.
#[derive(Debug, Clone, Serialize)]
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
#[derive(Debug, Clone, Serialize)]
pub struct ReworkLine {
    /// The size.
    pub size: String,
    /// Cast-on of the pattern.
    pub from_stitches: u32,
    /// Cast-on that keeps the width.
    pub to_stitches: u32,
}

/// Skeins of one size after a remedy.
#[derive(Debug, Clone, Serialize)]
pub struct RemedySkeins {
    /// The size.
    pub size: String,
    /// How many.
    pub skeins: u32,
}

/// Skeins of one size and role.
#[derive(Debug, Clone, Serialize)]
pub struct SkeinsLine {
    /// The size.
    pub size: String,
    /// Key of the role.
    pub yarn: String,
    /// Skeins to buy.
    pub skeins: u32,
    /// Skeins that might do, where the need is a range or was given in skeins.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fewest_skeins: Option<u32>,
    /// Strand metres needed, without the margin.
    pub need_m: f64,
    /// The lower end of the need, m.
    pub need_at_least_m: f64,
    /// Length bought, m.
    pub bought_m: f64,
    /// Left over, m: bought - need.
    pub left_over_m: f64,
    /// Left over, in skeins.
    pub left_over_skeins: f64,
    /// What one skein fewer would lack of the need, m; 0 where it would do and
    /// only the margin would suffer.
    pub one_fewer_lacks_m: f64,
    /// Cost, where the price is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cost: Option<String>,
}

impl SkeinsLine {
    /// What the table does not say: whether fewer might do.
    pub fn sentences(&self) -> Vec<String> {
        let metres = |m: f64| Length::metres(m).map(metres_and_yards).unwrap_or_default();
        let fewer = self
            .fewest_skeins
            .filter(|fewest| *fewest < self.skeins)
            .map(|fewest| {
                format!(
                    "Size {}: {} might do. The need lies between {} and {}; buy for the larger.",
                    self.size,
                    count_of(f64::from(fewest), "skein"),
                    metres(self.need_at_least_m),
                    metres(self.need_m),
                )
            });
        fewer.into_iter().collect()
    }
}

/// The skeins of several sizes as a table.
pub(super) fn skeins_table(lines: &[SkeinsLine]) -> Table {
    let mut table = Table::new(&[
        ("size", Align::Left),
        ("need m", Align::Right),
        ("yd", Align::Right),
        ("skeins", Align::Right),
        ("bought m", Align::Right),
        ("left m", Align::Right),
        ("yd", Align::Right),
        ("1 fewer lacks m", Align::Right),
        ("cost", Align::Right),
    ]);
    table.rows = lines.iter().map(skeins_row).collect();
    table
}

fn skeins_row(line: &SkeinsLine) -> Vec<String> {
    vec![
        line.size.clone(),
        number(line.need_m, 0),
        number(line.need_m / YARD_M, 0),
        line.skeins.to_string(),
        number(line.bought_m, 0),
        number(line.left_over_m, 0),
        number(line.left_over_m / YARD_M, 0),
        number(line.one_fewer_lacks_m, 0),
        line.cost.clone().unwrap_or_default(),
    ]
}

/// What the lots of one shade do for one size and role.
#[derive(Debug, Clone, Serialize)]
pub struct CoverLine {
    /// Key of the role.
    pub yarn: String,
    /// The size.
    pub size: String,
    /// The shade.
    pub shade: String,
    /// Whether what is free covers need and margin.
    pub covers: bool,
    /// Lots to use.
    pub lots: Vec<String>,
    /// Left over, m.
    pub left_over_m: Option<f64>,
    /// Missing, m.
    pub missing_m: Option<f64>,
    /// Skeins that would fill the gap.
    pub missing_skeins: Option<u32>,
    /// The same as a sentence.
    pub text: String,
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
            head.role,
            format!("{} {}", head.offered_name(&self.candidate), head.verdict),
        );
        page.items(Role::Plain, &head.reasons);
        page.text(Role::Plain, format!("Wanted: {}", head.wanted));
        page.text(Role::Plain, format!("Offered: {}", head.offered));
        self.departures(page, &head.yarn);
        self.not_judged(page, &head.yarn);
        self.remedies(page, &head.yarn);
        self.skeins(page, &head.yarn);
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
            .map(|line| format!("{}: {} {}", line.criterion, line.why, line.measure))
            .collect();
        page.part("Could not be judged", Role::Plain, &items);
    }

    fn remedies(&self, page: &mut Page, key: &str) {
        let lines = self.remedies.iter().filter(|line| line.yarn == key);
        let items: Vec<String> = lines
            .map(|line| format!("{}{}", line.text, skeins_then(&line.skeins)))
            .collect();
        page.part("What would help", Role::Plain, &items);
    }

    fn skeins(&self, page: &mut Page, key: &str) {
        let lines: Vec<SkeinsLine> = self
            .skeins
            .iter()
            .filter(|line| line.yarn == key)
            .cloned()
            .collect();
        if lines.is_empty() {
            return;
        }
        page.section(format!(
            "Skeins, margin {} %",
            number(self.margin_percent, 1)
        ));
        page.table(skeins_table(&lines));
        let fewer: Vec<String> = lines.iter().flat_map(SkeinsLine::sentences).collect();
        page.items(Role::Plain, &fewer);
    }
}

impl RoleHead {
    /// The candidate with a colon for the sentence that the verdict makes.
    fn offered_name(&self, candidate: &str) -> String {
        format!("{candidate}:")
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

fn skeins_then(skeins: &[RemedySkeins]) -> String {
    let counts: Vec<String> = skeins
        .iter()
        .map(|line| format!("{} for size {}", line.skeins, line.size))
        .collect();
    match counts.is_empty() {
        true => String::new(),
        false => format!(" Skeins then: {}.", counts.join(", ")),
    }
}

impl Default for CheckReport {
    fn default() -> Self {
        Self {
            candidate: String::new(),
            pattern: String::new(),
            verdict: "",
            overall: None,
            roles: Vec::new(),
            departures: Vec::new(),
            not_judged: Vec::new(),
            remedies: Vec::new(),
            cautions: Vec::new(),
            margin_percent: 0.0,
            skeins: Vec::new(),
            cover: Vec::new(),
            working: Vec::new(),
            warnings: Vec::new(),
            swatch: SWATCH_LINE,
        }
    }
}
