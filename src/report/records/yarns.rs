//! Yarns, listed and shown.

use super::{
    filled,
    stock::{StockRow, lots_table},
    swatches::{SwatchRow, swatches_table},
};
use crate::{
    app::{ListedYarn, YarnAnswer, YarnList, YarnView},
    label::contradiction::contradictions,
    measure::Grist,
    report::{
        Notice, Page, Render, Style, Table,
        chip::with_chip,
        contradiction::contradiction_words,
        facts_words::{facts_by_name, facts_in_style},
        json::{fields_of, list},
        listing::{ListFields, list_fields, list_page},
        unlabelled::{CouldBeFields, add_could_be},
    },
    words::{count_of, count_of_items, joined, lower_name, number},
};
use schemars::JsonSchema;
use serde::Serialize;

pub(super) fn remarks(listed: &ListedYarn) -> Vec<&'static str> {
    let gone = listed.yarn.record.discontinued.then_some("discontinued");
    let like = listed.by_likeness.then_some("similar name");
    gone.into_iter().chain(like).collect()
}

fn grist(listed: &ListedYarn) -> Option<f64> {
    let grist = listed.yarn.record.facts.grist();
    grist.map(Grist::as_metres_per_100_g)
}

/// Weight classes that it may have.
fn classes(listed: &ListedYarn) -> Vec<u8> {
    let classes = listed.yarn.record.facts.class.iter();
    let classes = classes.flat_map(|class| class.value.as_slice());
    classes.map(|class| class.number()).collect()
}

/// The same with their names: `3 light`.
pub(super) fn class_names(listed: &ListedYarn) -> String {
    let classes = listed.yarn.record.facts.class.iter();
    let classes = classes.flat_map(|class| class.value.as_slice());
    joined(classes, " or ")
}

pub(super) fn blend(listed: &ListedYarn) -> Option<String> {
    let blend = listed.yarn.record.facts.blend.as_ref();
    blend.map(|blend| blend.value.to_string())
}

fields_of! {
    /// A yarn of your records.
    YarnRow(listed: &ListedYarn) where yarn = &listed.yarn.record; {
        /// Who makes it.
        maker: String = yarn.maker.to_string(),
        /// Its name.
        name: String = yarn.name.to_string(),
        /// Metres per 100 g.
        m_per_100g: Option<f64> = grist(listed),
        /// Weight classes that it may have.
        weight_classes: Vec<u8> = classes(listed),
        /// What it is made of.
        blend: Option<String> = blend(listed),
        /// Whether it is discontinued.
        discontinued: bool = yarn.discontinued,
        /// Whether its name is only like the text.
        by_likeness: bool = listed.by_likeness,
    }
}

impl Render for YarnList {
    type Fields = ListFields<YarnRow>;

    fn fields(&self) -> Self::Fields {
        list_fields(&self.yarns, YarnRow::of)
    }

    fn page(&self, _: &Style) -> Page {
        let table = Table::of(&self.yarns)
            .left("yarn", |listed| listed.yarn.record.title())
            .right("m/100 g", |listed| {
                grist(listed).map(|metres| number(metres, 0))
            })
            .left("weight", class_names)
            .left("fibre", |listed| {
                let remarks = remarks(listed).into_iter().map(str::to_owned);
                joined(blend(listed).into_iter().chain(remarks), "; ")
            });
        let empty = match &self.text {
            Some(text) => format!("No yarn has a name like `{text}`."),
            None => "You have no yarns yet: import a table with `import yarns FILE`, or add one with `yarn add`.".to_owned(),
        };
        let count = count_of_items(self.yarns.len(), "yarn");
        let title = match (&self.text, self.yarns.as_slice()) {
            (_, []) => "Your yarns".to_owned(),
            (None, _) => format!("Your {count}"),
            (Some(text), _) => format!("{count} with a name like `{text}`"),
        };
        list_page(title, table, &empty)
    }
}

/// Shades that it comes in, each with its chip.
fn shades(answer: &YarnAnswer, style: &Style) -> String {
    let shades = answer.yarn.shades.iter().map(|shade| {
        let mut colours = answer.colours.iter();
        let colour = colours.find(|(of, _)| lower_name(of) == lower_name(shade));
        with_chip(shade, colour.map(|(_, colour)| colour), style)
    });
    joined(shades, ", ")
}

/// The fields of one yarn.
#[derive(Debug, Serialize, JsonSchema)]
pub struct YarnFields {
    #[serde(flatten)]
    notice: Notice,
    /// Yarns that it could be, where it was a ball without a label.
    #[serde(skip_serializing_if = "Option::is_none")]
    could_be: Option<CouldBeFields>,
}

impl Render for YarnAnswer {
    type Fields = YarnFields;

    fn fields(&self) -> YarnFields {
        YarnFields {
            notice: self.notice(&Style::default()),
            could_be: self.could_be.as_ref().map(CouldBeFields::of),
        }
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = self.notice(style).page(style);
        if let Some(could_be) = &self.could_be {
            add_could_be(&mut page, could_be);
        }
        page
    }
}

/// The fields of one yarn with what there is of it.
#[derive(Debug, Serialize, JsonSchema)]
pub struct YarnViewFields {
    #[serde(flatten)]
    yarn: YarnFields,
    /// Its lots.
    lots: Vec<StockRow>,
    /// Its swatches.
    swatches: Vec<SwatchRow>,
}

impl Render for YarnView {
    type Fields = YarnViewFields;

    fn fields(&self) -> YarnViewFields {
        YarnViewFields {
            yarn: self.yarn.fields(),
            lots: list(&self.lots, StockRow::of),
            swatches: list(&self.swatches, SwatchRow::of),
        }
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = self.yarn.page(style);
        if !self.lots.is_empty() {
            page.section("In your stash");
            page.table(lots_table(&self.lots, style, |_| None));
        }
        if !self.swatches.is_empty() {
            page.section("Swatches");
            page.table(swatches_table(&self.swatches));
        }
        page
    }
}

impl YarnAnswer {
    /// What is kept of one yarn, and where its label contradicts itself.
    fn notice(&self, style: &Style) -> Notice {
        let (yarn, facts) = (&self.yarn, &self.yarn.facts);
        let known = facts_in_style(facts, None, style);
        let mut notice = Notice::of(yarn.title()).said_already("known", known);
        for (what, text) in facts_by_name(facts, style) {
            if let Some(text) = text {
                notice = notice.detail(what, text);
            }
        }
        macro_rules! printed {
            ($($field:ident $label:literal),*) => {$(
                if let Some(printed) = &facts.$field {
                    notice = notice.folded(concat!($label, " as printed"), &printed.text);
                }
            )*};
        }
        printed!(length "length", mass "mass", count "count", class "class", blend "fibre", construction "construction", gauge "gauge", needles "needle", care "care", price "price");
        let further = joined(&yarn.more_gtins, ", ");
        let low = yarn
            .low
            .map(|low| format!("fewer than {}", count_of(f64::from(low), "ball")));
        let price = facts.price.as_ref();
        let more = [
            ("price", price.map(|price| price.text.clone())),
            (
                "article number",
                yarn.gtin.as_ref().map(ToString::to_string),
            ),
            ("further article numbers", filled(&further)),
            ("low", low),
            ("shades", filled(&shades(self, style))),
            ("notes", filled(&yarn.notes)),
        ];
        for (what, text) in more {
            notice = text
                .into_iter()
                .fold(notice, |notice, text| notice.detail(what, text));
        }
        let gone = "This yarn is discontinued.".to_owned();
        let found = contradictions(facts);
        notice
            .knowing(found.iter().map(|found| contradiction_words(found, style)))
            .knowing(yarn.discontinued.then_some(gone))
    }
}
