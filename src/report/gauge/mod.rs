//! A pattern at a gauge that is not its own.

mod lines;

pub use lines::{GrowthLine, Measures, RegaugedLine, ResizedLine, Taken, TendencyLine};

use super::{Align, Page, Report, Role, SWATCH_LINE, Table};
use crate::words::number;
use serde::Serialize;

/// Answer to `gauge`.
#[derive(Debug, Clone, Serialize)]
pub struct GaugeReport {
    /// The pattern.
    pub pattern: String,
    /// The yarn that skeins are counted in; the pattern's own where it is `null`.
    pub yarn: Option<String>,
    /// The pattern's gauge, in words.
    pub pattern_gauge: String,
    /// The own gauge after washing, in words.
    pub own_gauge: String,
    /// Where the own gauge comes from.
    pub source: String,
    /// Own / pattern's stitches per length.
    pub stitch_ratio: f64,
    /// Own / pattern's rows per length.
    pub row_ratio: Option<f64>,
    /// Each size.
    pub sizes: Vec<ResizedLine>,
    /// What each size takes.
    pub skeins: Vec<RegaugedLine>,
    /// What washing does, where swatches of the yarn say.
    pub growth: Option<GrowthLine>,
    /// The own tendency against labels.
    pub tendency: TendencyLine,
    /// Margin bought beyond the need, %.
    pub margin_percent: f64,
    /// How the answer was come by.
    pub working: Vec<String>,
    /// What to know.
    pub warnings: Vec<String>,
    /// The line that ends every answer.
    pub swatch: &'static str,
}

impl Report for GaugeReport {
    fn page(&self) -> Page {
        let mut page = Page::titled(format!("{} at your gauge", self.pattern));
        page.text(
            Role::Plain,
            format!("The pattern's gauge: {}", self.pattern_gauge),
        );
        page.text(
            Role::Plain,
            format!("Your gauge: {}; {}", self.own_gauge, self.source),
        );
        page.section("The pattern's counts at your gauge");
        page.table(self.kept());
        page.section("Which size to knit instead");
        page.table(self.instead());
        page.section("To keep the size");
        page.table(self.reworked());
        self.takes(&mut page);
        if let Some(growth) = &self.growth {
            page.section("In the wash");
            page.text(Role::Plain, growth.sentence());
            page.table(self.unwashed());
        }
        page.section("Your tendency against labels");
        page.text(Role::Aside, self.tendency.text.clone());
        page.part("Working", Role::Aside, &self.working);
        page.part("To know", Role::Caution, &self.warnings);
        page.section("Before you buy");
        page.text(Role::Plain, self.swatch);
        page
    }
}

impl GaugeReport {
    fn kept(&self) -> Table {
        let mut table = Table::new(&[
            ("size", Align::Left),
            ("wanted cm", Align::Right),
            ("in", Align::Right),
            ("comes out cm", Align::Right),
            ("in", Align::Right),
            ("off cm", Align::Right),
        ]);
        table.rows = self.sizes.iter().map(ResizedLine::kept_row).collect();
        table
    }

    fn instead(&self) -> Table {
        let mut table = Table::new(&[
            ("wanted", Align::Left),
            ("knit", Align::Left),
            ("comes out cm", Align::Right),
            ("in", Align::Right),
        ]);
        let rows = self.sizes.iter().filter_map(ResizedLine::instead_row);
        table.rows = rows.collect();
        table
    }

    fn reworked(&self) -> Table {
        let mut table = Table::new(&[
            ("size", Align::Left),
            ("stitches", Align::Right),
            ("become", Align::Right),
            ("rows", Align::Right),
            ("become", Align::Right),
            ("measures cm", Align::Right),
            ("in", Align::Right),
        ]);
        table.rows = self.sizes.iter().map(ResizedLine::reworked_row).collect();
        table
    }

    fn unwashed(&self) -> Table {
        let mut table = Table::new(&[
            ("size", Align::Left),
            ("before washing cm", Align::Right),
            ("in", Align::Right),
        ]);
        let measured = self
            .sizes
            .iter()
            .filter_map(|line| Some((line, line.before_washing?)));
        table.rows = measured
            .map(|(line, before)| vec![line.size.clone(), before.centimetres(), before.inches()])
            .collect();
        table
    }

    fn takes(&self, page: &mut Page) {
        if self.skeins.is_empty() {
            return;
        }
        page.section(format!(
            "Skeins of {}, margin {} %",
            self.yarn.as_deref().unwrap_or("the pattern's yarn"),
            number(self.margin_percent, 1)
        ));
        page.table(self.each_way(Taken::skeins_words));
        page.text(Role::Plain, "That is, without the margin:");
        page.table(self.each_way(Taken::need_words));
    }

    /// What each size and yarn takes, one column for each way to knit it.
    fn each_way(&self, told: fn(&Taken) -> String) -> Table {
        let mut table = Table::new(&[
            ("size", Align::Left),
            ("yarn", Align::Left),
            ("pattern's gauge", Align::Right),
            ("counts kept", Align::Right),
            ("other size", Align::Right),
            ("size kept", Align::Right),
        ]);
        table.rows = self.skeins.iter().map(|line| line.row(told)).collect();
        table
    }
}

impl Default for GaugeReport {
    fn default() -> Self {
        Self {
            pattern: String::new(),
            yarn: None,
            pattern_gauge: String::new(),
            own_gauge: String::new(),
            source: String::new(),
            stitch_ratio: 1.0,
            row_ratio: None,
            sizes: Vec::new(),
            skeins: Vec::new(),
            growth: None,
            tendency: TendencyLine::default(),
            margin_percent: 0.0,
            working: Vec::new(),
            warnings: Vec::new(),
            swatch: SWATCH_LINE,
        }
    }
}
