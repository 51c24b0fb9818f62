//! The materials sheet of a pattern.

mod alternative;

pub use alternative::AlternativeLine;

use super::{
    Align, Page, Render, Role, SWATCH_LINE, Style, Table, caution_text,
    facts_words::material_words, gauge_words, judgement::news, per_size::skeins_of_sizes,
    remark_sentence, sizes_as_patterns_write_them, working_sentences,
};
use crate::{
    app::{Alternative, Material, SheetAnswer},
    measure::{Grist, Length, Mass},
    record::{Need, NeedRange, StatedGauge},
    words::{and_list, number},
};
use serde::Serialize;

/// What readers of a sheet must know before they swap.
const SUBSTITUTION_LINE: &str = "Buy by length, not by the number of balls or by grams: the counts hold for the put-ups given here. If yours holds another length, divide what your size needs, margin added, by it and round up.";

/// Answer to `sheet`.
#[derive(Debug, Clone, Serialize)]
pub struct SheetReport {
    /// The pattern.
    pub pattern: String,
    /// Its sizes, in order.
    pub sizes: Vec<String>,
    /// Its gauge, in words.
    pub gauge: Option<String>,
    /// Tolerance on length per mass, in words.
    pub tolerance: String,
    /// Margin bought beyond the need, %.
    pub margin_percent: f64,
    /// The pattern's own yarns.
    pub materials: Vec<MaterialLine>,
    /// What every size needs of each, without the margin.
    pub needs: Vec<NeedLine>,
    /// What else would do.
    pub alternatives: Vec<AlternativeLine>,
    /// Cautions.
    pub cautions: Vec<String>,
    /// What to know before swapping.
    pub substitution: &'static str,
    /// The line that ends every answer.
    pub swatch: &'static str,
    /// How the answer was come by.
    pub working: Vec<String>,
    /// What to know about what was read.
    pub warnings: Vec<String>,
}

/// One of the pattern's own yarns.
#[derive(Debug, Clone, Serialize)]
pub struct MaterialLine {
    /// Key of the role.
    pub yarn: String,
    /// The yarn of the sample, where the pattern names it.
    pub called: Option<String>,
    /// What it is, in both unit systems.
    pub text: String,
    /// Strands held together.
    pub strands: u8,
    /// Length of one skein, m.
    pub put_up_m: Option<f64>,
    /// Mass of one skein, g.
    pub put_up_g: Option<f64>,
    /// m/100 g.
    pub m_per_100g: Option<f64>,
    /// Skeins of each size as the pattern states them, where it does.
    pub stated_skeins: Vec<String>,
    /// Skeins of each size, margin included.
    pub skeins: Vec<u32>,
}

/// What every size needs of one yarn.
#[derive(Debug, Clone, Serialize)]
pub struct NeedLine {
    /// Key of the role.
    pub yarn: String,
    /// Each size, in order.
    pub sizes: Vec<SizeNeed>,
}

/// What one size needs.
#[derive(Debug, Clone, Serialize)]
pub struct SizeNeed {
    /// The size.
    pub size: String,
    /// What to buy for, m.
    pub need_m: f64,
    /// The same, yd.
    pub need_yd: f64,
    /// What may do, where the need is a range, m.
    pub need_at_least_m: f64,
}

impl Render for SheetAnswer {
    fn fields(&self) -> impl Serialize {
        SheetReport::new(self, &Style::default())
    }

    fn page(&self, style: &Style) -> Page {
        SheetReport::new(self, style).page(style)
    }
}

/// The alternatives of a sheet as a table for programs: columns, and a row each.
pub fn sheet_cells(answer: &SheetAnswer) -> (Vec<String>, Vec<Vec<String>>) {
    let sheet = SheetReport::new(answer, &Style::default());
    let rows = sheet.alternatives.iter();
    let rows = rows.map(|line| line.cells(&sheet.sizes)).collect();
    (alternative::columns(&sheet.sizes), rows)
}

impl SheetReport {
    /// The fields of an answer, with texts in a style.
    fn new(answer: &SheetAnswer, style: &Style) -> Self {
        let materials = answer.materials.iter();
        let alternatives = answer.alternatives.iter();
        let notes = style.notes(&answer.notes).into_iter();
        let remarks = answer.remarks.iter();
        Self {
            pattern: answer.pattern.clone(),
            sizes: answer.sizes.clone(),
            gauge: answer.gauge.as_ref().map(gauge_in_stitch),
            tolerance: style.tolerance(answer.tolerance),
            margin_percent: answer.margin.as_percent(),
            needs: answer.materials.iter().map(NeedLine::new).collect(),
            materials: materials.map(|own| MaterialLine::new(own, style)).collect(),
            alternatives: alternatives
                .map(|found| AlternativeLine::new(found, style))
                .collect(),
            cautions: shared_cautions(&answer.alternatives),
            substitution: SUBSTITUTION_LINE,
            swatch: SWATCH_LINE,
            working: working_sentences(&answer.working, style),
            warnings: notes
                .chain(remarks.map(|remark| remark_sentence(remark, style)))
                .collect(),
        }
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled(format!("Materials for {}", self.pattern));
        page.text(
            Role::Plain,
            format!("Sizes {}", sizes_as_patterns_write_them(&self.sizes)),
        );
        if let Some(gauge) = &self.gauge {
            page.text(Role::Plain, format!("Gauge: {gauge}"));
        }
        page.section(format!("Yarn, margin {} %", number(self.margin_percent, 1)));
        let materials: Vec<String> = self.materials.iter().map(MaterialLine::sentence).collect();
        page.items(Role::Plain, &materials);
        self.needed(&mut page, style);
        for material in &self.materials {
            self.offered(&mut page, material, style);
        }
        page.section("Before you swap");
        page.text(Role::Plain, self.substitution);
        page.text(Role::Plain, self.swatch);
        page.part("Cautions", Role::Caution, &self.cautions);
        page.part("Working", Role::Aside, &self.working);
        page.part("To know", Role::Caution, &self.warnings);
        page
    }

    fn needed(&self, page: &mut Page, style: &Style) {
        let [first, second] = style.ordered("m", "yd");
        let mut table = Table::new(&[
            ("yarn", Align::Left),
            (first, Align::Left),
            (second, Align::Left),
        ]);
        table.rows = self
            .needs
            .iter()
            .filter(|line| !line.sizes.is_empty())
            .map(|line| line.row(style))
            .collect();
        if !table.rows.is_empty() {
            page.section("Needed for each size, without the margin");
            page.table(table);
        }
    }

    fn offered(&self, page: &mut Page, material: &MaterialLine, style: &Style) {
        let lines: Vec<&AlternativeLine> = self
            .alternatives
            .iter()
            .filter(|line| line.yarn == material.yarn)
            .collect();
        if lines.is_empty() {
            return;
        }
        page.section(format!(
            "In place of {}, tolerance on length per mass {}",
            material.yarn, self.tolerance
        ));
        page.table(alternative::offered(&lines, material.put_up_g, style));
        for line in lines {
            page.text(news(line.verdict), line.judged());
            page.items(
                Role::Plain,
                &line.to_do.clone().into_iter().collect::<Vec<_>>(),
            );
        }
    }
}

/// Every caution once; with the yarns that it is about, where not with all.
fn shared_cautions(found: &[Alternative]) -> Vec<String> {
    let cautions = |found: &Alternative| -> Vec<String> {
        let cautions = found.answer.judgement.cautions.iter();
        cautions.map(caution_text).collect()
    };
    let each: Vec<(&str, Vec<String>)> = found
        .iter()
        .map(|found| (found.answer.candidate.title.as_str(), cautions(found)))
        .collect();
    let mut told: Vec<String> = Vec::new();
    for caution in each.iter().flat_map(|(_, cautions)| cautions) {
        let about = each
            .iter()
            .filter(|(_, cautions)| cautions.contains(caution));
        let mut names: Vec<&str> = about.map(|(name, _)| *name).collect();
        let all = names.len() == each.len();
        names.sort_unstable();
        names.dedup();
        let text = if all {
            caution.clone()
        } else {
            format!("{}: {caution}", and_list(&names))
        };
        if !told.contains(&text) {
            told.push(text);
        }
    }
    told
}

/// `22 stitches x 30 rows over 10 cm, garter`.
fn gauge_in_stitch(stated: &StatedGauge) -> String {
    let stitch = stated.stitch.as_ref();
    let stitch = stitch.map_or_else(String::new, |stitch| format!(", {}", stitch.name()));
    format!("{}{stitch}", gauge_words(&stated.gauge))
}

impl MaterialLine {
    fn new(own: &Material, style: &Style) -> Self {
        let facts = &own.facts;
        let stated = own.stated.iter();
        let skeins = own.skeins.iter();
        Self {
            yarn: own.key.clone(),
            called: own.called.clone(),
            text: material_words(facts, style),
            strands: own.strands,
            put_up_m: facts.skein_length().map(Length::as_metres),
            put_up_g: facts.skein_mass().map(Mass::as_grams),
            m_per_100g: facts.grist().map(Grist::as_metres_per_100_g),
            stated_skeins: stated.filter_map(stated_skeins).collect(),
            skeins: skeins.map(|bought| bought.purchase.skeins).collect(),
        }
    }

    /// As patterns print it: key, yarn, put-up in both systems, counts per size.
    fn sentence(&self) -> String {
        let counts: Vec<String> = self.skeins.iter().map(u32::to_string).collect();
        let called = self.called.as_deref().unwrap_or("a yarn that is not named");
        let held = match self.strands {
            1 => String::new(),
            n => format!(", {n} strands held together"),
        };
        let counted = if counts.is_empty() {
            "skeins cannot be counted".to_owned()
        } else {
            skeins_of_sizes(&counts)
        };
        let stated = if self.stated_skeins.is_empty() || self.stated_skeins == counts {
            String::new()
        } else {
            format!(
                "; {} without the margin",
                sizes_as_patterns_write_them(&self.stated_skeins)
            )
        };
        format!(
            "{}: {called} ({}){held}: {counted}{stated}",
            self.yarn, self.text
        )
    }
}

/// Skeins as the pattern states them.
fn stated_skeins(need: &Need) -> Option<String> {
    match need {
        Need::Skeins { count, .. } => Some(number(*count, 2)),
        Need::Length(_) | Need::Mass(_) => None,
    }
}

impl NeedLine {
    fn new(own: &Material) -> Self {
        let size = |(size, range): &(String, NeedRange)| SizeNeed {
            size: size.clone(),
            need_m: range.buy_for.as_metres(),
            need_yd: range.buy_for.as_yards(),
            need_at_least_m: range.at_least.as_metres(),
        };
        Self {
            yarn: own.key.clone(),
            sizes: own.needs.iter().map(size).collect(),
        }
    }

    fn row(&self, style: &Style) -> Vec<String> {
        let told = |amount: fn(&SizeNeed) -> f64| {
            let each: Vec<String> = self
                .sizes
                .iter()
                .map(|size| number(amount(size), 0))
                .collect();
            sizes_as_patterns_write_them(&each)
        };
        let [first, second] = style.ordered(told(|size| size.need_m), told(|size| size.need_yd));
        vec![self.yarn.clone(), first, second]
    }
}
