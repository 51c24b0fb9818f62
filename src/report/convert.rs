//! One grist in every unit.

use super::{Answer, Block, Page, Render, Role, Style, Table};
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
use serde_json::{Map, Value, json};

/// A grist in one unit: its name for programs, what people call it, the value with
/// so many decimals, and the unit.
type Row = (&'static str, &'static str, f64, usize, &'static str);

impl Render for ConvertAnswer {
    /// `weight_classes` are a guideline by published grists, never proof;
    /// `other_weight_classes` are what other charts of the trade give it.
    fn fields(&self) -> impl Serialize {
        let mut fields = Map::new();
        fields.insert("of".to_owned(), json!(title(self)));
        for (name, _, value, ..) in rows(self.grist) {
            fields.insert(name.to_owned(), json!(value));
        }
        let rest = json!({
            "m_per_basis": self.basis.map(|basis| in_basis(self.grist, basis)),
            "basis_g": self.basis.map(Mass::as_grams),
            "weight_classes": numbers(classes_by_grist(self.grist)),
            "other_weight_classes": numbers(classes_by_other_charts(self.grist)),
            "warnings": Style::default().notes(&self.notes),
        });
        if let Value::Object(rest) = rest {
            fields.extend(rest);
        }
        fields
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled(title(self));
        let grist = style.grist(self.grist);
        let said = format!("{grist}. {}", class_sentence(self.grist));
        page.blocks.push(Block::Answer(Answer::alone(said)));
        let rows = rows(self.grist).map(|(_, measure, value, places, unit)| {
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
fn rows(grist: Grist) -> [Row; 13] {
    let count = |system| grist.as_count(system);
    let (metres, yards) = (grist.as_metres_per_100_g(), grist.as_yards_per_pound());
    [
        ("m_per_100g", "length and weight", metres, 1, "m/100 g"),
        ("m_per_50g", "", metres / 2.0, 1, "m/50 g"),
        ("yd_per_100g", "", metres / YARD_M, 1, "yd/100 g"),
        ("yd_per_oz", "", yards / 16.0, 1, "yd/oz"),
        ("yd_per_lb", "", yards, 1, "yd/lb"),
        ("tex", "tex", grist.as_tex(), 2, "g per 1000 m"),
        ("dtex", "dtex", count(CountSystem::Decitex), 1, "g per 10000 m"),
        ("denier", "denier", count(CountSystem::Denier), 1, "g per 9000 m"),
        ("metric_count", "metric count Nm", count(CountSystem::Metric), 3, "m per g"),
        ("cotton_count", "cotton count Ne", count(CountSystem::Cotton), 3, "hanks of 840 yd per lb"),
        ("worsted_count", "worsted count NeK", count(CountSystem::Worsted), 3, "hanks of 560 yd per lb"),
        ("woollen_run", "woollen run", count(CountSystem::WoollenRun), 3, "runs of 1600 yd per lb"),
        ("linen_lea", "linen lea", count(CountSystem::Linen), 3, "leas of 300 yd per lb"),
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
