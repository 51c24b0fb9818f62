//! The plan: what someone means to make in the order in which it matters, the yarn that
//! each gets, and what to buy; moved, removed, with a yarn chosen by hand, and reserved.

use super::{
    body::Body,
    error_page::ErrorPage,
    fields::{size_choice, with_pattern},
    form::{Field, Form, Head, Kind},
    kept_record::refused_form,
    links::yarn_link,
    refusal::Refusal,
    visit::{PageResult, Saved, Visit},
};
use crate::{
    app::{
        self, AddProjectRequest, AppError, FormData, KeptProject, PatternChoice, PlanAnswer,
        PlanRequest, Records, RoleOptions, Which, YarnOption,
    },
    report::{ProjectPage, plan_news, plan_uses, project_pages, yarn_option_words},
};
use axum::extract::Path;

const HERE: &str = "/plan";

const PAGE: (&str, &str) = ("Plan", HERE);

const INTRO: &str = "What do you want to make? Add a project for each, the one that matters most first. Each gets yarn from your stash that no other needs; for the rest you see what to buy.";

/// The page of an empty plan, and of plans of patterns that are not kept as projects.
const WITHOUT_KEEPING: (&str, &str) = ("/plan/try", "Plan patterns without keeping them");

/// The plan, with a pattern in its form where one is sent.
pub(super) async fn show(visit: Visit, sent: FormData) -> PageResult {
    page(&visit, &sent, None).await
}

/// The patterns, and the plan where there are projects.
fn look_up(records: &Records) -> Result<(Vec<PatternChoice>, Option<PlanAnswer>), AppError> {
    let patterns = app::pattern_choices(records)?;
    let is_empty = app::list_projects(records)?.0.is_empty();
    let plan = (!is_empty).then(|| app::plan(records, &PlanRequest::default()));
    Ok((patterns, plan.transpose()?))
}

/// The projects with their forms, and what was refused.
async fn page(visit: &Visit, typed: &FormData, refused: Option<Refusal>) -> PageResult {
    let (patterns, plan) = visit.read(look_up).await?;
    let form = add_form(&patterns).filled(typed);
    let (status, form, mut body) = refused_form(visit, form, refused);
    body.heading("What can I make from my stash?");
    match &plan {
        Some(plan) => projects(&mut body, visit, plan),
        None => body.text(INTRO),
    }
    body.part_at("add", "Add a project");
    match patterns.as_slice() {
        [] => {
            body.text("You have no patterns yet: a project needs one.");
            body.links(&[("/patterns/new", "Paste the materials of a pattern")]);
        }
        _ => body.form(&form),
    }
    body.links(&[WITHOUT_KEEPING]);
    Ok(visit.page_of(status, PAGE, body))
}

fn projects(body: &mut Body, visit: &Visit, plan: &PlanAnswer) {
    let style = visit.style();
    body.report(&plan_news(plan, &style));
    if plan.is_reserved {
        body.text("All of this is reserved.");
    } else if plan.made.iter().any(|made| made.kept.is_some()) {
        body.form(&reserve_form(plan));
    }
    let all = project_pages(plan, &style);
    let names = names(plan, &all);
    for project in &all {
        body.linked(&project.page, &names);
        body.form(&project_form(project.kept, all.len()));
        let edit = format!("{HERE}/{}/edit", project.kept.number);
        body.links(&[(edit, "Edit this project")]);
    }
    body.part("What is left over");
    body.linked(&plan_uses(plan, &style), &names);
}

/// Links at the names of yarns.
fn names(plan: &PlanAnswer, projects: &[ProjectPage<'_>]) -> Vec<(String, String)> {
    let planned = plan.made.iter().flat_map(|made| &made.yarns);
    let planned = planned.map(|yarn| yarn.offered.candidate.title.clone());
    let bought = plan.left_out.iter().filter_map(|left| left.buy.as_ref());
    let bought = bought.flat_map(|list| &list.yarns);
    let bought = bought.map(|yarn| yarn.offered.candidate.title.clone());
    let mut names: Vec<String> = planned.chain(bought).collect();
    names.sort();
    names.dedup();
    let yarns = names.iter().map(|name| yarn_link(name));
    let patterns = projects.iter().filter_map(|project| {
        let number = project.kept.pattern?;
        Some((project.pattern.to_owned(), format!("/patterns/{number}")))
    });
    yarns.chain(patterns).collect()
}

fn reserve_form(plan: &PlanAnswer) -> Form {
    let form = Form::get("reserve", "/plan/reserve", "Reserve this plan");
    form.once().hidden("seen", plan.fingerprint())
}

/// What holds the key of a role, what was chosen for it, and what was so before.
const ROLE: &str = "role-";
const YARN: &str = "yarn-";

/// What can be done with a project: a yarn chosen for each role, its place, its end.
fn project_form(kept: &KeptProject, count: usize) -> Form {
    let action = format!("{HERE}/{}", kept.number);
    let form = Form::get("project", action, "Use this yarn").once();
    let form = Form {
        id: format!("project-{}", kept.number),
        ..form
    };
    let form = form
        .hidden("version", kept.version)
        .hidden("rank", kept.rank);
    let roles = kept.roles.iter().enumerate();
    let form = roles.clone().fold(form, |form, (place, role)| {
        form.hidden(&format!("{ROLE}{place}"), &role.key)
    });
    let fields = roles.map(|(place, role)| choice(place, role, kept.roles.len()));
    let form = form.with(Head::None, fields.collect());
    let form = match kept.rank {
        1 => form,
        _ => form.button(("do", "up"), "Move up"),
    };
    let form = match kept.rank == count {
        true => form,
        false => form.button(("do", "down"), "Move down"),
    };
    form.button(("do", "remove"), "Remove")
}

/// The yarns that a role may take.
fn choice(place: usize, role: &RoleOptions, count: usize) -> Field {
    let mut options: Vec<(String, String)> = role.options.iter().map(shown).collect();
    let chosen = role.pin.as_ref().map(shown);
    if let Some(chosen) = chosen.as_ref().filter(|it| !options.contains(it)) {
        options.insert(0, chosen.clone());
    }
    let label = match count {
        1 => "Yarn".to_owned(),
        _ => format!("Yarn for {}", role.key),
    };
    let kind = Kind::one_of("As the plan chooses", options);
    let field = Field::new(&format!("{YARN}{place}"), &label, "", kind);
    field.holding(chosen.map_or_else(String::new, |(value, _)| value))
}

/// What a form sends for a yarn, and how it is shown.
fn shown(option: &YarnOption) -> (String, String) {
    let value = match &option.shade {
        None => option.number.to_string(),
        Some(shade) => format!("{}:{shade}", option.number),
    };
    (value, yarn_option_words(option))
}

/// The yarn and the shade that a form sends; nothing where the plan chooses.
fn sent_yarn(text: &str) -> Option<(i64, Option<String>)> {
    let (number, shade) = match text.split_once(':') {
        Some((number, shade)) => (number, Some(shade.to_owned())),
        None => (text, None),
    };
    Some((number.parse().ok()?, shade))
}

fn add_form(patterns: &[PatternChoice]) -> Form {
    let pattern = Field::new("pattern", "Pattern and size", "", size_choice(patterns));
    let form = Form::get("add", HERE, "Add this project").once();
    let form = form.with(Head::None, vec![pattern.needed()]);
    form.with_request::<AddProjectRequest>()
        .replaced(&[("project", "pattern"), ("rank", "pattern")])
}

pub(super) async fn add(visit: Visit, typed: FormData) -> PageResult {
    let patterns = visit.read(app::pattern_choices).await?;
    let mut named = match with_pattern(&typed, &patterns) {
        Ok(named) => named,
        Err(refused) => return page(&visit, &typed, Some(refused.into())).await,
    };
    if named.filled("pattern").is_some() {
        let project = [named.text("pattern"), named.text("size")].join(":");
        named.set("project", project);
    }
    let added = visit.keep(&named, |records, typed| {
        let change = app::add_project(records, &app::from_form(typed)?)?;
        Ok((HERE.to_owned(), change))
    });
    match added.await? {
        Ok(done) => Ok(done),
        Err(refused) => page(&visit, &typed, Some(refused)).await,
    }
}

pub(super) async fn reserve(visit: Visit, typed: FormData) -> PageResult {
    let reserved = visit.keep(&typed, |records, typed| {
        let seen = typed.text("seen");
        let change = app::reserve_plan(records, &PlanRequest::default(), Some(seen))?;
        Ok((HERE.to_owned(), change))
    });
    match reserved.await? {
        Ok(done) => Ok(done),
        Err(refused) => page(&visit, &FormData::default(), Some(refused)).await,
    }
}

/// Moves or removes a project, or chooses its yarn.
pub(super) async fn change(visit: Visit, Path(number): Path<i64>, typed: FormData) -> PageResult {
    let Some(version) = typed.number("version") else {
        return Err(ErrorPage::wrong("Choose what to do with the project."));
    };
    let changed = visit.keep(&typed, move |records, typed| {
        changed(records, (number, version), typed)
    });
    match changed.await? {
        Ok(done) => Ok(done),
        Err(refused) => page(&visit, &FormData::default(), Some(refused)).await,
    }
}

fn changed(records: &mut Records, read: (i64, i64), typed: &FormData) -> Saved {
    let (which, rank) = (
        Which::Number(read.0),
        typed.number("rank").unwrap_or(1_usize),
    );
    let change = match typed.text("do") {
        "up" => app::move_project(records, which, &rank.saturating_sub(1).to_string())?,
        "down" => app::move_project(records, which, &(rank + 1).to_string())?,
        "remove" => app::remove_project(records, which)?,
        _ => {
            let roles = typed.below(ROLE);
            let chosen = roles.iter().map(|(place, key)| {
                let yarn = typed.text(&format!("{YARN}{place}"));
                (key.to_owned(), sent_yarn(yarn))
            });
            app::choose_yarns(records, read, &chosen.collect::<Vec<_>>())?
        }
    };
    Ok((HERE.to_owned(), change))
}
