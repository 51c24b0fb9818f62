//! The best candidates of the catalogue or of the stash.

use super::{
    Align, Page, Report, Role, SWATCH_LINE, SureLine, Table,
    judgement::{news, serialize_verdict, verdict_words},
    sizes_as_patterns_write_them,
    sure::sure_sentence,
};
use crate::{
    matching::Verdict,
    words::{count_of, number},
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

impl Report for FindReport {
    fn page(&self) -> Page {
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
        page.text(Role::Aside, self.counted());
        self.list(&mut page, &self.candidates);
        if !self.without_grist.is_empty() {
            page.section("Without a length per mass, judged by gauge alone");
            self.list(&mut page, &self.without_grist);
        }
        page.part("Cautions", Role::Caution, &self.cautions);
        page.part("Working", Role::Aside, &self.working);
        page.part("To know", Role::Caution, &self.warnings);
        page.section("Before you buy");
        page.text(Role::Plain, self.swatch);
        page
    }
}

impl FindReport {
    fn counted(&self) -> String {
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
        let strands = match self.candidates.iter().any(|line| line.strands > 1) {
            true => " Overall and m/100 g are those of one strand.",
            false => "",
        };
        format!(
            "{yarns} judged{others}; departures in tolerances (0 the same, 1 the edge); {of}, margin {} %.{strands}",
            number(self.margin_percent, 1)
        )
    }

    fn list(&self, page: &mut Page, lines: &[CandidateLine]) {
        let mut table = Table::new(&[
            ("", Align::Right),
            ("yarn", Align::Left),
            ("overall", Align::Right),
            ("m/100 g", Align::Right),
            ("skeins", Align::Left),
            ("cost", Align::Right),
            ("in stock", Align::Left),
        ]);
        table.rows = lines
            .iter()
            .zip(1..)
            .map(|(line, place)| row(line, place))
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

impl CandidateLine {
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

fn row(line: &CandidateLine, place: usize) -> Vec<String> {
    let strands = match line.strands {
        1 => String::new(),
        n => format!(", {n} strands"),
    };
    let counts: Vec<String> = line.skeins.iter().map(u32::to_string).collect();
    vec![
        place.to_string(),
        format!("{}{strands}", line.candidate),
        line.overall.map(|d| number(d, 2)).unwrap_or_default(),
        line.m_per_100g.map(|g| number(g, 0)).unwrap_or_default(),
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

impl Default for FindReport {
    fn default() -> Self {
        Self {
            pattern: String::new(),
            yarn: String::new(),
            wanted: String::new(),
            from: "catalogue",
            tolerance: String::new(),
            size: None,
            margin_percent: 0.0,
            judged: 0,
            passed_over: 0,
            candidates: Vec::new(),
            without_grist: Vec::new(),
            cautions: Vec::new(),
            working: Vec::new(),
            warnings: Vec::new(),
            swatch: SWATCH_LINE,
        }
    }
}
