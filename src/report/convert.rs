//! One grist in every unit.

use super::{Answer, Block, Page, Render, Role, Style, Table, json::fields_of};
use crate::{
    app::ConvertAnswer,
    measure::{
        Grist, Mass,
        units::{CountSystem, YARD_M},
    },
    trade::{WeightClass, classes_by_grist, classes_by_other_charts},
    words::{and_list, number, or_list},
};

/// A grist in one unit: what people call it, the value with so many decimals, and the
/// unit.
type Row = (&'static str, f64, usize, &'static str);

fields_of! {
    /// One length per mass in every unit.
    ConvertFields(answer: &ConvertAnswer)
    where grist = answer.grist, yards = grist.as_yards_per_pound(); {
        /// What was converted, as typed.
        of: String = title(answer),
        /// Metres per 100 g.
        m_per_100g: f64 = grist.as_metres_per_100_g(),
        /// Metres per 50 g.
        m_per_50g: f64 = grist.as_metres_per_100_g() / 2.0,
        /// Yards per 100 g.
        yd_per_100g: f64 = grist.as_metres_per_100_g() / YARD_M,
        /// Yards per ounce.
        yd_per_oz: f64 = yards / 16.0,
        /// Yards per pound.
        yd_per_lb: f64 = yards,
        /// Grams per 1000 m.
        tex: f64 = grist.as_tex(),
        /// Grams per 10000 m.
        dtex: f64 = grist.as_count(CountSystem::Decitex),
        /// Grams per 9000 m.
        denier: f64 = grist.as_count(CountSystem::Denier),
        /// Metres per gram (Nm).
        metric_count: f64 = grist.as_count(CountSystem::Metric),
        /// Hanks of 840 yd per pound (Ne).
        cotton_count: f64 = grist.as_count(CountSystem::Cotton),
        /// Hanks of 560 yd per pound (NeK).
        worsted_count: f64 = grist.as_count(CountSystem::Worsted),
        /// Runs of 1600 yd per pound.
        woollen_run: f64 = grist.as_count(CountSystem::WoollenRun),
        /// Leas of 300 yd per pound.
        linen_lea: f64 = grist.as_count(CountSystem::Linen),
        /// Metres in the weight that was asked for.
        m_per_basis: Option<f64> = answer.basis.map(|basis| in_basis(grist, basis)),
        /// That weight in grams.
        basis_g: Option<f64> = answer.basis.map(Mass::as_grams),
        /// Weight classes by published lengths per mass: a guide, never proof.
        weight_classes: Vec<u8> = numbers(classes_by_grist(grist)),
        /// What other charts of the trade give it, where classes overlap.
        other_weight_classes: Vec<u8> = numbers(classes_by_other_charts(grist)),
        /// What was noticed in what was typed.
        warnings: Vec<String> = Style::default().notes(&answer.notes),
    }
}

impl Render for ConvertAnswer {
    type Fields = ConvertFields;

    fn fields(&self) -> ConvertFields {
        ConvertFields::of(self)
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled(title(self));
        let grist = style.grist(self.grist);
        let said = format!("{grist}. {}", class_sentence(self.grist));
        page.blocks.push(Block::Answer(Answer::alone(said)));
        let rows = rows(&self.fields()).map(|(measure, value, places, unit)| {
            (measure, number(value, places), unit.to_owned())
        });
        let basis = self.basis.iter().flat_map(|basis| {
            let metres = in_basis(self.grist, *basis);
            let per = |unit: &str| format!("{unit} per {} g", number(basis.as_grams(), 3));
            [
                ("in the weight you asked for", number(metres, 2), per("m")),
                ("", number(metres / YARD_M, 2), per("yd")),
            ]
        });
        let rows: Vec<_> = rows.into_iter().chain(basis).collect();
        page.table(
            Table::of(&rows)
                .left("measure", |(measure, ..)| *measure)
                .right("value", |(_, value, _)| value.as_str())
                .left("unit", |(.., unit)| unit.as_str()),
        );
        page.part("Notes", Role::Caution, &style.notes(&self.notes));
        page
    }
}

#[rustfmt::skip] // A row for each unit.
fn rows(all: &ConvertFields) -> [Row; 13] {
    [
        ("length and weight", all.m_per_100g, 1, "m/100 g"),
        ("", all.m_per_50g, 1, "m/50 g"),
        ("", all.yd_per_100g, 1, "yd/100 g"),
        ("", all.yd_per_oz, 1, "yd/oz"),
        ("", all.yd_per_lb, 1, "yd/lb"),
        ("tex", all.tex, 2, "g per 1000 m"),
        ("dtex", all.dtex, 1, "g per 10000 m"),
        ("denier", all.denier, 1, "g per 9000 m"),
        ("metric count Nm", all.metric_count, 3, "m per g"),
        ("cotton count Ne", all.cotton_count, 3, "hanks of 840 yd per lb"),
        ("worsted count NeK", all.worsted_count, 3, "hanks of 560 yd per lb"),
        ("woollen run", all.woollen_run, 3, "runs of 1600 yd per lb"),
        ("linen lea", all.linen_lea, 3, "leas of 300 yd per lb"),
    ]
}

/// Metres in the basis mass that was asked for.
fn in_basis(grist: Grist, basis: Mass) -> f64 {
    basis.as_grams() * grist.as_metres_per_gram()
}

fn title(answer: &ConvertAnswer) -> String {
    let held = match (answer.values.len(), answer.strands) {
        (1, 1) => String::new(),
        (1, strands) => format!(", {strands} strands held together"),
        (_, 1) => " held together".to_owned(),
        (_, strands) => format!(", {strands} strands of each held together"),
    };
    format!("{}{held}", and_list(&answer.values))
}

fn numbers(classes: Vec<WeightClass>) -> Vec<u8> {
    classes.into_iter().map(WeightClass::number).collect()
}

/// The class, and where the charts of the trade overlap, the other one too.
fn class_sentence(grist: Grist) -> String {
    let classes = or_list(classes_by_grist(grist));
    if classes.is_empty() {
        return "No published weight class fits these metres per 100 g.".to_owned();
    }
    let others = match or_list(classes_by_other_charts(grist)) {
        none if none.is_empty() => none,
        others => format!("; other charts call it class {others}"),
    };
    format!(
        "By metres per 100 g alone this is class {classes}{others}. Such charts are only a rough guide."
    )
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
        assert_eq!(numbers(classes_by_grist(both.grist)), [3]);
        assert_eq!(numbers(classes_by_other_charts(both.grist)), [4]);
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
