//! The best candidates of the catalogue or of the stash.

use super::{
    Align, CoverLine, Page, Render, Role, SWATCH_LINE, Style, SureLine, Table, caution_text,
    facts_words::facts_in_style,
    judgement::{news, serialize_verdict, verdict_words},
    reason_sentences, remedy_text, sizes_as_patterns_write_them,
    sure::sure_sentence,
    working_sentences,
};
use crate::{
    app::{CandidateAnswer, FindAnswer, Source},
    matching::{Criterion, Verdict},
    measure::Grist,
    words::{and_list, count_of, number},
};
use serde::Serialize;

/// Answer to `find`.
#[derive(Debug, Clone, Serialize)]
pub struct FindReport {
    /// The pattern, as people call it.
    pub pattern: String,
    /// Key of the role that was asked about.
    pub yarn: String,
    /// What that role wants, in words.
    pub wanted: String,
    /// `catalogue` or `stash`.
    pub from: &'static str,
    /// Tolerance on grist, in words.
    pub tolerance: String,
    /// The size that the skeins are for; all sizes where it is `null`.
    pub size: Option<String>,
    /// Margin bought beyond the need, %.
    pub margin_percent: f64,
    /// How many yarns were judged in full.
    pub judged: u64,
    /// How many more there are, which were passed over because they lie too far
    /// off for a place in these lists.
    pub passed_over: u64,
    /// The best, in order.
    pub candidates: Vec<CandidateLine>,
    /// Yarns without a length per mass, judged by gauge alone.
    pub without_grist: Vec<CandidateLine>,
    /// Cautions that hold for every candidate.
    pub cautions: Vec<String>,
    /// How the answer was come by.
    pub working: Vec<String>,
    /// What to know about what was read.
    pub warnings: Vec<String>,
    /// The line that ends every answer.
    pub swatch: &'static str,
}

/// One candidate.
#[derive(Debug, Clone, Serialize)]
pub struct CandidateLine {
    /// The yarn, as `maker, name`.
    pub candidate: String,
    /// The verdict, in its words.
    #[serde(serialize_with = "serialize_verdict")]
    pub verdict: Verdict,
    /// Overall departure, in tolerances.
    pub overall: Option<f64>,
    /// Strands to hold, where more than one.
    pub strands: u8,
    /// m/100 g.
    pub m_per_100g: Option<f64>,
    /// Departure on grist, in tolerances.
    pub grist_departure: Option<f64>,
    /// Skeins of the asked size, or of each size in order.
    pub skeins: Vec<u32>,
    /// The chance of running out, where it was asked for.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub sure: Vec<SureLine>,
    /// Cost of those, where known.
    pub costs: Vec<String>,
    /// Whether the stash covers every size that was asked about, margin included.
    pub enough_in_stock: Option<bool>,
    /// What the stash does for it.
    pub cover: Option<String>,
    /// The weightiest reason, and what to do about it.
    pub reasons: Vec<String>,
    /// Cautions.
    pub cautions: Vec<String>,
    /// Whether it is no longer made.
    pub discontinued: bool,
}

impl Render for FindAnswer {
    fn fields(&self) -> impl Serialize {
        FindReport::new(self, &Style::default())
    }

    fn page(&self, style: &Style) -> Page {
        FindReport::new(self, style).page(style)
    }
}

impl FindReport {
    /// The fields of an answer, with texts in a style.
    pub fn new(answer: &FindAnswer, style: &Style) -> Self {
        let lines = |found: &[CandidateAnswer]| {
            let line = |found| CandidateLine::new(answer, found, style);
            found.iter().map(line).collect()
        };
        Self {
            pattern: answer.pattern.clone(),
            yarn: answer.role.clone(),
            wanted: facts_in_style(&answer.wanted.facts, answer.wanted.gauge.as_ref(), style),
            from: match answer.source {
                Source::Catalogue => "catalogue",
                Source::Stash => "stash",
            },
            tolerance: style.tolerance(answer.tolerance),
            size: answer.size.clone(),
            margin_percent: answer.margin.as_percent(),
            judged: answer.judged,
            passed_over: answer.passed_over,
            candidates: lines(&answer.candidates),
            without_grist: lines(&answer.without_grist),
            cautions: Vec::new(),
            working: working_sentences(&answer.working, style),
            warnings: style.notes(&answer.notes),
            swatch: SWATCH_LINE,
        }
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled(format!(
            "Yarns of the {} for {}, yarn {}",
            self.from, self.pattern, self.yarn
        ));
        page.text(
            Role::Plain,
            format!(
                "Wanted: {}. Tolerance on length per mass {}.",
                self.wanted, self.tolerance
            ),
        );
        page.text(Role::Aside, self.counted(style));
        self.list(&mut page, &self.candidates, style);
        if !self.without_grist.is_empty() {
            page.section("Without a length per mass, judged by gauge alone");
            self.list(&mut page, &self.without_grist, style);
        }
        page.part("Cautions", Role::Caution, &self.cautions);
        page.part("Working", Role::Aside, &self.working);
        page.part("To know", Role::Caution, &self.warnings);
        page.section("Before you buy");
        page.text(Role::Plain, self.swatch);
        page
    }

    fn counted(&self, style: &Style) -> String {
        let number_of = |count: u64| f64::from(u32::try_from(count).unwrap_or(u32::MAX));
        let yarns = count_of(number_of(self.judged), "yarn");
        let others = match self.passed_over {
            0 => String::new(),
            others => format!(
                ", {} more lie too far off for a place here",
                number(number_of(others), 0)
            ),
        };
        let of = match &self.size {
            Some(size) => format!("skeins for size {size}"),
            None => "skeins for each size in order".to_owned(),
        };
        let [unit, _] = style.ordered("m/100 g", "yd/lb");
        let strands = if self.candidates.iter().any(|line| line.strands > 1) {
            format!(" Overall and {unit} are those of one strand.")
        } else {
            String::new()
        };
        format!(
            "{yarns} judged{others}; departures in tolerances (0 the same, 1 the edge); {of}, margin {} %.{strands}",
            number(self.margin_percent, 1)
        )
    }

    fn list(&self, page: &mut Page, lines: &[CandidateLine], style: &Style) {
        let [unit, _] = style.ordered("m/100 g", "yd/lb");
        let mut table = Table::new(&[
            ("", Align::Right),
            ("yarn", Align::Left),
            ("overall", Align::Right),
            (unit, Align::Right),
            ("skeins", Align::Left),
            ("cost", Align::Right),
            ("in stock", Align::Left),
        ]);
        table.rows = lines
            .iter()
            .zip(1..)
            .map(|(line, place)| row(line, place, style))
            .collect();
        page.table(table);
        for (line, place) in lines.iter().zip(1..) {
            page.text(
                news(line.verdict),
                format!(
                    "{place} {}: {}",
                    line.candidate,
                    verdict_words(line.verdict)
                ),
            );
            page.items(Role::Plain, &line.sentences());
        }
    }
}

/// The number of a length per mass in the unit that comes first.
fn grist_number(m_per_100g: f64, style: &Style) -> String {
    let yards = Grist::metres_per_gram(m_per_100g / 100.0).map(Grist::as_yards_per_pound);
    let yards = yards.map_or(String::new(), |yards| number(yards, 0));
    let [first, _] = style.ordered(number(m_per_100g, 0), yards);
    first
}

impl CandidateLine {
    /// One candidate of an answer.
    fn new(answer: &FindAnswer, found: &CandidateAnswer, style: &Style) -> Self {
        let (judgement, candidate) = (&found.judgement, &found.candidate);
        let cover: Vec<CoverLine> = found
            .cover
            .iter()
            .map(|cover| CoverLine::new(&answer.role, cover, style))
            .collect();
        let skeins = found.skeins.iter();
        let costs = found
            .skeins
            .iter()
            .filter_map(|bought| bought.cost.as_ref());
        let chances = found.chances.iter();
        let grist = candidate.facts.grist();
        let remedy = found.first_remedy();
        Self {
            candidate: candidate.title.clone(),
            verdict: judgement.verdict,
            overall: judgement.overall,
            strands: found.plan.strands,
            m_per_100g: grist.map(Grist::as_metres_per_100_g),
            grist_departure: judgement
                .departure(Criterion::Grist)
                .map(|departure| departure.departure),
            skeins: skeins.map(|bought| bought.purchase.skeins).collect(),
            sure: chances
                .map(|chance| SureLine::new(&answer.role, chance))
                .collect(),
            costs: costs.map(ToString::to_string).collect(),
            enough_in_stock: (!cover.is_empty()).then(|| cover.iter().all(|line| line.covers)),
            cover: covered(answer.sizes, &cover),
            reasons: reason_sentences(judgement, style)
                .into_iter()
                .take(1)
                .chain(remedy.map(|remedy| remedy_text(remedy, style)))
                .collect(),
            cautions: judgement.cautions.iter().map(caution_text).collect(),
            discontinued: candidate.discontinued,
        }
    }

    fn sentences(&self) -> Vec<String> {
        self.reasons
            .iter()
            .cloned()
            .chain(sure_sentence(&self.sure))
            .chain(self.cover.clone())
            .chain(self.cautions.iter().cloned())
            .collect()
    }
}

fn row(line: &CandidateLine, place: usize, style: &Style) -> Vec<String> {
    let strands = match line.strands {
        1 => String::new(),
        n => format!(", {n} strands"),
    };
    let counts: Vec<String> = line.skeins.iter().map(u32::to_string).collect();
    vec![
        place.to_string(),
        format!("{}{strands}", line.candidate),
        line.overall.map(|d| number(d, 2)).unwrap_or_default(),
        line.m_per_100g
            .map_or(String::new(), |g| grist_number(g, style)),
        sizes_as_patterns_write_them(&counts),
        line.costs
            .first()
            .filter(|_| line.costs.len() == 1)
            .cloned()
            .unwrap_or_default(),
        match line.enough_in_stock {
            Some(true) => "enough".to_owned(),
            Some(false) => "too little".to_owned(),
            None => String::new(),
        },
    ]
}

/// The stash in one sentence: of one size its own, of several which are covered.
fn covered(sizes: usize, lines: &[CoverLine]) -> Option<String> {
    let covering = lines.iter().filter(|line| line.covers);
    let names: Vec<&str> = covering.map(|line| line.size.as_str()).collect();
    match (lines, names.len()) {
        ([], _) => None,
        ([one], _) => Some(one.text.clone()),
        (all, covered) if covered == all.len() => {
            Some("The stash covers every size, margin included.".to_owned())
        }
        (all, 0) => {
            let first = all.first();
            first.map(|line| format!("The stash covers no size. {}", line.text))
        }
        _ => Some(format!(
            "Of {sizes} sizes the stash covers {}, margin included.",
            and_list(&names)
        )),
    }
}
