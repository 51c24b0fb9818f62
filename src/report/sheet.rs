//! The materials sheet of a pattern: its own yarns, what every size needs, and what
//! else would do, as patterns print them.

use super::{
    Page, Render, Role, SWATCH_LINE, Style, Table, alternative, caution_text,
    facts_words::material_words, gauge_words, judgement::news, per_size::skeins_of_sizes,
    sizes_as_patterns_write_them, what_to_know, working_sentences,
};
use crate::{
    app::{Alternative, Material, SheetAnswer},
    measure::{Grist, Length, Mass},
    record::{Need, NeedRange, StatedGauge},
    words::{and_list, number},
};
use serde::Serialize;
use serde_json::{Value, json};

/// What readers of a sheet must know before they swap.
const SUBSTITUTION_LINE: &str = "Buy by length, not by the number of balls or by grams: the counts are for balls of the length given here. If yours has another length, divide what your size needs, with the spare, by it and round up.";

impl Render for SheetAnswer {
    fn fields(&self) -> impl Serialize {
        let style = &Style::default();
        let materials = self.materials.iter();
        let alternatives = self.alternatives.iter();
        json!({
            "pattern": self.pattern,
            "sizes": self.sizes,
            "gauge": self.gauge.as_ref().map(gauge_in_stitch),
            "tolerance": style.tolerance(self.tolerance),
            "margin_percent": self.margin.as_percent(),
            "materials": materials.clone().map(|own| material(own, style)).collect::<Vec<_>>(),
            "needs": materials.map(needs).collect::<Vec<_>>(),
            "alternatives": alternatives
                .map(|found| alternative::fields(found, style))
                .collect::<Vec<_>>(),
            "cautions": shared_cautions(&self.alternatives),
            "substitution": SUBSTITUTION_LINE,
            "swatch": SWATCH_LINE,
            "working": working_sentences(&self.working, style),
            "warnings": what_to_know(&self.notes, &self.remarks, style),
        })
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled(format!("Materials for {}", self.pattern));
        let sizes = sizes_as_patterns_write_them(&self.sizes);
        page.text(Role::Plain, format!("Sizes {sizes}"));
        if let Some(gauge) = &self.gauge {
            let gauge = gauge_in_stitch(gauge);
            page.text(Role::Plain, format!("Gauge: {gauge}"));
        }
        let margin = number(self.margin.as_percent(), 1);
        page.section(format!("Yarn, with {margin} % spare"));
        let materials = self.materials.iter();
        let materials: Vec<String> = materials.map(|own| sentence(own, style)).collect();
        page.items(Role::Plain, &materials);
        add_needs(&mut page, &self.materials, style);
        for material in &self.materials {
            add_alternatives(&mut page, self, material, style);
        }
        page.section("Before you swap");
        page.text(Role::Plain, SUBSTITUTION_LINE);
        page.text(Role::Plain, SWATCH_LINE);
        page.part(
            "Cautions",
            Role::Caution,
            &shared_cautions(&self.alternatives),
        );
        page.working(
            &working_sentences(&self.working, style),
            &what_to_know(&self.notes, &self.remarks, style),
        );
        page
    }
}

/// The alternatives of a sheet as a table for programs: columns, and a row each.
pub fn sheet_cells(answer: &SheetAnswer) -> (Vec<String>, Vec<Vec<String>>) {
    let cells = alternative::cells(&answer.alternatives, &answer.sizes);
    let heads = cells.columns.into_iter().map(|(head, _)| head);
    (heads.collect(), cells.rows)
}

/// One of the pattern's own yarns; `called` is the yarn of the sample; `skeins` are
/// those of each size, margin included, `stated_skeins` as the pattern states them.
fn material(own: &Material, style: &Style) -> Value {
    let facts = &own.facts;
    json!({
        "yarn": own.key,
        "called": own.called,
        "text": material_words(facts, style),
        "strands": own.strands,
        "put_up_m": facts.skein_length().map(Length::as_metres),
        "put_up_g": facts.skein_mass().map(Mass::as_grams),
        "m_per_100g": facts.grist().map(Grist::as_metres_per_100_g),
        "stated_skeins": stated_skeins(own),
        "skeins": own.skeins.iter().map(|bought| bought.purchase.skeins).collect::<Vec<_>>(),
    })
}

/// Skeins of each size as the pattern states them, where it does.
fn stated_skeins(own: &Material) -> Vec<String> {
    let stated = own.stated.iter().filter_map(|need| match need {
        Need::Skeins { count, .. } => Some(number(*count, 2)),
        Need::Length(_) | Need::Mass(_) => None,
    });
    stated.collect()
}

/// A yarn as patterns print it: key, yarn, put-up in both systems, counts per size.
fn sentence(own: &Material, style: &Style) -> String {
    let counts = own.skeins.iter();
    let counts: Vec<String> = counts
        .map(|bought| bought.purchase.skeins.to_string())
        .collect();
    let called = own.called.as_deref().unwrap_or("a yarn that is not named");
    let held = match own.strands {
        1 => String::new(),
        n => format!(", {n} strands held together"),
    };
    let counted = if counts.is_empty() {
        "skeins cannot be counted".to_owned()
    } else {
        skeins_of_sizes(&counts)
    };
    let stated = stated_skeins(own);
    let stated = if stated.is_empty() || stated == counts {
        String::new()
    } else {
        let stated = sizes_as_patterns_write_them(&stated);
        format!("; {stated} without the spare")
    };
    let text = material_words(&own.facts, style);
    format!("{}: {called} ({text}){held}: {counted}{stated}", own.key)
}

/// What every size needs of one yarn, without the margin.
fn needs(own: &Material) -> Value {
    let size = |(size, range): &(String, NeedRange)| {
        json!({
            "size": size,
            "need_m": range.buy_for.as_metres(),
            "need_yd": range.buy_for.as_yards(),
            "need_at_least_m": range.at_least.as_metres(),
        })
    };
    json!({ "yarn": own.key, "sizes": own.needs.iter().map(size).collect::<Vec<_>>() })
}

fn add_needs(page: &mut Page, materials: &[Material], style: &Style) {
    let stated = materials.iter().filter(|own| !own.needs.is_empty());
    let sizes = |own: &Material, amount: fn(Length) -> f64| {
        let needs = own.needs.iter();
        sizes_as_patterns_write_them(needs.map(|(_, need)| number(amount(need.buy_for), 0)))
    };
    let metres = |own: &Material| sizes(own, Length::as_metres);
    let yards = |own: &Material| sizes(own, Length::as_yards);
    let [first, second] = style.ordered("m", "yd");
    let table = Table::of(stated)
        .left("yarn", |own| own.key.as_str())
        .left(first, |own| {
            style.ordered(metres(own), yards(own))[0].clone()
        })
        .left(second, |own| {
            style.ordered(metres(own), yards(own))[1].clone()
        });
    let table = Table::from(table);
    if !table.rows.is_empty() {
        page.section("Needed for each size, without the spare");
        page.table(table);
    }
}

fn add_alternatives(page: &mut Page, answer: &SheetAnswer, material: &Material, style: &Style) {
    let found = answer.alternatives.iter();
    let found: Vec<&Alternative> = found.filter(|found| found.key == material.key).collect();
    if found.is_empty() {
        return;
    }
    page.section(format!("Instead of {}", material.key));
    let mass = material.facts.skein_mass();
    page.table(alternative::offered(&found, mass, style));
    for found in found {
        let verdict = found.answer.judgement.verdict;
        page.text(news(verdict), alternative::sentence(found, style));
        let to_do: Vec<String> = alternative::to_do(found, style).into_iter().collect();
        page.items(Role::Plain, &to_do);
    }
}

/// Every caution once; with the yarns that it is about, where not with all.
fn shared_cautions(found: &[Alternative]) -> Vec<String> {
    let each: Vec<(&str, Vec<String>)> = found
        .iter()
        .map(|found| &found.answer)
        .map(|found| {
            (
                found.candidate.title.as_str(),
                found.judgement.cautions.iter(),
            )
        })
        .map(|(title, cautions)| (title, cautions.map(caution_text).collect()))
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
            format!("{}: {caution}", and_list(names))
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
