//! The passcode that other machines give: hashed with Argon2id, tried a few
//! times a minute at most, remembered by a session cookie. The page that asks for
//! it, and the way out.

use super::{
    body::Body,
    form::{Field, Form, Group, Kind},
    layout::Layout,
    links::redirect,
    preferences::{cookie, with_cookie},
    refusal::{ErrorPage, FieldError},
    state::AppState,
    token_store::TokenStore,
};
use crate::app::FormData;
use argon2::{
    Argon2,
    password_hash::{PasswordHasher, PasswordVerifier, phc::PasswordHash},
};
use axum::{
    extract::State,
    http::{HeaderMap, StatusCode},
    response::Response,
};
use std::{
    sync::{Arc, Mutex, PoisonError},
    time::{Duration, Instant},
};
use tokio::task::spawn_blocking;

/// The cookie that holds a session.
pub(super) const SESSION: &str = "session";

/// Wrong tries within a while, after which nobody's try is looked at.
const TRIES: usize = 5;
const WHILE: Duration = Duration::from_secs(60);
/// Devices that may be in at once.
const DEVICES: usize = 64;
/// How long a device stays in.
const STAY: Duration = Duration::from_secs(12 * 3600);
/// The fewest characters of a passcode.
const FEWEST: usize = 8;

/// Who may come in.
pub(super) struct Access {
    hash: String,
    sessions: TokenStore<Instant>,
    wrong: Mutex<Vec<Instant>>,
    /// One passcode is looked at at a time: each look takes some 19 MiB.
    looking: Mutex<()>,
}

impl Access {
    pub(super) fn new(hash: String) -> Self {
        Self {
            hash,
            sessions: TokenStore::new(DEVICES),
            wrong: Mutex::new(Vec::new()),
            looking: Mutex::new(()),
        }
    }

    /// Whether a session is one of those that came in and have not left.
    pub(super) fn is_in(&self, session: &str) -> bool {
        let since = self.sessions.get(session);
        since.is_some_and(|since| since.elapsed() < STAY)
    }

    /// Whether a try is looked at now.
    pub(super) fn may_try(&self) -> bool {
        let mut wrong = self.wrong.lock().unwrap_or_else(PoisonError::into_inner);
        wrong.retain(|when| when.elapsed() < WHILE);
        wrong.len() < TRIES
    }

    /// Whether the passcode is right; a wrong one is counted. Takes a while.
    pub(super) fn is_right(&self, passcode: &str) -> bool {
        self.count();
        let _alone = self.looking.lock().unwrap_or_else(PoisonError::into_inner);
        let right = PasswordHash::new(&self.hash).is_ok_and(|hash| {
            Argon2::default()
                .verify_password(passcode.as_bytes(), &hash)
                .is_ok()
        });
        if right {
            self.wrong
                .lock()
                .unwrap_or_else(PoisonError::into_inner)
                .pop();
        }
        right
    }

    /// Counted before it is looked at, so that many at once gain nothing.
    fn count(&self) {
        let mut wrong = self.wrong.lock().unwrap_or_else(PoisonError::into_inner);
        wrong.push(Instant::now());
    }

    /// Begins a session; gives its token.
    pub(super) fn new_session(&self) -> Result<String, ErrorPage> {
        self.sessions.insert(Instant::now())
    }

    pub(super) fn leave(&self, session: &str) {
        self.sessions.remove(session);
    }
}

fn passcode_page(status: StatusCode, faults: Vec<FieldError>) -> Response {
    let secret = Field::new(
        "passcode",
        "Passcode",
        "It was set where the program runs.",
        Kind::Secret,
    );
    let form = Form::post("enter", "/enter", "Come in").with(Group::plain(vec![secret.needed()]));
    let (form, told) = form.marked(faults);
    let mut body = Body::default();
    body.faults(&told);
    body.heading("Passcode");
    body.form(&form);
    Layout::titled("Passcode").bare().page(status, body)
}

pub(super) async fn ask_passcode() -> Response {
    passcode_page(StatusCode::OK, Vec::new())
}

pub(super) async fn log_in(
    State(state): State<Arc<AppState>>,
    sent: FormData,
) -> Result<Response, ErrorPage> {
    let Some(access) = &state.access else {
        return Ok(redirect("/"));
    };
    if !access.may_try() {
        let said = "too many wrong tries: wait a minute and try again";
        return Ok(passcode_page(
            StatusCode::TOO_MANY_REQUESTS,
            vec![FieldError::new("passcode", said)],
        ));
    }
    let (trying, passcode) = (Arc::clone(&state), sent.text("passcode").to_owned());
    let right = spawn_blocking(move || {
        trying
            .access
            .as_ref()
            .is_some_and(|access| access.is_right(&passcode))
    });
    if right.await.unwrap_or(false) {
        return Ok(with_session("/", &access.new_session()?, 43_200));
    }
    let said = "this is not the passcode: look at it again, capitals count";
    Ok(passcode_page(
        StatusCode::FORBIDDEN,
        vec![FieldError::new("passcode", said)],
    ))
}

pub(super) async fn log_out(State(state): State<Arc<AppState>>, headers: HeaderMap) -> Response {
    if let (Some(access), Some(session)) = (&state.access, cookie(&headers, SESSION)) {
        access.leave(session);
    }
    with_session("/enter", "", 0)
}

fn with_session(to: &str, session: &str, seconds: u32) -> Response {
    with_cookie(redirect(to), SESSION, session, seconds)
}

/// The hash of a passcode, to be kept; refused where it is too short.
pub fn hashed(passcode: &str) -> Result<String, String> {
    let given = passcode.chars().count();
    if given < FEWEST {
        return Err(format!(
            "a passcode of {given} characters is too short: give at least {FEWEST}, for example three words"
        ));
    }
    let hash: Result<PasswordHash, _> = Argon2::default().hash_password(passcode.as_bytes());
    hash.map(|hash| hash.to_string())
        .map_err(|error| format!("the passcode cannot be hashed: {error}; try again"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_right_passcode_is_right_and_tries_are_limited() {
        let access = Access::new(hashed("three small words").unwrap());
        assert!(access.is_right("three small words"));
        for _ in 0..TRIES {
            assert!(access.may_try());
            assert!(!access.is_right("three small sword"));
        }
        assert!(!access.may_try());
        assert!(hashed("short").unwrap_err().contains("at least 8"));
    }

    #[test]
    fn a_session_ends_when_its_device_leaves() {
        let access = Access::new(String::new());
        let session = access.new_session().unwrap();
        assert!(access.is_in(&session) && !access.is_in("another"));
        access.leave(&session);
        assert!(!access.is_in(&session));
    }
}
