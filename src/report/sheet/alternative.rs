//! One alternative of a materials sheet: fields, a row for people, cells for
//! programs, all from the same numbers.

use super::super::{
    Align, SkeinsLine, Style, Table, departure_in_short,
    judgement::{serialize_verdict, verdict_words},
    remedy_text, sizes_as_patterns_write_them,
};
use crate::{
    app::Alternative,
    matching::{Departure, Judgement, Verdict},
    measure::{Grist, Length, Mass, units::YARD_M},
    words::{and_list, number},
};
use serde::Serialize;

/// One yarn in place of one of the pattern's.
#[derive(Debug, Clone, Serialize)]
pub struct AlternativeLine {
    /// Key of the role.
    pub yarn: String,
    /// The alternative, as `maker, name`.
    pub candidate: String,
    /// What one skein of it is, in words.
    pub put_up: String,
    /// Strands to hold.
    pub strands: u8,
    /// Mass of one skein of the pattern's yarn, g.
    pub pattern_put_up_g: Option<f64>,
    /// Its length at that mass, m.
    pub m_per_pattern_put_up: Option<f64>,
    /// m/100 g.
    pub m_per_100g: Option<f64>,
    /// Skeins of each size, as patterns write them.
    pub counts: String,
    /// The same in detail.
    pub skeins: Vec<SkeinsLine>,
    /// The verdict, in its words.
    #[serde(serialize_with = "serialize_verdict")]
    pub verdict: Verdict,
    /// Overall departure, in tolerances.
    pub overall: Option<f64>,
    /// Where it departs and by how much, the farthest first.
    pub departs: Vec<String>,
    /// What to do, where something must be done.
    pub to_do: Option<String>,
    /// Whether it is no longer made.
    pub discontinued: bool,
}

impl AlternativeLine {
    /// An alternative, with texts in a style.
    pub(super) fn new(found: &Alternative, style: &Style) -> Self {
        let answer = &found.answer;
        let (judgement, candidate) = (&answer.judgement, &answer.candidate);
        let facts = &candidate.facts;
        let skeins = answer.skeins.iter();
        let skeins: Vec<SkeinsLine> = skeins.map(|s| SkeinsLine::new(&found.key, s)).collect();
        let counts: Vec<String> = skeins.iter().map(|line| line.skeins.to_string()).collect();
        let remedy = answer.first_remedy();
        Self {
            yarn: found.key.clone(),
            candidate: candidate.title.clone(),
            put_up: style.skein(facts.skein_length(), facts.skein_mass()),
            strands: answer.plan.strands,
            pattern_put_up_g: found.pattern_put_up.map(Mass::as_grams),
            m_per_pattern_put_up: found.length_at_put_up.map(Length::as_metres),
            m_per_100g: facts.grist().map(Grist::as_metres_per_100_g),
            counts: sizes_as_patterns_write_them(&counts),
            skeins,
            verdict: judgement.verdict,
            overall: judgement.overall,
            departs: departs(judgement, style),
            to_do: remedy.map(|remedy| remedy_text(remedy, style)),
            discontinued: candidate.discontinued,
        }
    }

    /// Verdict and departures in one sentence.
    pub(super) fn judged(&self) -> String {
        let departs = if self.departs.is_empty() {
            "no departure".to_owned()
        } else {
            self.departs.join(", ")
        };
        let gone = if self.discontinued {
            "; no longer made"
        } else {
            ""
        };
        format!(
            "{}: {}; {departs}{gone}",
            self.candidate,
            verdict_words(self.verdict)
        )
    }

    fn row(&self, style: &Style) -> Vec<String> {
        let strands = match self.strands {
            1 => String::new(),
            n => format!(", {n} strands"),
        };
        vec![
            format!("{}{strands}", self.candidate),
            self.put_up.clone(),
            both(self.m_per_pattern_put_up.or(self.m_per_100g), style),
            self.counts.clone(),
        ]
    }

    /// The cells for programs, in the order of [`columns`].
    pub(super) fn cells(&self, sizes: &[String]) -> Vec<String> {
        let mut cells = vec![
            self.yarn.clone(),
            self.candidate.clone(),
            self.put_up.clone(),
            self.strands.to_string(),
            self.pattern_put_up_g
                .map(|g| number(g, 1))
                .unwrap_or_default(),
            metres(self.m_per_pattern_put_up),
            metres(self.m_per_100g),
            yards(self.m_per_100g),
        ];
        cells.extend(sizes.iter().map(|size| {
            let line = self.skeins.iter().find(|line| line.size == *size);
            line.map(|line| line.skeins.to_string()).unwrap_or_default()
        }));
        cells.extend([
            verdict_words(self.verdict).to_owned(),
            self.overall
                .map(|overall| number(overall, 2))
                .unwrap_or_default(),
            self.departs.join(", "),
            self.to_do.clone().unwrap_or_default(),
            if self.discontinued { "yes" } else { "no" }.to_owned(),
        ]);
        cells
    }
}

/// Heads of the cells for programs: skeins of each size have a column.
pub(super) fn columns(sizes: &[String]) -> Vec<String> {
    let before = [
        "yarn",
        "alternative",
        "put-up",
        "strands",
        "pattern put-up g",
        "m per pattern put-up",
        "m per 100 g",
        "yd per 100 g",
    ];
    let after = ["verdict", "overall", "departs", "to do", "discontinued"];
    let own = |heads: &[&str]| {
        heads
            .iter()
            .map(|head| (*head).to_owned())
            .collect::<Vec<_>>()
    };
    let mut columns = own(&before);
    columns.extend(sizes.iter().map(|size| format!("skeins {size}")));
    columns.extend(own(&after));
    columns
}

/// The alternatives of one yarn for people, their lengths at the mass of the
/// pattern's put-up, `mass_g`, or at 100 g where that is not known.
pub(super) fn offered(lines: &[&AlternativeLine], mass_g: Option<f64>, style: &Style) -> Table {
    let at_mass = format!("per {} g", number(mass_g.unwrap_or(100.0), 1));
    let mut table = Table::new(&[
        ("alternative", Align::Left),
        ("skein", Align::Left),
        (&at_mass, Align::Right),
        ("skeins", Align::Left),
    ]);
    table.rows = lines.iter().map(|line| line.row(style)).collect();
    table
}

/// To a tenth of a metre: half a skein of 225 m is 112.5 m.
fn both(metres: Option<f64>, style: &Style) -> String {
    metres.map_or(String::new(), |metres| {
        let [first, second] = style.ordered(
            format!("{} m", number(metres, 1)),
            format!("{} yd", number(metres / YARD_M, 0)),
        );
        format!("{first} ({second})")
    })
}

fn metres(metres: Option<f64>) -> String {
    metres.map(|metres| number(metres, 1)).unwrap_or_default()
}

fn yards(metres: Option<f64>) -> String {
    metres
        .map(|metres| number(metres / YARD_M, 1))
        .unwrap_or_default()
}

/// Each criterion on which it departs, the farthest first, and what could not be
/// judged.
fn departs(judgement: &Judgement, style: &Style) -> Vec<String> {
    let departures = judgement.departures.iter();
    let mut far: Vec<&Departure> = departures.filter(|d| d.departure > 1e-9).collect();
    far.sort_by(|a, b| b.departure.total_cmp(&a.departure));
    let told = far
        .into_iter()
        .map(|departure| departure_in_short(departure, style));
    let missing = judgement.not_judged.iter();
    let missing: Vec<&str> = missing.map(|missing| missing.criterion().name()).collect();
    let missing = (!missing.is_empty()).then(|| format!("not judged: {}", and_list(&missing)));
    told.chain(missing).collect()
}
