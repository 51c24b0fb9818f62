//! The passcode that other machines give: hashed with Argon2id, tried a few times a
//! minute at most.

use argon2::{
    Argon2,
    password_hash::{PasswordHasher, PasswordVerifier, phc::PasswordHash},
};
use std::{
    sync::{Mutex, MutexGuard, PoisonError},
    time::{Duration, Instant},
};

/// Wrong tries within a while, after which nobody's try is looked at.
const TRIES: usize = 5;
const WHILE: Duration = Duration::from_secs(60);
/// The fewest characters of a passcode.
const FEWEST: usize = 8;

/// What came of a try.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Try {
    /// The passcode.
    Right,
    /// Another one.
    Wrong,
    /// Not looked at: there were too many.
    TooMany,
}

/// The passcode, by its hash.
pub(super) struct Passcode {
    hash: String,
    /// When tries were wrong, or are not known to be right yet.
    wrong: Mutex<Vec<Instant>>,
    /// One try is looked at at a time: each look takes some 19 MiB.
    looking: Mutex<()>,
}

impl Passcode {
    pub(super) fn new(hash: String) -> Self {
        Self {
            hash,
            wrong: Mutex::default(),
            looking: Mutex::default(),
        }
    }

    /// Whether this is the passcode; takes a while. A try is counted before it is
    /// looked at, so that many at once gain nothing.
    pub(super) fn look_at(&self, given: &str) -> Try {
        {
            let mut wrong = locked(&self.wrong);
            wrong.retain(|when| when.elapsed() < WHILE);
            if wrong.len() >= TRIES {
                return Try::TooMany;
            }
            wrong.push(Instant::now());
        }
        let _alone = locked(&self.looking);
        let is_right = |hash| {
            let verified = Argon2::default().verify_password(given.as_bytes(), &hash);
            verified.is_ok()
        };
        if !PasswordHash::new(&self.hash).is_ok_and(is_right) {
            return Try::Wrong;
        }
        locked(&self.wrong).pop();
        Try::Right
    }
}

fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
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
        let passcode = Passcode::new(hashed("three small words").unwrap());
        assert_eq!(passcode.look_at("three small words"), Try::Right);
        for _ in 0..TRIES {
            assert_eq!(passcode.look_at("three small sword"), Try::Wrong);
        }
        assert_eq!(passcode.look_at("three small words"), Try::TooMany);
        assert!(hashed("short").unwrap_err().contains("at least 8"));
    }
}
