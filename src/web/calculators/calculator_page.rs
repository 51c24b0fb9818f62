//! What the pages of the calculators share: one page for each question, the answer
//! above the form that asked for it. What is refused comes back in the form, the
//! message beside its field.

use super::text::FIELD;
use crate::{
    app::{self, AppError, FieldFault, FieldFaults, FormData},
    report::{Block, Page, Render},
    web::{
        body::Body,
        error_page::status,
        field_errors::{self, FieldError},
        form::Form,
        labels::Labels,
        layout::Layout,
        preferences::Preferences,
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
    /// What it is for, in a sentence or two.
    pub(super) intro: &'static str,
    /// The field that messages belong to which name none.
    pub(super) main: &'static str,
    /// Pages that some would rather have.
    pub(super) links: &'static [(&'static str, &'static str)],
}

/// What came of the form.
pub(super) enum Outcome {
    /// It is only opened.
    Nothing,
    /// An answer, and where to go on from it.
    Answer(Page, Vec<(String, &'static str)>),
    /// What is wrong with what was typed, and links to what was perhaps meant.
    Refused(AppError, Vec<(String, String)>),
}

/// Whether a form was sent.
pub(super) fn is_asked(typed: &FormData) -> bool {
    !typed.text(ASKED_FIELD).is_empty()
}

/// A fault that a page finds itself.
pub(super) fn wrong(field: &str, message: impl Into<String>) -> AppError {
    AppError::Fields(FieldFaults(vec![FieldFault {
        field: field.to_owned(),
        message: message.into(),
    }]))
}

/// The same of a fault that is one already.
pub(super) fn by_form(fault: FieldError) -> AppError {
    wrong(&fault.field, fault.message)
}

impl CalculatorPage {
    /// The page of a question that needs no records: the form is that of its
    /// request, the answer comes from the app.
    pub(super) fn answered<R: app::Request, A: Render>(
        &self,
        prefs: &Preferences,
        typed: &FormData,
        form: Form,
        answer: impl Fn(&R) -> Result<A, AppError>,
    ) -> Response {
        if !is_asked(typed) {
            return self.asked(prefs, &form.hidden(ASKED_FIELD, "yes").filled(typed));
        }
        let answer = app::from_form::<R>(typed).and_then(|request| answer(&request));
        self.written(prefs, typed, form, answer, |_| ())
    }

    /// The page of an answer about what is kept, where one was asked for. `links` are
    /// ways on from what was refused.
    pub(super) fn about_records<A: Render>(
        &self,
        prefs: &Preferences,
        typed: &FormData,
        form: Form,
        answer: Option<Result<A, AppError>>,
        links: impl Fn(&AppError) -> Vec<(String, String)>,
    ) -> Response {
        let filled = |form: Form| form.hidden(ASKED_FIELD, "yes").filled(typed);
        match answer {
            None => self.asked(prefs, &filled(form)),
            Some(Err(error)) => {
                let form = filled(form);
                let labels = Labels::of(&form);
                self.refused(prefs, (form, &labels), &error, links(&error))
            }
            Some(answer) => self.written(prefs, typed, form, answer, |_| ()),
        }
    }

    /// The page of an answer or of what was wrong, and the form. `more` stands
    /// between answer and form.
    pub(super) fn written<A: Render>(
        &self,
        prefs: &Preferences,
        typed: &FormData,
        form: Form,
        answer: Result<A, AppError>,
        more: impl FnOnce(&mut Body),
    ) -> Response {
        let form = form.hidden(ASKED_FIELD, "yes").filled(typed);
        let answer = match answer {
            Ok(answer) => answer,
            Err(error) => {
                let labels = Labels::of(&form);
                return self.refused(prefs, (form, &labels), &error, Vec::new());
            }
        };
        let page = answer.page(&form.style(prefs));
        let mut body = Body::default();
        body.written(&page);
        more(&mut body);
        body.part_at("again", "Ask again");
        body.form(&form);
        Layout::new(title_of(&page).unwrap_or(self.title), QUESTIONS, prefs).ok(body)
    }

    /// The page: what came of the form, and the form. `more` stands between them.
    pub(super) fn page(
        &self,
        prefs: &Preferences,
        (form, labels): (Form, &Labels),
        outcome: Outcome,
        more: impl FnOnce(&mut Body),
    ) -> Response {
        match outcome {
            Outcome::Nothing => self.asked(prefs, &form),
            Outcome::Answer(page, links) => {
                let mut body = Body::default();
                let title = title_of(&page).unwrap_or(self.title).to_owned();
                body.pages(vec![labels.page(page)], prefs.yards);
                if !links.is_empty() {
                    body.links(&links);
                }
                more(&mut body);
                body.part_at("again", "Ask again");
                body.form(&form);
                Layout::new(&title, QUESTIONS, prefs).ok(body)
            }
            Outcome::Refused(error, links) => self.refused(prefs, (form, labels), &error, links),
        }
    }

    /// The page of a form that is only opened.
    pub(super) fn asked(&self, prefs: &Preferences, form: &Form) -> Response {
        let mut body = Body::default();
        body.heading(self.title);
        body.said(self.intro);
        let links = self.links.iter();
        let links: Vec<_> = links.map(|(to, name)| ((*to).to_owned(), *name)).collect();
        if !links.is_empty() {
            body.links(&links);
        }
        body.form(form);
        Layout::new(self.title, QUESTIONS, prefs).ok(body)
    }

    pub(super) fn refused(
        &self,
        prefs: &Preferences,
        (form, labels): (Form, &Labels),
        error: &AppError,
        links: Vec<(String, String)>,
    ) -> Response {
        let mut found = faults_of(error, labels, self.main);
        if let Some(first) = found.first_mut() {
            first.links = links;
        }
        let (form, told) = form.marked(found);
        let mut body = Body::default();
        body.faults(&told);
        body.heading(self.title);
        body.form(&form);
        Layout::new(self.title, QUESTIONS, prefs).page(status(error), body)
    }
}

/// What is wrong, each with its field and worded for the form.
fn faults_of(error: &AppError, labels: &Labels, main: &str) -> Vec<FieldError> {
    match error {
        AppError::Faults(found) => field_errors::of_request(found, &labels.style()),
        AppError::Reading { .. } | AppError::Fields(_) => field_errors::faults(error),
        other => {
            let text = other.to_string();
            let field = match (labels.first(&text), field_errors::field(other)) {
                (Some(named), _) => named,
                (None, "") => main,
                (None, "table") => FIELD,
                (None, "size") => "pattern",
                (None, known) => known,
            };
            vec![FieldError::new(field, labels.said(&text))]
        }
    }
}

fn title_of(page: &Page) -> Option<&str> {
    page.blocks.iter().find_map(|block| match block {
        Block::Title(text) => Some(text.as_str()),
        _ => None,
    })
}
