//! Yarns, listed and shown.

use super::{ListEntry, filled};
use crate::{
    app::{ListedYarn, YarnAnswer, YarnList},
    label::contradiction::{contradiction_text, contradictions},
    report::{
        Align, ListFields, Notice, Page, Render, Style, Table, facts_words::facts_in_style,
        list_page,
    },
    words::number,
};
use serde::Serialize;

/// Fields of one yarn of a list.
#[derive(Debug, Serialize)]
struct YarnFields {
    /// Who makes it.
    maker: String,
    /// What it is called.
    name: String,
    /// Length per mass.
    m_per_100g: Option<f64>,
    /// Weight classes that it may have.
    weight_classes: Vec<u8>,
    /// Fibres, in words.
    blend: Option<String>,
    /// Whether it is no longer made.
    discontinued: bool,
    /// Whether it was found by likeness to the text only.
    by_likeness: bool,
}

impl YarnFields {
    fn new(listed: &ListedYarn) -> Self {
        let yarn = &listed.yarn.record;
        let classes = yarn.facts.class.iter();
        let blend = yarn.facts.blend.as_ref();
        Self {
            maker: yarn.maker.to_string(),
            name: yarn.name.to_string(),
            m_per_100g: yarn.facts.grist().map(|grist| grist.as_metres_per_100_g()),
            weight_classes: classes
                .flat_map(|class| class.value.as_slice())
                .map(|class| class.number())
                .collect(),
            blend: blend.map(|blend| blend.value.to_string()),
            discontinued: yarn.discontinued,
            by_likeness: listed.by_likeness,
        }
    }

    fn row(self, listed: &ListedYarn) -> Vec<String> {
        let classes: Vec<String> = self.weight_classes.iter().map(u8::to_string).collect();
        vec![
            format!("{}, {}", self.maker, self.name),
            self.m_per_100g
                .map_or_else(String::new, |metres| number(metres, 0)),
            classes.join(" or "),
            self.blend.unwrap_or_default(),
            remarks(listed).join(", "),
        ]
    }
}

fn remarks(listed: &ListedYarn) -> Vec<&'static str> {
    let gone = listed.yarn.record.discontinued.then_some("no longer made");
    let like = listed.by_likeness.then_some("only like what was typed");
    gone.into_iter().chain(like).collect()
}

impl Render for YarnList {
    fn fields(&self) -> impl Serialize {
        ListFields::new(self.yarns.iter().map(YarnFields::new))
    }

    fn page(&self, _: &Style) -> Page {
        let mut table = Table::new(&[
            ("yarn", Align::Left),
            ("m/100 g", Align::Right),
            ("class", Align::Left),
            ("fibre", Align::Left),
            ("", Align::Left),
        ]);
        let yarns = self.yarns.iter();
        table.rows = yarns.map(|yarn| YarnFields::new(yarn).row(yarn)).collect();
        let empty = match &self.text {
            Some(text) => format!("No yarn is called anything like `{text}`."),
            None => "No yarn is kept yet: import a table with `import yarns FILE`, or add one with `yarn add`.".to_owned(),
        };
        list_page("Yarns", table, &empty)
    }
}

/// A yarn of a list.
pub fn yarn_entry(listed: &ListedYarn, style: &Style) -> ListEntry {
    let yarn = &listed.yarn.record;
    let mut words = vec![facts_in_style(&yarn.facts, None, style)];
    words.extend(remarks(listed).into_iter().map(str::to_owned));
    ListEntry {
        number: listed.yarn.id.number(),
        title: yarn.title(),
        words: words.join("; "),
    }
}

impl Render for YarnAnswer {
    fn fields(&self) -> impl Serialize {
        yarn_notice(self, &Style::default())
    }

    fn page(&self, style: &Style) -> Page {
        yarn_notice(self, style).as_page()
    }
}

/// What is kept of one yarn, and where its label contradicts itself.
fn yarn_notice(YarnAnswer(yarn): &YarnAnswer, style: &Style) -> Notice {
    let facts = &yarn.facts;
    let mut details = vec![("known".to_owned(), facts_in_style(facts, None, style))];
    macro_rules! printed {
        ($($field:ident $label:literal),*) => {$(
            if let Some(printed) = &facts.$field {
                details.push((format!("{} as printed", $label), printed.text.clone()));
            }
        )*};
    }
    printed!(length "length", mass "mass", count "count", class "class", blend "fibre", construction "construction", gauge "gauge", needles "needle", care "care", price "price");
    let more = [
        (
            "article number",
            yarn.gtin.as_ref().map(ToString::to_string),
        ),
        ("shades", filled(&yarn.shades.join(", "))),
        ("notes", filled(&yarn.notes)),
    ];
    let more = more.into_iter();
    details.extend(more.filter_map(|(what, text)| Some((what.to_owned(), text?))));
    let found = contradictions(facts);
    let mut warnings: Vec<String> = found.iter().map(contradiction_text).collect();
    if yarn.discontinued {
        warnings.push("This yarn is no longer made.".to_owned());
    }
    Notice {
        done: yarn.title(),
        details,
        warnings,
    }
}
