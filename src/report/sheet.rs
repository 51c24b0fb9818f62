//! The materials sheet of a pattern, in two views: what its readers get, a row for each
//! size, and the designer's working copy with all that it rests on.

use super::{
    Block, Page, Render, Role, SWATCH_LINE, Style,
    alternative::{self, AlternativeFields},
    caution_text,
    facts_words::material_words,
    gauge_words,
    json::{fields_of, list},
    judgement::{cautions_of_list, news, reason_rows, said_of, verdict_sentence},
    per_size::{counts_of_sizes, role_name},
    purchase::{counted, counter},
    sheet_sizes::{add_sizes, of_material, word},
    sizes_as_patterns_write_them, what_to_know,
    working::{WORKED_OUT, held_together},
    working_sentences,
};
use crate::{
    app::{Alternative, CandidateAnswer, Material, SheetAnswer, Working},
    matching::Caution,
    measure::{Grist, Length, Mass},
    record::{Need, NeedRange, StatedGauge},
    words::{and_list, joined, number},
};

/// What readers of a sheet must know before they swap, for programs.
const SUBSTITUTION_LINE: &str = "Buy by length, not by the number of balls or by grams: the counts are for balls of the length given here. If yours has another length, divide what your size needs, with the spare, by it and round up.";

fields_of! {
    /// The materials sheet of a pattern.
    SheetFields(answer: &SheetAnswer, style: &Style) {
        /// The pattern.
        pattern: String = answer.pattern.clone(),
        /// Its sizes.
        sizes: Vec<String> = answer.sizes.clone(),
        /// Its gauge.
        gauge: Option<String> = answer.gauge.as_ref().map(gauge_in_stitch),
        /// How far metres per 100 g may differ.
        tolerance: String = style.tolerance(answer.tolerance),
        /// Spare yarn that is counted in, in percent.
        margin_percent: f64 = answer.margin.as_percent(),
        /// The pattern's own yarns.
        materials: Vec<MaterialFields> =
            list(&answer.materials, |own| MaterialFields::of(own, style)),
        /// What each size needs of them.
        needs: Vec<MaterialNeeds> = list(&answer.materials, MaterialNeeds::of),
        /// What could replace them.
        alternatives: Vec<AlternativeFields> =
            list(&answer.alternatives, |found| AlternativeFields::of(found, style)),
        /// Cautions, each once.
        cautions: Vec<String> = shared_cautions(&answer.alternatives, caution_text),
        /// What readers need before they swap.
        substitution: &'static str = SUBSTITUTION_LINE,
        /// That only a washed swatch proves it.
        swatch: &'static str = SWATCH_LINE,
        /// How it was worked out.
        working: Vec<String> = working_sentences(&answer.working, style),
        /// What was noticed in what was typed.
        warnings: Vec<String> = what_to_know(&answer.notes, &answer.remarks, style),
    }
}

fields_of! {
    /// One of the pattern's own yarns.
    MaterialFields(own: &Material, style: &Style) where facts = &own.facts; {
        /// Its key.
        yarn: String = own.key.clone(),
        /// The yarn of the sample.
        called: Option<String> = own.called.clone(),
        /// What is known of it, in a line.
        text: String = material_words(facts, style),
        /// Strands held together.
        strands: u8 = own.strands,
        /// Metres of one skein.
        put_up_m: Option<f64> = facts.skein_length().map(Length::as_metres),
        /// Grams of one skein.
        put_up_g: Option<f64> = facts.skein_mass().map(Mass::as_grams),
        /// Metres per 100 g.
        m_per_100g: Option<f64> = facts.grist().map(Grist::as_metres_per_100_g),
        /// Skeins of each size as the pattern states them.
        stated_skeins: Vec<String> = stated_skeins(own),
        /// Whole skeins of each size, spare included.
        skeins: Vec<u32> = list(&own.skeins, |bought| bought.purchase.skeins),
    }
}

fields_of! {
    /// What each size needs of one yarn.
    MaterialNeeds(own: &Material) {
        /// Key of the yarn.
        yarn: String = own.key.clone(),
        /// Each size.
        sizes: Vec<SizeNeed> = list(&own.needs, SizeNeed::of),
    }
}

fields_of! {
    /// What one size needs, without spare.
    SizeNeed(need: &(String, NeedRange)) where (size, range) = need; {
        /// The size.
        size: String = size.clone(),
        /// Metres.
        need_m: f64 = range.buy_for.as_metres(),
        /// The same in yards.
        need_yd: f64 = range.buy_for.as_yards(),
        /// The lower end in metres, where it is a range.
        need_at_least_m: f64 = range.at_least.as_metres(),
    }
}

impl Render for SheetAnswer {
    type Fields = SheetFields;

    fn fields(&self) -> Self::Fields {
        SheetFields::of(self, &Style::default())
    }

    fn page(&self, style: &Style) -> Page {
        readers_sheet(self, style)
    }

    fn headline(&self, style: &Style) -> String {
        let all = self.materials.iter();
        joined(all.map(|own| format!("{}.", to_buy(self, own, style))), " ")
    }
}

/// The designer's copy of a sheet: what readers get, then all that it rests on.
pub struct WorkingCopy(pub SheetAnswer);

impl Render for WorkingCopy {
    type Fields = SheetFields;

    fn fields(&self) -> Self::Fields {
        self.0.fields()
    }

    fn page(&self, style: &Style) -> Page {
        let answer = &self.0;
        let mut page = readers_sheet(answer, style);
        if let Some(Block::Title(title)) = page.blocks.first_mut() {
            title.push_str(", working copy");
        }
        let lines = answer.materials.iter();
        let lines: Vec<String> = lines.map(|own| as_printed(own, style)).collect();
        page.part("In a line, as patterns print it", Role::Plain, &lines);
        for found in &answer.alternatives {
            page.section(format!(
                "{} for yarn {}",
                alternative::titled(found),
                found.key
            ));
            page.text(
                news(found.answer.judgement.verdict),
                verdict_sentence(&found.answer, style),
            );
            page.blocks
                .push(Block::Reasons(reason_rows(&found.answer.judgement, style)));
            page.items(Role::Plain, &alternative::in_full(found, style));
        }
        let cautions = shared_cautions(&answer.alternatives, caution_text);
        page.part("Cautions and their sources", Role::Plain, &cautions);
        page.part("Notes", Role::Caution, &sheet_notes(answer, style));
        let working = working_sentences(&answer.working, style);
        page.part(WORKED_OUT, Role::Plain, &working);
        page
    }

    fn headline(&self, style: &Style) -> String {
        self.0.headline(style)
    }
}

/// What a designer needs beside a sheet, and its readers do not.
pub fn sheet_notes(answer: &SheetAnswer, style: &Style) -> Vec<String> {
    what_to_know(&answer.notes, &answer.remarks, style)
}

/// The sheet as it can be published: what to buy, for each size, and what could replace
/// it.
fn readers_sheet(answer: &SheetAnswer, style: &Style) -> Page {
    let mut page = Page::titled(format!("Yarn for {}", answer.pattern));
    let materials = answer.materials.iter();
    let lines = materials.map(|own| {
        let facts = material_words(&own.facts, style);
        format!("{} ({facts})", to_buy(answer, own, style))
    });
    page.items(Role::Plain, &lines.collect::<Vec<_>>());
    if let Some(gauge) = &answer.gauge {
        let over = gauge_in_both(&gauge_in_stitch(gauge));
        page.text(Role::Plain, format!("Gauge: {over}"));
    }
    for working in &answer.working {
        if let Working::HeldTogether(keys) = working {
            page.text(Role::Plain, held_together(keys));
        }
    }
    for own in &answer.materials {
        add_sizes(&mut page, answer, own, style);
    }
    for (lines, names) in replacements(answer, style) {
        let head = format!("Instead of {}", and_list(names));
        page.part(&head, Role::Plain, &lines);
    }
    page.section("Before you swap");
    let by_length = by_length(word(answer), answer.margin.as_percent());
    page.items(Role::Plain, &[by_length, SWATCH_LINE.to_owned()]);
    let cautions = shared_cautions(&answer.alternatives, |caution| {
        caution.hazard.text.to_owned()
    });
    page.part("Cautions", Role::Plain, &cautions);
    page
}

/// The alternatives of a sheet as a table for programs: columns, and a row each.
pub fn sheet_cells(answer: &SheetAnswer) -> (Vec<String>, Vec<Vec<String>>) {
    let cells = alternative::cells(&answer.alternatives, &answer.sizes);
    let heads = cells.columns.into_iter().map(|(head, _)| head);
    (heads.collect(), cells.rows)
}

/// Skeins of each size as the pattern states them, where it does.
fn stated_skeins(own: &Material) -> Vec<String> {
    let stated = own.stated.iter().filter_map(|need| match need {
        Need::Skeins { count, .. } => Some(number(*count, 2)),
        Need::Length(_) | Need::Mass(_) => None,
    });
    stated.collect()
}

/// What could replace each yarn, once for all yarns that the same could replace.
fn replacements(answer: &SheetAnswer, style: &Style) -> Vec<(Vec<String>, Vec<String>)> {
    let mut shared: Vec<(Vec<String>, Vec<String>)> = Vec::new();
    for own in &answer.materials {
        let found = of_material(answer, own);
        let lines: Vec<String> = found
            .map(|found| alternative::sentence(found, style))
            .collect();
        let name = role_words(answer, own);
        match shared.iter_mut().find(|(known, _)| *known == lines) {
            Some((_, names)) => names.push(name),
            None => shared.push((lines, vec![name])),
        }
    }
    shared
}

/// A yarn as patterns print it: key, yarn, put-up in both systems, counts per size.
fn as_printed(own: &Material, style: &Style) -> String {
    let counts = own.skeins.iter();
    let counts: Vec<String> = counts
        .map(|bought| bought.purchase.skeins.to_string())
        .collect();
    let counted = if counts.is_empty() {
        "how many to buy is not known".to_owned()
    } else {
        counts_of_sizes(&counts, counter(&own.facts))
    };
    let stated = stated_skeins(own);
    let stated = if stated.is_empty() || stated == counts {
        String::new()
    } else {
        let stated = sizes_as_patterns_write_them(&stated);
        format!("; {stated} without the spare")
    };
    let text = material_words(&own.facts, style);
    format!("{}: {} ({text}): {counted}{stated}", own.key, called(own))
}

/// The yarn, and how it is held.
fn called(own: &Material) -> String {
    let called = own.called.as_deref().unwrap_or("a yarn that is not named");
    match own.strands {
        1 => called.to_owned(),
        n => format!("{called}, {n} strands held together"),
    }
}

/// `9 to 16 balls of Grundlin DK`, with the key where the pattern has several yarns.
fn to_buy(answer: &SheetAnswer, own: &Material, style: &Style) -> String {
    let key = match answer.materials.as_slice() {
        [_] => String::new(),
        _ => format!("{}: ", own.key),
    };
    let counts = || own.skeins.iter().map(|bought| bought.purchase.skeins);
    let word = word(answer);
    match (counts().min(), counts().max()) {
        (Some(least), Some(most)) if least == most => {
            format!("{key}{} of {}", counted(least, word), called(own))
        }
        (Some(least), Some(most)) => {
            format!("{key}{least} to {} of {}", counted(most, word), called(own))
        }
        _ => match needs_in_short(own, style) {
            Some(needs) => format!("{key}{needs} of {}", called(own)),
            None => format!("{key}{}, how much is not known", called(own)),
        },
    }
}

/// `960 m (1050 yd) to 1680 m (1837 yd)`, where that is known and no ball is.
fn needs_in_short(own: &Material, style: &Style) -> Option<String> {
    let first = own
        .needs
        .first()
        .map(|(_, need)| style.length(need.buy_for))?;
    let last = own
        .needs
        .last()
        .map(|(_, need)| style.length(need.buy_for))?;
    Some(if first == last {
        first
    } else {
        format!("{first} to {last}")
    })
}

/// `the yarn`; `colour MC` or `yarn B` where the pattern has several.
fn role_words(answer: &SheetAnswer, own: &Material) -> String {
    match answer.materials.as_slice() {
        [_] => own.called.clone().unwrap_or_else(|| "the yarn".to_owned()),
        _ => role_name(&own.key),
    }
}

/// Every caution once; with the yarns that it is about, where not with all.
fn shared_cautions(found: &[Alternative], text: impl Fn(&Caution) -> String) -> Vec<String> {
    let found: Vec<&CandidateAnswer> = found.iter().map(|found| &found.answer).collect();
    said_of(cautions_of_list(&found, "", text))
}

/// `22 stitches x 30 rows over 10 cm, garter`.
fn gauge_in_stitch(stated: &StatedGauge) -> String {
    let stitch = stated.stitch.as_ref();
    let stitch = stitch.map_or_else(String::new, |stitch| format!(", {}", stitch.name()));
    format!("{}{stitch}", gauge_words(&stated.gauge))
}

/// How to count for a yarn that the sheet does not name.
fn by_length(word: &str, spare: f64) -> String {
    let spare = match number(spare, 1).as_str() {
        "0" => String::new(),
        percent => format!(" and {percent} % more"),
    };
    format!(
        "Another yarn? Buy by length, not by number or by weight: divide what your size needs{spare} by the length of one {word}, and round up."
    )
}

/// `over 10 cm` as `over 10 cm (4 in)`, as the trade names both.
fn gauge_in_both(gauge: &str) -> String {
    let both = [("over 10 cm", " (4 in)"), ("over 4 in", " (10 cm)")];
    let known = both.into_iter().find(|(over, _)| gauge.contains(over));
    known.map_or(gauge.to_owned(), |(over, other)| {
        gauge.replacen(over, &format!("{over}{other}"), 1)
    })
}
