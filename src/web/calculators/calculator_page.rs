//! What the pages of the calculators share: one page for each question, the answer
//! above the form that asked for it. What is refused comes back in the form, the
//! message beside its field.

use crate::{
    app::{self, AppError, FormData, PatternChoice, Records},
    report::{Block, NameLinks, Page, Render},
    web::{
        body::Body,
        fields::pattern_link,
        form::Form,
        kept_record::form_page,
        links::query_without,
        refusal::{FieldError, Refusal, perhaps},
        visit::{PageResult, Visit},
    },
};
use axum::response::Response;

/// Where these pages stand among the others.
pub(super) const QUESTIONS: &str = "/questions";
/// The hidden field of a form that was sent, not only opened by a link.
pub(super) const ASKED_FIELD: &str = "asked";

/// A question that has a page of its own.
pub(super) struct CalculatorPage {
    pub(super) title: &'static str,
    /// Where it stands among the others.
    pub(super) here: &'static str,
    /// What it is for, in a sentence or two.
    pub(super) intro: &'static str,
    /// Pages that some would rather have.
    pub(super) links: &'static [(&'static str, &'static str)],
}

/// Whether a form was sent.
pub(super) fn is_asked(typed: &FormData) -> bool {
    !typed.text(ASKED_FIELD).is_empty()
}

/// The kept patterns, and the answer where one is asked for.
pub(super) type Lookup<A> = (Vec<PatternChoice>, Option<Result<A, Refusal>>);

/// Reads both at one moment.
pub(super) fn look_up<A>(
    records: &Records,
    typed: &FormData,
    answer: impl Fn(&Records, &[PatternChoice], &FormData) -> Result<A, Refusal>,
) -> Result<Lookup<A>, AppError> {
    let patterns = app::pattern_choices(records)?;
    let answer = is_asked(typed).then(|| answer(records, &patterns, typed));
    Ok((patterns, answer))
}

impl CalculatorPage {
    /// The page of a question that needs no records: the form is that of its
    /// request, the answer comes from the app.
    pub(super) async fn answer<R: app::Request, A: Render + Send + 'static>(
        &self,
        visit: &Visit,
        typed: &FormData,
        form: Form,
        answer: impl Fn(&R) -> Result<A, AppError> + Send + 'static,
    ) -> PageResult {
        let asked = typed.clone();
        let answer = move || {
            let answer = || app::from_form::<R>(&asked).and_then(|request| answer(&request));
            is_asked(&asked).then(answer)
        };
        let answer = visit.state.compute(answer).await?;
        Ok(self.show(visit, typed, (form, &[]), answer, |_| ()))
    }

    /// The page of a question about one of the patterns, with a link to it. A name that is
    /// not known is linked to this page with the name in `field` instead.
    pub(super) async fn about_pattern<A: Render + Send + 'static>(
        &self,
        (visit, sent): (&Visit, &FormData),
        (path, field): (&str, &str),
        form: fn(&[PatternChoice]) -> Form,
        answer: fn(&Records, &[PatternChoice], &FormData) -> Result<A, Refusal>,
    ) -> PageResult {
        let found = visit.answer(sent, move |records, typed| look_up(records, typed, answer));
        let (patterns, answer) = found.await?;
        let rest = query_without(sent, &[field]);
        let link = |name: &str| format!("{path}?{rest}&{field}={name}");
        let answer = answer.map(|answer| answer.map_err(|refusal| refusal.linked(link)));
        let names: Vec<_> = pattern_link(sent, &patterns).into_iter().collect();
        Ok(self.show(visit, sent, (form(&patterns), &names), answer, |_| ()))
    }

    /// The page of an answer, where one was asked for, with a link at each of these
    /// names. `more` stands between answer and form.
    pub(super) fn show<A: Render>(
        &self,
        visit: &Visit,
        typed: &FormData,
        (form, names): (Form, &NameLinks),
        answer: Option<Result<A, impl Into<Refusal>>>,
        more: impl FnOnce(&mut Body),
    ) -> Response {
        let form = form.hidden(ASKED_FIELD, "yes").filled(typed);
        let Some(answer) = answer else {
            return self.show_form(visit, &form);
        };
        let answer = match answer {
            Ok(answer) => answer,
            Err(refusal) => return self.show_refusal(visit, form, refusal),
        };
        let page = answer.page(&form.style(&visit.prefs));
        let mut answer = Body::default();
        answer.linked(&page, names);
        more(&mut answer);
        let mut question = Body::default();
        question.part_at("again", "Ask again");
        question.form(&form);
        let mut body = visit.body();
        body.beside(answer, question);
        visit.page((title_of(&page).unwrap_or(self.title), self.here), body)
    }

    /// The page of a form that is only opened.
    pub(super) fn show_form(&self, visit: &Visit, form: &Form) -> Response {
        let mut body = visit.body();
        body.heading(self.title);
        body.text(self.intro);
        body.links(self.links);
        body.form(form);
        visit.page((self.title, self.here), body)
    }

    /// The form again, with what is wrong.
    pub(super) fn show_refusal(
        &self,
        visit: &Visit,
        form: Form,
        refusal: impl Into<Refusal>,
    ) -> Response {
        let place = (self.title, self.here);
        form_page(visit, place, form, Some(refusal.into()), |_| ())
    }
}

/// A name that is not known belongs to the first of these fields in which it stands.
pub(super) fn in_its_field(
    refusal: Refusal,
    typed: &FormData,
    (path, fields): (&str, &[&str]),
) -> Refusal {
    let Refusal::App(error, _) = &refusal else {
        return refusal;
    };
    let Some(name) = error.yarn_in_doubt() else {
        return refusal;
    };
    let Some(field) = fields.iter().find(|field| typed.text(field).contains(name)) else {
        return refusal;
    };
    let rest = query_without(typed, &[field]);
    let links = perhaps(error, |name| format!("{path}?{rest}&{field}={name}"));
    let fault = FieldError::new(field, error.to_string());
    Refusal::Page(FieldError { links, ..fault })
}

fn title_of(page: &Page) -> Option<&str> {
    page.blocks.iter().find_map(|block| match block {
        Block::Title(text) => Some(text.as_str()),
        _ => None,
    })
}
