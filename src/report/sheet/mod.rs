//! The materials sheet of a pattern.

mod alternative;

pub use alternative::AlternativeLine;

use super::{
    Align, Page, Report, Role, SWATCH_LINE, Table, judgement::news, per_size::skeins_of_sizes,
    sizes_as_patterns_write_them,
};
use crate::words::number;
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

impl Report for SheetReport {
    fn page(&self) -> Page {
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
        self.needed(&mut page);
        for material in &self.materials {
            self.offered(&mut page, material);
        }
        page.section("Before you swap");
        page.text(Role::Plain, self.substitution);
        page.text(Role::Plain, self.swatch);
        page.part("Cautions", Role::Caution, &self.cautions);
        page.part("Working", Role::Aside, &self.working);
        page.part("To know", Role::Caution, &self.warnings);
        page
    }
}

impl SheetReport {
    fn needed(&self, page: &mut Page) {
        let mut table = Table::new(&[
            ("yarn", Align::Left),
            ("m", Align::Left),
            ("yd", Align::Left),
        ]);
        table.rows = self
            .needs
            .iter()
            .filter(|line| !line.sizes.is_empty())
            .map(NeedLine::row)
            .collect();
        if !table.rows.is_empty() {
            page.section("Needed for each size, without the margin");
            page.table(table);
        }
    }

    fn offered(&self, page: &mut Page, material: &MaterialLine) {
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
        page.table(alternative::offered(&lines, material.put_up_g));
        for line in lines {
            page.text(news(line.verdict), line.judged());
            page.items(
                Role::Plain,
                &line.to_do.clone().into_iter().collect::<Vec<_>>(),
            );
        }
    }

    /// The alternatives as a table for programs: columns, and a row each.
    pub fn table(&self) -> (Vec<String>, Vec<Vec<String>>) {
        let rows = self.alternatives.iter().map(|line| line.cells(&self.sizes));
        (alternative::columns(&self.sizes), rows.collect())
    }
}

impl MaterialLine {
    /// As patterns print it: key, yarn, put-up in both systems, counts per size.
    fn sentence(&self) -> String {
        let counts: Vec<String> = self.skeins.iter().map(u32::to_string).collect();
        let called = self.called.as_deref().unwrap_or("a yarn that is not named");
        let held = match self.strands {
            1 => String::new(),
            n => format!(", {n} strands held together"),
        };
        let counted = match counts.is_empty() {
            true => "skeins cannot be counted".to_owned(),
            false => skeins_of_sizes(&counts),
        };
        let stated = match self.stated_skeins.is_empty() || self.stated_skeins == counts {
            true => String::new(),
            false => format!(
                "; {} without the margin",
                sizes_as_patterns_write_them(&self.stated_skeins)
            ),
        };
        format!(
            "{}: {called} ({}){held}: {counted}{stated}",
            self.yarn, self.text
        )
    }
}

impl NeedLine {
    fn row(&self) -> Vec<String> {
        let told = |amount: fn(&SizeNeed) -> f64| {
            let each: Vec<String> = self
                .sizes
                .iter()
                .map(|size| number(amount(size), 0))
                .collect();
            sizes_as_patterns_write_them(&each)
        };
        vec![
            self.yarn.clone(),
            told(|size| size.need_m),
            told(|size| size.need_yd),
        ]
    }
}

impl Default for SheetReport {
    fn default() -> Self {
        Self {
            pattern: String::new(),
            sizes: Vec::new(),
            gauge: None,
            tolerance: String::new(),
            margin_percent: 0.0,
            materials: Vec::new(),
            needs: Vec::new(),
            alternatives: Vec::new(),
            cautions: Vec::new(),
            substitution: SUBSTITUTION_LINE,
            swatch: SWATCH_LINE,
            working: Vec::new(),
            warnings: Vec::new(),
        }
    }
}
