//! Other machines come in with the passcode, and stay in by a session cookie: the
//! door, the page that asks for the passcode, and the way out.

use super::{
    body::Body,
    error_page::ErrorPage,
    form::{Field, Form, Head, Kind},
    layout::Layout,
    links::redirect,
    passcode::{Passcode, Try},
    preferences::{cookie, with_cookie},
    refusal::FieldError,
    state::AppState,
    token_store::TokenStore,
    visit::PageResult,
};
use crate::app::FormData;
use axum::{
    extract::{Request, State},
    http::{HeaderMap, Method, StatusCode},
    middleware::Next,
    response::{IntoResponse, Response},
};
use std::{
    sync::Arc,
    time::{Duration, Instant},
};
use tokio::task::spawn_blocking;

/// The cookie that holds a session.
const SESSION: &str = "session";
/// Devices that may be in at once.
const DEVICES: usize = 64;
/// How long a device stays in.
const STAY: Duration = Duration::from_secs(12 * 3600);

/// Who may come in.
pub(super) struct Sessions {
    passcode: Passcode,
    since: TokenStore<Instant>,
}

impl Sessions {
    pub(super) fn new(hash: String) -> Self {
        Self {
            passcode: Passcode::new(hash),
            since: TokenStore::new(DEVICES),
        }
    }

    /// Whether a request comes from a device that came in and has not left.
    fn is_in(&self, headers: &HeaderMap) -> bool {
        let since = cookie(headers, SESSION).and_then(|session| self.since.get(session));
        since.is_some_and(|since| since.elapsed() < STAY)
    }
}

/// Pages that are there before the passcode is given.
const OPEN: [&str; 4] = ["/enter", "/style.css", "/script.js", "/icon.svg"];

/// Sends those who have not given the passcode to where it is asked.
pub(super) async fn door(
    State(state): State<Arc<AppState>>,
    request: Request,
    next: Next,
) -> Response {
    let is_in = |sessions: &Sessions| sessions.is_in(request.headers());
    if OPEN.contains(&request.uri().path()) || state.sessions.as_ref().is_none_or(is_in) {
        return next.run(request).await;
    }
    if matches!(*request.method(), Method::GET | Method::HEAD) {
        return redirect("/enter");
    }
    let said = "Give the passcode first, then send this again: go back, open /enter in another window, and come back.";
    ErrorPage::new(StatusCode::FORBIDDEN, "Locked", said).into_response()
}

fn passcode_page(status: StatusCode, faults: Vec<FieldError>) -> Response {
    let secret = Field::new(
        "passcode",
        "Passcode",
        "It was set where the program runs.",
        Kind::Secret,
    );
    let form = Form::post("enter", "/enter", "Come in").with(Head::None, vec![secret.needed()]);
    let (form, told) = form.marked(faults);
    let mut body = Body::default();
    body.faults(&told);
    body.heading("Passcode");
    body.form(&form);
    let mut layout = Layout::titled("Passcode");
    layout.bare = true;
    layout.page(status, body)
}

pub(super) async fn ask_passcode() -> Response {
    passcode_page(StatusCode::OK, Vec::new())
}

pub(super) async fn log_in(State(state): State<Arc<AppState>>, sent: FormData) -> PageResult {
    let trying = Arc::clone(&state);
    let look = spawn_blocking(move || {
        let sessions = trying.sessions.as_ref()?;
        Some(sessions.passcode.look_at(sent.text("passcode")))
    });
    let (Some(sessions), Some(tried)) = (&state.sessions, look.await.unwrap_or(Some(Try::Wrong)))
    else {
        return Ok(redirect("/"));
    };
    let (status, said) = match tried {
        Try::Right => {
            let session = sessions.since.insert(Instant::now())?;
            return Ok(with_session("/", &session, STAY));
        }
        Try::TooMany => (
            StatusCode::TOO_MANY_REQUESTS,
            "too many wrong tries: wait a minute and try again",
        ),
        Try::Wrong => (
            StatusCode::FORBIDDEN,
            "this is not the passcode: look at it again, capitals count",
        ),
    };
    Ok(passcode_page(
        status,
        vec![FieldError::new("passcode", said)],
    ))
}

pub(super) async fn log_out(State(state): State<Arc<AppState>>, headers: HeaderMap) -> Response {
    if let (Some(sessions), Some(session)) = (&state.sessions, cookie(&headers, SESSION)) {
        sessions.since.remove(session);
    }
    with_session("/enter", "", Duration::ZERO)
}

fn with_session(to: &str, session: &str, stay: Duration) -> Response {
    with_cookie(redirect(to), SESSION, session, stay.as_secs())
}

#[cfg(test)]
mod tests {
    use super::*;
    use axum::http::{HeaderValue, header};

    #[test]
    fn a_session_ends_when_its_device_leaves() {
        let sessions = Sessions::new(String::new());
        let session = sessions.since.insert(Instant::now()).unwrap();
        let with = |token: &str| {
            let cookie = HeaderValue::from_str(&format!("session={token}")).unwrap();
            HeaderMap::from_iter([(header::COOKIE, cookie)])
        };
        assert!(sessions.is_in(&with(&session)) && !sessions.is_in(&with("another")));
        sessions.since.remove(&session);
        assert!(!sessions.is_in(&with(&session)));
    }
}
