//! How many skeins a need takes.

use super::{
    EstimateLine, Page, Render, Role, SkeinsLine, Style, SureLine,
    check::{about_fewest, skeins_table},
    gauge_change::GaugeChangeFields,
    sure::sure_part,
    working_sentences,
};
use crate::{
    app::{SkeinsAnswer, Working},
    words::number,
};
use serde::Serialize;

/// Fields of the answer to `skeins`. Those of the first size stand at the top.
#[derive(Debug, Serialize)]
struct SkeinsFields {
    /// Answer of the first (or only) size, where it can be counted.
    #[serde(flatten)]
    first: Option<SkeinsLine>,
    /// Answer of every size, in order.
    sizes: Vec<SkeinsLine>,
    /// What needs stated as a mass alone may come to; several readings, never one.
    estimates: Vec<EstimateLine>,
    /// What one skein is, in words.
    put_up: String,
    /// Margin bought beyond the need, %.
    margin_percent: f64,
    /// What another gauge than the pattern's does, where one was given.
    #[serde(skip_serializing_if = "Option::is_none")]
    gauge_change: Option<GaugeChangeFields>,
    /// The chance of running out, where it was asked for.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    sure: Vec<SureLine>,
    /// How the need was understood and changed, a sentence each.
    working: Vec<String>,
    /// What to know about what was read.
    warnings: Vec<String>,
}

impl Render for SkeinsAnswer {
    fn fields(&self) -> impl Serialize {
        let style = Style::default();
        SkeinsFields {
            first: sizes(self).into_iter().next(),
            sizes: sizes(self),
            estimates: estimates(self),
            put_up: put_up_words(self, &style),
            margin_percent: self.margin.as_percent(),
            gauge_change: self.gauge_change.as_ref().map(GaugeChangeFields::new),
            sure: sure(self),
            working: working(self, &style),
            warnings: style.notes(&self.notes),
        }
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled(format!(
            "Skeins of {}, margin {} %",
            put_up_words(self, style),
            number(self.margin.as_percent(), 1)
        ));
        page.table(skeins_table(&sizes(self), style));
        if let Some(sentence) = about_fewest(&sizes(self)) {
            page.text(Role::Aside, sentence);
        }
        if let Some((head, table)) = sure_part(&sure(self)) {
            page.section(head);
            page.table(table);
        }
        let estimates = estimates(self);
        let estimates: Vec<String> = estimates.iter().map(|line| line.sentence(style)).collect();
        page.part(
            "Estimated: the need is a mass and no length per mass is known",
            Role::Doubtful,
            &estimates,
        );
        page.part("Working", Role::Aside, &working(self, style));
        page.part("To know", Role::Caution, &style.notes(&self.notes));
        page
    }
}

/// What the only yarn is called.
const KEY: &str = "A";

fn sizes(answer: &SkeinsAnswer) -> Vec<SkeinsLine> {
    let sizes = answer.sizes.iter();
    sizes.map(|bought| SkeinsLine::new(KEY, bought)).collect()
}

fn estimates(answer: &SkeinsAnswer) -> Vec<EstimateLine> {
    let estimates = answer.estimates.iter();
    estimates.map(|it| EstimateLine::new(KEY, it)).collect()
}

fn sure(answer: &SkeinsAnswer) -> Vec<SureLine> {
    let sure = answer.sure.iter();
    sure.map(|found| SureLine::new(KEY, found)).collect()
}

fn put_up_words(answer: &SkeinsAnswer, style: &Style) -> String {
    let put_up = &answer.put_up;
    style.skein(put_up.skein_length(), put_up.skein_mass())
}

/// How the need was changed and rounded, and what the chance rests on.
fn working(answer: &SkeinsAnswer, style: &Style) -> Vec<String> {
    let change = answer.gauge_change.map(Working::AtAnotherGauge);
    let change: Vec<Working> = change.into_iter().collect();
    let strands = match answer.strands {
        1 => String::new(),
        strands => format!(" x {strands} strands"),
    };
    let rounding = format!(
        "Skeins = need{strands} x {} / length of one skein, rounded up to whole skeins.",
        number(1.0 + answer.margin.as_fraction(), 4)
    );
    let change = working_sentences(&change, style);
    let sentences = change.into_iter().chain([rounding]);
    let basis = answer.chance_basis.map(Working::Chance);
    let basis: Vec<Working> = basis.into_iter().collect();
    sentences.chain(working_sentences(&basis, style)).collect()
}
