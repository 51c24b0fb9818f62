//! The passcode that other machines give: hashed with Argon2id, tried a few
//! times a minute at most, remembered by a session cookie.

use super::{error_page::ErrorPage, token_store::TokenStore};
use argon2::{
    Argon2,
    password_hash::{PasswordHasher, PasswordVerifier, phc::PasswordHash},
};
use std::{
    sync::{Mutex, PoisonError},
    time::{Duration, Instant},
};

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
