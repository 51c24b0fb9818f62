//! One request: what the visitor prefers, the records it is about, and what was
//! done just before.

use super::{
    body::Body,
    error_page::ErrorPage,
    layout::Layout,
    links::redirect,
    preferences::Preferences,
    refusal::Refusal,
    sent_once::{Done, SentOnce, Told},
    state::AppState,
    undo,
};
use crate::{
    app::{AppError, FormData, RecordChange, Records},
    report::{Render, Style},
};
use axum::{
    extract::FromRequestParts,
    http::{StatusCode, request::Parts},
    response::Response,
};
use std::{convert::Infallible, sync::Arc};

/// A page, or one that says why there is none.
pub(super) type PageResult = Result<Response, ErrorPage>;

/// The page that shows what was saved, and what was done.
pub(super) type Saved = Result<(String, RecordChange), AppError>;

/// The query of a link to a page that tells what was done.
const DONE: &str = "done=";

/// One request of a visitor.
pub(super) struct Visit {
    pub(super) state: Arc<AppState>,
    pub(super) prefs: Preferences,
    /// What was done before this page was asked for.
    done: Option<Told>,
}

impl FromRequestParts<Arc<AppState>> for Visit {
    type Rejection = Infallible;

    async fn from_request_parts(
        parts: &mut Parts,
        state: &Arc<AppState>,
    ) -> Result<Self, Infallible> {
        let mut fields = parts.uri.query().into_iter().flat_map(|all| all.split('&'));
        let token = fields.find_map(|field| field.strip_prefix(DONE));
        Ok(Self {
            state: Arc::clone(state),
            prefs: Preferences::of(parts),
            done: token.and_then(|token| state.flashes.get(token)),
        })
    }
}

impl Visit {
    /// How answers are written for this visitor.
    pub(super) fn style(&self) -> Style {
        self.prefs.style()
    }

    /// The content of a page, which begins with what was done just before.
    pub(super) fn body(&self) -> Body {
        let mut body = Body::default();
        if let Some(done) = &self.done {
            body.notice(done.page.clone());
            if let Some(change) = done.change {
                body.form(&undo::button(change));
            }
        }
        body
    }

    /// Whether the page begins with a button that takes back what was done just before.
    pub(super) fn offers_undo(&self) -> bool {
        self.done.as_ref().is_some_and(|done| done.change.is_some())
    }

    /// A page in this part of the program.
    pub(super) fn page(&self, (title, here): (&str, &'static str), body: Body) -> Response {
        self.page_of(StatusCode::OK, (title, here), body)
    }

    /// The same with another status.
    pub(super) fn page_of(
        &self,
        status: StatusCode,
        (title, here): (&str, &'static str),
        body: Body,
    ) -> Response {
        Layout::new(title, here, &self.prefs).page(status, body)
    }

    /// Looks something up.
    pub(super) async fn read<T: Send + 'static>(
        &self,
        work: impl FnOnce(&Records) -> Result<T, AppError> + Send + 'static,
    ) -> Result<T, ErrorPage> {
        Ok(self.state.read(work).await??)
    }

    /// Looks up what was asked for in a form.
    pub(super) async fn answer<T: Send + 'static>(
        &self,
        typed: &FormData,
        work: impl FnOnce(&Records, &FormData) -> Result<T, AppError> + Send + 'static,
    ) -> Result<T, ErrorPage> {
        let typed = typed.clone();
        self.read(move |records| work(records, &typed)).await
    }

    /// Saves what was typed and goes on to the page that tells so; or gives back why
    /// not.
    pub(super) async fn keep(
        &self,
        typed: &FormData,
        save: impl FnOnce(&mut Records, &FormData) -> Saved + Send + 'static,
    ) -> Result<Result<Response, Refusal>, ErrorPage> {
        let style = self.style();
        let saving = move |records: &mut Records, typed: &FormData| {
            let (next, change) = save(records, typed)?;
            let told = Some(change.page(&style));
            let change = None;
            Ok::<_, AppError>(Done { next, told, change })
        };
        Ok(self.once(typed, saving).await?.map_err(Refusal::from))
    }

    /// Changes something and goes on to the page that tells so; or gives back why not.
    /// The same form sent again changes nothing and goes on as the first did. One that
    /// comes while the first is under way waits for it, since only one writes.
    pub(super) async fn once<E: Send + 'static>(
        &self,
        typed: &FormData,
        change: impl FnOnce(&mut Records, &FormData) -> Result<Done, E> + Send + 'static,
    ) -> Result<Result<Response, E>, ErrorPage> {
        let (state, typed) = (Arc::clone(&self.state), typed.clone());
        let done = self.state.write(move |records| {
            let sent = SentOnce::of(&typed);
            if let Some(earlier) = sent.as_ref().and_then(|sent| state.changes.get(sent)) {
                return Ok(earlier);
            }
            records.take_last_change();
            let done = change(records, &typed)?;
            let change = records.take_last_change();
            let done = Done { change, ..done };
            if let Some(sent) = sent {
                state.changes.insert_as(sent, done.clone());
            }
            Ok(done)
        });
        Ok(match done.await? {
            Ok(done) => Ok(self.go_on(done)?),
            Err(error) => Err(error),
        })
    }

    /// On to the page that tells what was done.
    fn go_on(&self, Done { next, told, change }: Done) -> PageResult {
        let Some(page) = told else {
            return Ok(redirect(&next));
        };
        let token = self.state.flashes.insert(Told { page, change })?;
        let and = if next.contains('?') { '&' } else { '?' };
        Ok(redirect(&format!("{next}{and}{DONE}{token}")))
    }
}
