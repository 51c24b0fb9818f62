//! Needs of every size from what was knitted and weighed.

use super::{
    Align, Page, Report, Role, Table, per_size::skeins_of_sizes, sizes_as_patterns_write_them,
};
use crate::{
    measure::units::YARD_M,
    words::{number, signed},
};
use serde::Serialize;

/// Answer to `needs`.
#[derive(Debug, Clone, Serialize)]
pub struct NeedsReport {
    /// The pattern.
    pub pattern: String,
    /// `area` or `stitches`: what yarn was reckoned by.
    pub basis: &'static str,
    /// Margin, %.
    pub margin_percent: f64,
    /// The yarn roles.
    pub yarns: Vec<NeedsYarnLine>,
    /// What each stitch takes.
    pub rates: Vec<RateLine>,
    /// How well the samples foretell each other; empty for one sample.
    pub left_out: Vec<LeftOutLine>,
    /// The need of each yarn and size.
    pub needs: Vec<NeedsLine>,
    /// How the answer was come by.
    pub working: Vec<String>,
    /// What to know.
    pub warnings: Vec<String>,
}

/// One yarn role.
#[derive(Debug, Clone, Serialize)]
pub struct NeedsYarnLine {
    /// Its key.
    pub yarn: String,
    /// What it is called.
    pub called: Option<String>,
    /// One skein, in words.
    pub put_up: String,
}

/// What one stitch takes.
#[derive(Debug, Clone, Serialize)]
pub struct RateLine {
    /// The stitch.
    pub stitch: String,
    /// Metres per m2, where reckoned by area.
    pub m_per_m2: Option<f64>,
    /// Metres per stitch, where reckoned by stitches.
    pub m_per_stitch: Option<f64>,
    /// Grams of the first yarn per m2.
    pub g_per_m2: Option<f64>,
    /// Grams of the first yarn per stitch.
    pub g_per_stitch: Option<f64>,
    /// Stitches per m2 of what was weighed, where its gauge is known.
    pub stitches_per_m2: Option<f64>,
    /// Yarn against fully relaxed plain knitting of the same gauge.
    pub plain_knit_factor: Option<f64>,
    /// Whether it was weighed; otherwise it is the user's own figure.
    pub learned: bool,
}

/// How far what the other samples foretell lies from one.
#[derive(Debug, Clone, Serialize)]
pub struct LeftOutLine {
    /// The sample.
    pub sample: String,
    /// Grams of yarn in it.
    pub weighed_g: f64,
    /// Metres in its fabric, edges taken off.
    pub fabric_m: f64,
    /// Foretold / weighed - 1, %; `null` where the others do not tell.
    pub error_percent: Option<f64>,
}

/// The need of one yarn in one size.
#[derive(Debug, Clone, Serialize)]
pub struct NeedsLine {
    /// The size.
    pub size: String,
    /// Key of the yarn.
    pub yarn: String,
    /// Fabric, m2 or stitches as `basis` says.
    pub fabric: f64,
    /// Need, m, without the margin.
    pub need_m: f64,
    /// Need, g, without the margin.
    pub need_g: f64,
    /// What of it edges and tails take, m.
    pub edges_m: f64,
    /// Need over that of the first size.
    pub growth: f64,
    /// What to state, m: with the margin, rounded up to the step.
    pub stated_m: f64,
    /// What to state, g.
    pub stated_g: f64,
    /// Whole skeins, margin included, where the length of one is known.
    pub skeins: Option<u32>,
    /// Need by plain-knit geometry against the need reckoned, %.
    pub geometry_percent: Option<f64>,
}

impl Report for NeedsReport {
    fn page(&self) -> Page {
        let mut page = Page::titled(format!("{}: yarn for every size", self.pattern));
        for yarn in &self.yarns {
            page.text(Role::Plain, self.stated(yarn));
        }
        page.section("Needs");
        page.table(self.needs_table());
        page.section("What each stitch takes");
        page.table(self.rates_table());
        page.part(
            "Each sample foretold by the others",
            Role::Plain,
            &self.left_out_words(),
        );
        page.part("Working", Role::Aside, &self.working);
        page.part("To know", Role::Caution, &self.warnings);
        page
    }
}

impl NeedsReport {
    /// The line that a pattern prints: `A: 1240 (1320) m, 1357 (1444) yd; 11 (11)
    /// skeins of ...`.
    fn stated(&self, yarn: &NeedsYarnLine) -> String {
        let lines: Vec<&NeedsLine> = self
            .needs
            .iter()
            .filter(|line| line.yarn == yarn.yarn)
            .collect();
        let each = |value: fn(&NeedsLine) -> String| {
            let values: Vec<String> = lines.iter().map(|line| value(line)).collect();
            sizes_as_patterns_write_them(&values)
        };
        let skeins: Vec<String> = lines
            .iter()
            .map(|line| line.skeins.map_or("?".to_owned(), |n| n.to_string()))
            .collect();
        let called = yarn
            .called
            .iter()
            .map(|called| format!(", {called}"))
            .collect::<String>();
        format!(
            "{}{called}: {} m, {} yd, {} g; {} of {}",
            yarn.yarn,
            each(|line| number(line.stated_m, 0)),
            each(|line| number(line.stated_m / YARD_M, 0)),
            each(|line| number(line.stated_g, 0)),
            skeins_of_sizes(&skeins),
            yarn.put_up
        )
    }

    fn needs_table(&self) -> Table {
        let fabric = match self.basis {
            "area" => "fabric cm2",
            _ => "stitches",
        };
        let mut table = Table::new(&[
            ("size", Align::Left),
            ("yarn", Align::Left),
            (fabric, Align::Right),
            ("need m", Align::Right),
            ("g", Align::Right),
            ("edges m", Align::Right),
            ("growth", Align::Right),
            ("stated m", Align::Right),
            ("yd", Align::Right),
            ("g", Align::Right),
            ("skeins", Align::Right),
            ("geometry", Align::Right),
        ]);
        table.rows = self.needs.iter().map(|line| self.row(line)).collect();
        table
    }

    fn row(&self, line: &NeedsLine) -> Vec<String> {
        let fabric = match self.basis {
            "area" => line.fabric * 1e4,
            _ => line.fabric,
        };
        vec![
            line.size.clone(),
            line.yarn.clone(),
            number(fabric, 0),
            number(line.need_m, 1),
            number(line.need_g, 1),
            number(line.edges_m, 1),
            format!("x {}", number(line.growth, 3)),
            number(line.stated_m, 0),
            number(line.stated_m / YARD_M, 0),
            number(line.stated_g, 0),
            line.skeins
                .map(|skeins| skeins.to_string())
                .unwrap_or_default(),
            line.geometry_percent
                .map(|percent| format!("{} %", signed(percent, 1)))
                .unwrap_or_default(),
        ]
    }

    fn rates_table(&self) -> Table {
        let mut table = Table::new(&[
            ("stitch", Align::Left),
            ("m per m2", Align::Right),
            ("g per m2", Align::Right),
            ("cm per stitch", Align::Right),
            ("stitches per g", Align::Right),
            ("x plain knitting", Align::Right),
            ("", Align::Left),
        ]);
        let show =
            |value: Option<f64>, places| value.map(|v| number(v, places)).unwrap_or_default();
        table.rows = self
            .rates
            .iter()
            .map(|rate| {
                vec![
                    rate.stitch.clone(),
                    show(rate.m_per_m2, 1),
                    show(rate.g_per_m2, 1),
                    show(rate.m_per_stitch.map(|m| m * 100.0), 2),
                    show(rate.g_per_stitch.map(|g| 1.0 / g), 1),
                    show(rate.plain_knit_factor, 3),
                    if rate.learned {
                        "weighed"
                    } else {
                        "your figure"
                    }
                    .to_owned(),
                ]
            })
            .collect();
        table
    }

    fn left_out_words(&self) -> Vec<String> {
        let words = |line: &LeftOutLine| {
            let told = match line.error_percent {
                Some(percent) => format!("the others foretell {} %", signed(percent, 1)),
                None => "the others do not tell it".to_owned(),
            };
            format!("{}, {} g: {told}", line.sample, number(line.weighed_g, 2))
        };
        self.left_out.iter().map(words).collect()
    }
}
