//! A project in its form: its name, its size, what is wanted of the yarn; and its history.

use super::{
    error_page::ErrorPage,
    form::{Field, Form, Head, Kind},
    history,
    kept_record::refused_form,
    refusal::Refusal,
    visit::{PageResult, Saved, Visit},
};
use crate::app::{
    self, AppError, EditProjectRequest, FormData, ProjectLine, RecordKind, Records, Which,
};
use axum::extract::Path;

const HERE: &str = "/plan";

/// What stands before the name of a field for what it held when the form was shown: only
/// what is another now is changed, so that of two who edit neither undoes the other.
const WAS: &str = "was-";

fn line(records: &Records, number: i64) -> Result<Option<ProjectLine>, AppError> {
    let lines = app::list_projects(records)?.0.into_iter();
    Ok(lines.into_iter().find(|line| line.number == number))
}

/// What a project says, by the names of the fields.
fn texts(line: &ProjectLine) -> FormData {
    let project = &line.project;
    let yes = |is_wished: bool| if is_wished { "yes" } else { "" };
    [
        ("name", project.name.as_str()),
        ("size", &project.size),
        ("without", &project.without),
        ("only", &project.only),
        ("care", &project.care),
        ("max-cost", &project.max_cost),
        ("enough", yes(project.enough)),
        ("one-lot", yes(project.one_lot)),
        ("shade", &project.shade),
        ("place", &project.place),
    ]
    .into_iter()
    .collect()
}

fn form(number: i64, held: &FormData) -> Form {
    let form = Form::get("project", format!("{HERE}/{number}/edit"), "Save").once();
    let form = form.with(Head::None, Vec::new());
    let form = held.iter().fold(form, |form, (name, text)| {
        form.hidden(&format!("{WAS}{name}"), text)
    });
    let yes_or_no = |field: &mut Field| {
        field.label = field.label.replace(": yes or no", "");
        field.kind = Kind::one_of("no", [("yes", "yes")]);
    };
    let form = form.with_request::<EditProjectRequest>();
    form.change("enough", yes_or_no)
        .change("one-lot", yes_or_no)
}

pub(super) async fn edit(visit: Visit, Path(number): Path<i64>) -> PageResult {
    page(&visit, number, None).await
}

async fn page(visit: &Visit, number: i64, refused: Option<(&FormData, Refusal)>) -> PageResult {
    let kept = visit.read(move |records| line(records, number)).await?;
    let kept = kept.ok_or_else(ErrorPage::not_found)?;
    let held = texts(&kept);
    let (typed, refused) = refused.unzip();
    let form = form(number, &held).filled(typed.unwrap_or(&held));
    let title = format!("Edit {}", kept.project.name);
    let (status, form, mut body) = refused_form(visit, form, refused);
    body.heading(&title);
    body.form(&form);
    history::part(visit, &mut body, RecordKind::Project, number).await?;
    body.links(&[(HERE, "Plan")]);
    Ok(visit.page_of(status, (&title, HERE), body))
}

pub(super) async fn save(visit: Visit, Path(number): Path<i64>, typed: FormData) -> PageResult {
    let saving = move |records: &mut Records, typed: &FormData| saved(records, number, typed);
    match visit.keep(&typed, saving).await? {
        Ok(done) => Ok(done),
        Err(refusal) => page(&visit, number, Some((&typed, refusal))).await,
    }
}

fn saved(records: &mut Records, number: i64, typed: &FormData) -> Saved {
    let was = typed.below(WAS);
    let is_other = |name: &str, text: &str| !was.has(name) || was.text(name).trim() != text.trim();
    let fields = typed.iter().filter(|(name, _)| !name.starts_with(WAS));
    let changed: FormData = fields.filter(|(name, text)| is_other(name, text)).collect();
    let mut request: EditProjectRequest = app::from_form(&changed)?;
    let emptied = |name: &str| {
        let is_empty = changed.has(name) && changed.filled(name).is_none();
        is_empty.then(String::new)
    };
    for (name, text) in [
        ("without", &mut request.without),
        ("only", &mut request.only),
        ("care", &mut request.care),
        ("max-cost", &mut request.max_cost),
        ("enough", &mut request.enough),
        ("one-lot", &mut request.one_lot),
        ("shade", &mut request.shade),
        ("place", &mut request.place),
    ] {
        *text = text.take().or_else(|| emptied(name));
    }
    let change = app::edit_project(records, Which::Number(number), &request)?;
    Ok((HERE.to_owned(), change))
}
