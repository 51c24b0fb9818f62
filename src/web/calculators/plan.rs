//! What can be made from the stash: patterns in the order in which they matter.

use super::calculator_page::{CalculatorPage, look_up};
use crate::{
    app::{self, FormData, PatternChoice, PlanAnswer, PlanRequest, Records},
    web::{
        fields::{pattern_link, with_pattern},
        form::{Field, Form, Group, Head, Kind},
        refusal::Refusal,
        visit::{PageResult, Visit},
    },
};

const PAGE: CalculatorPage = CalculatorPage {
    title: "What can I make from my stash?",
    here: "/plan",
    intro: "Choose patterns, the one that matters most first. Each gets yarn from your stash that no other needs; for the rest there is a shopping list.",
    links: &[],
};

/// Fields that a form has at least, and at most.
const FIELDS: (usize, usize) = (4, 40);

pub(super) async fn page(visit: Visit, sent: FormData) -> PageResult {
    let found = visit.answer(&sent, |records, typed| look_up(records, typed, answer));
    let (patterns, answer) = found.await?;
    let chosen = places(&sent).filter_map(|place| pattern_link(&of_place(&sent, place), &patterns));
    let names: Vec<(String, String)> = chosen.collect();
    let form = form(&patterns, &sent);
    Ok(PAGE.show(&visit, &sent, (form, &names), answer, |_| ()))
}

fn answer(
    records: &Records,
    patterns: &[PatternChoice],
    typed: &FormData,
) -> Result<PlanAnswer, Refusal> {
    let mut request: PlanRequest = app::from_form(typed)?;
    for place in places(typed) {
        let named = with_pattern(&of_place(typed, place), patterns)?;
        let (pattern, size) = (named.text("pattern"), named.text("size"));
        request.projects.push(format!("{pattern}:{size}"));
    }
    Ok(app::plan(records, &request)?)
}

/// Places where a pattern is chosen.
fn places(typed: &FormData) -> impl Iterator<Item = usize> {
    let (_, most) = FIELDS;
    (1..=most).filter(|place| typed.filled(&field_at(*place)).is_some())
}

fn field_at(place: usize) -> String {
    format!("project-{place}")
}

/// The choice at a place, as other pages have theirs.
fn of_place(typed: &FormData, place: usize) -> FormData {
    let mut chosen = FormData::default();
    chosen.set("pattern", typed.text(&field_at(place)));
    chosen
}

/// A field for each pattern that is chosen, and two more.
fn form(patterns: &[PatternChoice], typed: &FormData) -> Form {
    let (least, most) = FIELDS;
    let count = (places(typed).max().unwrap_or(0) + 2).clamp(least, most);
    let fields = (1..=count).map(|place| {
        let label = match place {
            1 => "Choice 1, what matters most".to_owned(),
            place => format!("Choice {place}"),
        };
        Field::new(&field_at(place), &label, "", choice(patterns))
    });
    let mut form = Form::asking::<PlanRequest>("plan", "/plan", "Plan");
    form.groups.insert(
        0,
        Group {
            head: Head::None,
            fields: fields.collect(),
        },
    );
    form.replaced(&[("projects", "project-1"), ("pattern", "project-1")])
}

/// Each size of each pattern.
fn choice(patterns: &[PatternChoice]) -> Kind {
    let sizes = patterns.iter().flat_map(|pattern| {
        let sizes = pattern.sizes.iter().enumerate();
        sizes.map(move |(place, size)| {
            let label = match pattern.sizes.as_slice() {
                [_] => pattern.name.clone(),
                _ => format!("{}, size {size}", pattern.name),
            };
            (format!("{}:{place}", pattern.number), label)
        })
    });
    Kind::one_of("None", sizes)
}
