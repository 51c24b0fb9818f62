//! How many skeins a need takes.

use super::{
    Page, Render, Role, Style,
    gauge_change::gauge_change_fields,
    json::without_empty,
    purchase::{
        add_chances, add_skeins, chance_fields, estimate_fields, estimate_sentences, skeins_fields,
    },
    working_sentences,
};
use crate::{
    app::{SkeinsAnswer, Working},
    words::number,
};
use serde::Serialize;
use serde_json::{Value, json};

/// What the only yarn is called.
const KEY: &str = "A";

impl Render for SkeinsAnswer {
    /// Fields of the first (or only) size, where it can be counted, stand at the
    /// top; `sizes` are all, in order.
    fn fields(&self) -> impl Serialize {
        let style = &Style::default();
        let sizes: Vec<Value> = lines(&self.sizes, skeins_fields);
        let mut fields = sizes.first().cloned().unwrap_or_else(|| json!({}));
        let rest = without_empty(
            json!({
                "sizes": sizes,
                "estimates": lines(&self.estimates, estimate_fields),
                "put_up": put_up_words(self, style),
                "margin_percent": self.margin.as_percent(),
                "gauge_change": self.gauge_change.as_ref().map(gauge_change_fields),
                "sure": lines(&self.sure, chance_fields),
                "working": working(self, style),
                "warnings": style.notes(&self.notes),
            }),
            &["gauge_change", "sure"],
        );
        if let (Value::Object(fields), Value::Object(rest)) = (&mut fields, rest) {
            fields.extend(rest);
        }
        fields
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled(format!(
            "Skeins of {}, margin {} %",
            put_up_words(self, style),
            number(self.margin.as_percent(), 1)
        ));
        add_skeins(&mut page, &self.sizes, style);
        add_chances(&mut page, &self.sure);
        page.part(
            "Estimated: the need is a mass and no length per mass is known",
            Role::Doubtful,
            &estimate_sentences(&self.estimates, style),
        );
        page.working(&working(self, style), &style.notes(&self.notes));
        page
    }
}

fn lines<T>(things: &[T], line: fn(&str, &T) -> Value) -> Vec<Value> {
    things.iter().map(|thing| line(KEY, thing)).collect()
}

fn put_up_words(answer: &SkeinsAnswer, style: &Style) -> String {
    let put_up = &answer.put_up;
    style.skein(put_up.skein_length(), put_up.skein_mass())
}

/// How the need was changed and rounded, and what the chance rests on.
fn working(answer: &SkeinsAnswer, style: &Style) -> Vec<String> {
    let change = answer.gauge_change.map(Working::AtAnotherGauge);
    let strands = match answer.strands {
        1 => String::new(),
        strands => format!(" x {strands} strands"),
    };
    let rounding = format!(
        "Skeins = need{strands} x {} / length of one skein, rounded up to whole skeins.",
        number(1.0 + answer.margin.as_fraction(), 4)
    );
    let change = working_sentences(change.as_slice(), style);
    let sentences = change.into_iter().chain([rounding]);
    let basis = answer.chance_basis.map(Working::Chance);
    sentences
        .chain(working_sentences(basis.as_slice(), style))
        .collect()
}
