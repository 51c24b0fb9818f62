//! One grist in every unit.

use super::{Align, Page, Render, Role, Style, Table};
use crate::{
    app::ConvertAnswer,
    measure::{
        Grist, Mass,
        units::{CountSystem, YARD_M},
    },
    trade::{WeightClass, classes_by_grist, classes_by_other_charts},
    words::{and_list, number, or_list},
};
use serde::Serialize;

/// Fields of the answer to `convert`.
#[derive(Debug, Clone, Serialize)]
struct ConvertFields {
    /// What was converted, in words.
    of: String,
    /// m/100 g.
    m_per_100g: f64,
    /// m/50 g.
    m_per_50g: f64,
    /// yd/100 g.
    yd_per_100g: f64,
    /// yd/oz.
    yd_per_oz: f64,
    /// yd/lb.
    yd_per_lb: f64,
    /// g per 1000 m.
    tex: f64,
    /// g per 10 000 m.
    dtex: f64,
    /// g per 9000 m.
    denier: f64,
    /// Nm, m per g.
    metric_count: f64,
    /// Ne, hanks of 840 yd per lb.
    cotton_count: f64,
    /// NeK, hanks of 560 yd per lb.
    worsted_count: f64,
    /// Runs of 1600 yd per lb.
    woollen_run: f64,
    /// Leas of 300 yd per lb.
    linen_lea: f64,
    /// Length in the basis mass that was asked for, m.
    m_per_basis: Option<f64>,
    /// The basis mass, g.
    basis_g: Option<f64>,
    /// Weight classes whose published grist it has; a guideline, never proof.
    weight_classes: Vec<u8>,
    /// Further classes that other charts of the trade give it.
    other_weight_classes: Vec<u8>,
    /// What to know.
    warnings: Vec<String>,
}

impl Render for ConvertAnswer {
    fn fields(&self) -> impl Serialize {
        fields(self)
    }

    fn page(&self, _: &Style) -> Page {
        let fields = fields(self);
        let mut page = Page::titled(fields.of.clone());
        let mut table = Table::new(&[
            ("measure", Align::Left),
            ("value", Align::Right),
            ("unit", Align::Left),
        ]);
        table.rows = fields.rows();
        page.table(table);
        page.section("Weight class");
        page.text(Role::Plain, class_sentence(self.grist));
        page.part("To know", Role::Caution, &fields.warnings);
        page
    }
}

fn fields(answer: &ConvertAnswer) -> ConvertFields {
    let grist = answer.grist;
    let count = |system| grist.as_count(system);
    let per_basis = |mass: Mass| mass.as_grams() * grist.as_metres_per_gram();
    ConvertFields {
        of: title(&answer.values, answer.strands),
        m_per_100g: grist.as_metres_per_100_g(),
        m_per_50g: grist.as_metres_per_100_g() / 2.0,
        yd_per_100g: grist.as_metres_per_100_g() / YARD_M,
        yd_per_oz: grist.as_yards_per_pound() / 16.0,
        yd_per_lb: grist.as_yards_per_pound(),
        tex: grist.as_tex(),
        dtex: count(CountSystem::Decitex),
        denier: count(CountSystem::Denier),
        metric_count: count(CountSystem::Metric),
        cotton_count: count(CountSystem::Cotton),
        worsted_count: count(CountSystem::Worsted),
        woollen_run: count(CountSystem::WoollenRun),
        linen_lea: count(CountSystem::Linen),
        m_per_basis: answer.basis.map(per_basis),
        basis_g: answer.basis.map(Mass::as_grams),
        weight_classes: numbers(classes_by_grist(grist)),
        other_weight_classes: numbers(classes_by_other_charts(grist)),
        warnings: Style::default().notes(&answer.notes),
    }
}

fn title(values: &[String], strands: u8) -> String {
    let held = match (values.len(), strands) {
        (1, 1) => String::new(),
        (1, strands) => format!(", {strands} strands held together"),
        (_, 1) => " held together".to_owned(),
        (_, strands) => format!(", {strands} strands of each held together"),
    };
    format!("{}{held}", and_list(values))
}

fn numbers(classes: Vec<WeightClass>) -> Vec<u8> {
    classes.into_iter().map(WeightClass::number).collect()
}

/// The class, and where the charts of the trade overlap, the other one too.
fn class_sentence(grist: Grist) -> String {
    let named = |classes: &[WeightClass]| {
        let names: Vec<String> = classes.iter().map(ToString::to_string).collect();
        or_list(&names)
    };
    let classes = classes_by_grist(grist);
    if classes.is_empty() {
        return "No published class has this length per mass.".to_owned();
    }
    let others = match classes_by_other_charts(grist).as_slice() {
        [] => String::new(),
        others => format!(
            "; other charts of the trade call it class {}",
            named(others)
        ),
    };
    format!(
        "By length per mass alone this is class {}{others}. Such charts are rough guidelines.",
        named(&classes)
    )
}

impl ConvertFields {
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
            let per = |unit: &str| format!("{unit} per {} g", number(grams, 3));
            rows.push(row("on the basis asked for", metres, 2, &per("m")));
            rows.push(row("", metres / YARD_M, 2, &per("yd")));
        }
        rows
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::{ConvertRequest, convert};

    fn answer(value: &str) -> ConvertAnswer {
        let values = vec![value.to_owned()];
        let strands = "1".to_owned();
        convert(&ConvertRequest {
            values,
            strands,
            basis: None,
        })
        .unwrap()
    }

    /// 220 yd in 100 g: light by the published chart, worsted to many knitters.
    #[test]
    fn where_classes_overlap_both_are_named() {
        let both = answer("220 yd/100 g");
        let fields = fields(&both);
        assert_eq!(fields.weight_classes, [3]);
        assert_eq!(fields.other_weight_classes, [4]);
        let said = class_sentence(both.grist);
        assert!(
            said.contains("3 light") && said.contains("4 medium"),
            "{said}"
        );
        let one = class_sentence(answer("700 m/100 g").grist);
        assert!(
            one.contains("0 lace") && !one.contains("other charts"),
            "{one}"
        );
    }
}
