//! Other machines come in with the passcode, and stay in by a session cookie: the
//! door, the page that asks for the passcode, and the way out.

use super::{
    body::Body,
    error_page::ErrorPage,
    form::{Field, Form, Head, Kind},
    layout::Layout,
    links::redirect,
    passcode::{Passcode, Try},
    peer::Sender,
    preferences::{Lasting, cookie, with_cookie},
    refusal::FieldError,
    sent_once::Held,
    state::AppState,
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

/// The cookie that holds a session.
const SESSION: &str = "session";
/// Devices that may be in at once.
const DEVICES: usize = 64;
/// How long a device stays in.
const STAY: Duration = Duration::from_secs(12 * 3600);

/// Who may come in.
pub(super) struct Sessions {
    passcode: Passcode,
    open: Held<Session>,
}

/// A device that came in.
#[derive(Clone)]
struct Session {
    since: Instant,
    /// The hash of the passcode that it gave: another passcode ends the session.
    hash: String,
}

impl Sessions {
    pub(super) fn new(passcode: Passcode) -> Self {
        Self {
            passcode,
            open: Held::new(DEVICES),
        }
    }

    /// Whether a request comes from a device that came in and has not left.
    fn is_in(&self, headers: &HeaderMap) -> bool {
        let session = cookie(headers, SESSION).and_then(|token| self.open.get(token));
        session.is_some_and(|session| {
            let is_known = |hash| session.hash == hash;
            session.since.elapsed() < STAY && self.passcode.hash().is_ok_and(is_known)
        })
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

/// What is said where nothing keeps others from reading along.
const IN_THE_CLEAR: &str = "This connection is not encrypted: whoever shares the network can read the passcode and all that you send. Use it only in a network whose users you trust, or behind a proxy with TLS, as `understudy help browser` shows.";

fn passcode_page(sender: Sender, status: StatusCode, faults: Vec<FieldError>) -> Response {
    let secret = Field::new(
        "passcode",
        "Passcode",
        "Whoever runs the program set it.",
        Kind::Secret,
    );
    let form = Form::post("enter", "/enter", "Log in").with(Head::None, vec![secret.needed()]);
    let (form, told) = form.marked(faults);
    let mut body = Body::default();
    body.faults(&told);
    body.heading("Passcode");
    if !sender.is_encrypted {
        body.text(IN_THE_CLEAR);
    }
    body.form(&form);
    let mut layout = Layout::titled("Passcode");
    layout.bare = true;
    layout.page(status, body)
}

pub(super) async fn ask_passcode(sender: Sender) -> Response {
    passcode_page(sender, StatusCode::OK, Vec::new())
}

pub(super) async fn log_in(
    State(state): State<Arc<AppState>>,
    sender: Sender,
    sent: FormData,
) -> PageResult {
    let Some(sessions) = &state.sessions else {
        return Ok(redirect("/"));
    };
    let given = sent.text("passcode").to_owned();
    let (status, said) = match sessions.passcode.look_at(given, sender.address).await {
        Try::Right(hash) => {
            let since = Instant::now();
            let token = sessions.open.insert(Session { since, hash })?;
            return Ok(with_session("/", (&token, STAY), sender));
        }
        Try::NotReadable => (
            StatusCode::INTERNAL_SERVER_ERROR,
            "the file of the passcode is gone or damaged: set it again where the program runs, with `understudy serve --set-passcode`",
        ),
        Try::TooMany => (
            StatusCode::TOO_MANY_REQUESTS,
            "too many wrong tries: wait a minute and try again",
        ),
        Try::Wrong => (
            StatusCode::FORBIDDEN,
            "this is not the passcode: look at it again, capitals count",
        ),
    };
    let fault = FieldError::new("passcode", said);
    Ok(passcode_page(sender, status, vec![fault]))
}

pub(super) async fn log_out(
    State(state): State<Arc<AppState>>,
    sender: Sender,
    headers: HeaderMap,
) -> Response {
    if let (Some(sessions), Some(token)) = (&state.sessions, cookie(&headers, SESSION)) {
        sessions.open.remove(token);
    }
    with_session("/enter", ("", Duration::ZERO), sender)
}

/// On to a page, with the session in a cookie that goes the way it came.
fn with_session(to: &str, (token, stay): (&str, Duration), sender: Sender) -> Response {
    let lasting = Lasting {
        seconds: stay.as_secs(),
        is_secure: sender.is_encrypted,
    };
    with_cookie(redirect(to), (SESSION, token), lasting)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{app::keep_passcode, web::hashed};
    use axum::http::{HeaderValue, header};

    fn with(token: &str) -> HeaderMap {
        let cookie = HeaderValue::from_str(&format!("session={token}")).unwrap();
        HeaderMap::from_iter([(header::COOKIE, cookie)])
    }

    #[test]
    fn a_session_ends_when_its_device_leaves_or_the_passcode_changes() {
        let folder = tempfile::tempdir().unwrap();
        let records = folder.path().join("r.db");
        let keep = |text| keep_passcode(&records, &hashed(text).unwrap()).unwrap();
        keep("three small words");
        let sessions = Sessions::new(Passcode::of(&records).unwrap());
        let come_in = || {
            let (since, hash) = (Instant::now(), sessions.passcode.hash().unwrap());
            sessions.open.insert(Session { since, hash }).unwrap()
        };
        let (one, other) = (come_in(), come_in());
        assert!(sessions.is_in(&with(&one)) && !sessions.is_in(&with("another")));
        sessions.open.remove(&one);
        assert!(!sessions.is_in(&with(&one)) && sessions.is_in(&with(&other)));
        keep("four larger words");
        assert!(!sessions.is_in(&with(&other)));
    }
}
