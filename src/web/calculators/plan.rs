//! What can be made from the stash of patterns that are not kept as projects.

use super::calculator_page::{CalculatorPage, is_asked, look_up};
use crate::{
    app::{
        self, AppError, Fault, FaultKind, FormData, PatternChoice, PlanAnswer, PlanRequest, Records,
    },
    web::{
        fields::{pattern_link, size_choice, with_pattern},
        form::{Field, Form, Group, Head},
        projects,
        refusal::Refusal,
        visit::{PageResult, Visit},
    },
};

const PAGE: CalculatorPage = CalculatorPage {
    title: "What can I make from my stash?",
    here: "/plan",
    intro: "Choose patterns, the one that matters most first. Each gets yarn from your stash that no other needs; for the rest there is a shopping list.",
    links: &[("/plan", "Your projects")],
};

/// Fields that a form has at least, and at most.
const FIELDS: (usize, usize) = (4, 40);

/// The projects in the records, unless a plan of patterns was asked for.
pub(super) async fn page(visit: Visit, sent: FormData) -> PageResult {
    match is_asked(&sent) {
        true => without_keeping(visit, sent).await,
        false => projects::show(visit, sent).await,
    }
}

pub(super) async fn without_keeping(visit: Visit, sent: FormData) -> PageResult {
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
    if request.projects.is_empty() {
        let missing = Fault::new("projects", FaultKind::Missing);
        return Err(AppError::Faults(vec![missing]).into());
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
        Field::new(&field_at(place), &label, "", size_choice(patterns))
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
