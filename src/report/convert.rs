//! One grist in every unit.

use super::{Align, Page, Report, Role, Table};
use crate::words::number;
use serde::Serialize;

/// Answer to `convert`.
#[derive(Debug, Clone, Serialize)]
pub struct ConvertReport {
    /// What was converted, in words.
    pub of: String,
    /// m/100 g.
    pub m_per_100g: f64,
    /// m/50 g.
    pub m_per_50g: f64,
    /// yd/100 g.
    pub yd_per_100g: f64,
    /// yd/oz.
    pub yd_per_oz: f64,
    /// yd/lb.
    pub yd_per_lb: f64,
    /// g per 1000 m.
    pub tex: f64,
    /// g per 10 000 m.
    pub dtex: f64,
    /// g per 9000 m.
    pub denier: f64,
    /// Nm, m per g.
    pub metric_count: f64,
    /// Ne, hanks of 840 yd per lb.
    pub cotton_count: f64,
    /// NeK, hanks of 560 yd per lb.
    pub worsted_count: f64,
    /// Runs of 1600 yd per lb.
    pub woollen_run: f64,
    /// Leas of 300 yd per lb.
    pub linen_lea: f64,
    /// Length in the basis mass that was asked for, m.
    pub m_per_basis: Option<f64>,
    /// The basis mass, g.
    pub basis_g: Option<f64>,
    /// Weight classes whose published grist it has; a guideline, never proof.
    pub weight_classes: Vec<u8>,
    /// What to know.
    pub warnings: Vec<String>,
}

impl Report for ConvertReport {
    fn page(&self) -> Page {
        let mut page = Page::titled(self.of.clone());
        let mut table = Table::new(&[
            ("measure", Align::Left),
            ("value", Align::Right),
            ("unit", Align::Left),
        ]);
        table.rows = self.rows();
        page.table(table);
        let classes: Vec<String> = self.weight_classes.iter().map(u8::to_string).collect();
        let class = match classes.as_slice() {
            [] => "No published class has this length per mass.".to_owned(),
            _ => format!(
                "By length per mass alone this is class {} (rough published guideline).",
                crate::words::or_list(&classes)
            ),
        };
        page.section("Weight class");
        page.text(Role::Plain, class);
        page.part("To know", Role::Caution, &self.warnings);
        page
    }
}

impl ConvertReport {
    fn rows(&self) -> Vec<Vec<String>> {
        let row = |measure: &str, value: f64, places: usize, unit: &str| {
            vec![measure.to_owned(), number(value, places), unit.to_owned()]
        };
        let mut rows = vec![
            row("length per mass", self.m_per_100g, 1, "m/100 g"),
            row("", self.m_per_50g, 1, "m/50 g"),
            row("", self.yd_per_100g, 1, "yd/100 g"),
            row("", self.yd_per_oz, 1, "yd/oz"),
            row("", self.yd_per_lb, 1, "yd/lb"),
            row("tex", self.tex, 2, "g per 1000 m"),
            row("dtex", self.dtex, 1, "g per 10000 m"),
            row("denier", self.denier, 1, "g per 9000 m"),
            row("metric count Nm", self.metric_count, 3, "m per g"),
            row(
                "cotton count Ne",
                self.cotton_count,
                3,
                "hanks of 840 yd per lb",
            ),
            row(
                "worsted count NeK",
                self.worsted_count,
                3,
                "hanks of 560 yd per lb",
            ),
            row("woollen run", self.woollen_run, 3, "runs of 1600 yd per lb"),
            row("linen lea", self.linen_lea, 3, "leas of 300 yd per lb"),
        ];
        if let Some((metres, grams)) = self.m_per_basis.zip(self.basis_g) {
            rows.push(row(
                "on the basis asked for",
                metres,
                2,
                &format!("m per {} g", number(grams, 3)),
            ));
            rows.push(row(
                "",
                metres / crate::measure::units::YARD_M,
                2,
                &format!("yd per {} g", number(grams, 3)),
            ));
        }
        rows
    }
}
