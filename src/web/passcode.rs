//! The passcode that other machines give: hashed with Argon2id, read anew for each
//! try, so that one that is set while the pages are open holds at once. Wrong ones are
//! looked at a few times a minute from each address, and some more from all of them
//! together, so that one who guesses keeps nobody else out.

use crate::app::{AppError, damaged_passcode, kept_passcode};
use argon2::{
    Argon2,
    password_hash::{PasswordHasher, PasswordVerifier, phc::PasswordHash},
};
use std::{
    collections::VecDeque,
    net::{IpAddr, Ipv6Addr},
    path::{Path, PathBuf},
    sync::{Arc, Mutex, MutexGuard, PoisonError},
    time::{Duration, Instant},
};
use tokio::task::spawn_blocking;

/// The fewest characters of a passcode, without spaces.
const FEWEST: usize = 8;
/// The fewest different ones.
const FEWEST_DIFFERENT: usize = 5;
/// Rows of keys and orders that everybody tries first.
const ROWS: [&str; 5] = [
    "abcdefghijklmnopqrstuvwxyz",
    "01234567890",
    "qwertyuiopasdfghjklzxcvbnm",
    "qwertzuiopasdfghjklyxcvbnm",
    "azertyuiopqsdfghjklmwxcvbn",
];
/// Words that everybody tries first, alone or with a few digits behind.
const WORDS: [&str; 12] = [
    "passcode",
    "password",
    "passwort",
    "passphrase",
    "understudy",
    "knitting",
    "knitter",
    "letmein",
    "welcome",
    "yarnshop",
    "changeme",
    "iloveyou",
];

/// What came of a try.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Try {
    /// The passcode; with its hash.
    Right(String),
    /// Another one.
    Wrong,
    /// Not looked at: there were too many.
    TooMany,
    /// The file that keeps it is gone or damaged.
    NotReadable,
}

/// The passcode, by the file that keeps its hash.
pub(super) struct Passcode {
    records: PathBuf,
    tries: Mutex<Tries>,
    /// One try is looked at at a time: each look takes some 19 MiB.
    looking: Arc<tokio::sync::Mutex<()>>,
}

impl Passcode {
    /// That of these records; refused where none is set or its file is damaged.
    pub(super) fn of(records: &Path) -> Result<Self, AppError> {
        let passcode = Self {
            records: records.to_owned(),
            tries: Mutex::default(),
            looking: Arc::default(),
        };
        passcode.hash().map(|_| passcode)
    }

    /// The hash that is set now. Its file is some hundred bytes long.
    pub(super) fn hash(&self) -> Result<String, AppError> {
        let kept = kept_passcode(&self.records)?.ok_or(AppError::NoPasscode)?;
        match PasswordHash::new(&kept) {
            Ok(_) => Ok(kept),
            Err(_) => Err(damaged_passcode(&self.records)),
        }
    }

    /// Whether this is the passcode; takes a while. A try is counted before it is
    /// looked at, so that many at once gain nothing, and stays counted where nobody
    /// waits for its answer.
    pub(super) async fn look_at(&self, given: String, from: IpAddr) -> Try {
        if !self.tries().reserve(from, Instant::now()) {
            return Try::TooMany;
        }
        let alone = Arc::clone(&self.looking).lock_owned().await;
        let Ok(hash) = self.hash() else {
            return Try::NotReadable;
        };
        let look = spawn_blocking(move || {
            let _alone = alone;
            is_hash_of(&hash, &given).then_some(hash)
        });
        let Ok(Some(hash)) = look.await else {
            return Try::Wrong;
        };
        self.tries().was_right(from);
        Try::Right(hash)
    }

    fn tries(&self) -> MutexGuard<'_, Tries> {
        self.tries.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

fn is_hash_of(hash: &str, given: &str) -> bool {
    let is_right = |hash| {
        let verified = Argon2::default().verify_password(given.as_bytes(), &hash);
        verified.is_ok()
    };
    PasswordHash::new(hash).is_ok_and(is_right)
}

/// The hash of a passcode, to be kept; refused where it is easy to guess, with what
/// to choose.
pub fn hashed(passcode: &str) -> Result<String, String> {
    if let Some(weakness) = weakness(passcode) {
        return Err(format!(
            "this passcode is easy to guess: {weakness}; choose at least {FEWEST} characters that nobody would try, for example three words that have nothing to do with each other"
        ));
    }
    let hash: Result<PasswordHash, _> = Argon2::default().hash_password(passcode.as_bytes());
    hash.map(|hash| hash.to_string())
        .map_err(|error| format!("the passcode cannot be hashed: {error}; try again"))
}

/// Why a passcode would be guessed before long.
fn weakness(passcode: &str) -> Option<String> {
    let mut letters: Vec<char> = passcode.to_lowercase().chars().collect();
    letters.retain(|letter| !letter.is_whitespace());
    let text: String = letters.iter().collect();
    let word = text.trim_end_matches(|letter: char| !letter.is_alphabetic());
    let given = letters.len();
    letters.sort_unstable();
    letters.dedup();
    if given < FEWEST {
        Some(format!(
            "it has fewer than {FEWEST} characters besides spaces"
        ))
    } else if letters.len() < FEWEST_DIFFERENT {
        Some(format!(
            "it has fewer than {FEWEST_DIFFERENT} different characters"
        ))
    } else if text.chars().all(|letter| letter.is_numeric()) {
        Some("it has digits only".to_owned())
    } else if ROWS.iter().any(|row| is_along(row, &text)) {
        Some("its characters follow each other on the keyboard or in the alphabet".to_owned())
    } else if WORDS.contains(&word) {
        Some("many people choose it".to_owned())
    } else {
        None
    }
}

/// Whether a text runs along a row, onwards or backwards.
fn is_along(row: &str, text: &str) -> bool {
    let backwards: String = text.chars().rev().collect();
    row.contains(text) || row.contains(&backwards)
}

/// How long a try counts.
const WHILE: Duration = Duration::from_secs(60);
/// Tries from one address within that while.
const EACH: usize = 5;
/// Tries from all addresses that never gave the passcode.
const ALL: usize = 40;
/// Addresses that are remembered for having given the passcode.
const KNOWN: usize = 64;

/// Tries that were wrong, or are not known to be right yet.
#[derive(Debug, Default)]
pub(super) struct Tries {
    made: Vec<(IpAddr, Instant)>,
    /// Who gave the passcode before: strangers never use up their tries.
    known: VecDeque<IpAddr>,
}

impl Tries {
    /// Counts a try, where one more may be looked at.
    pub(super) fn reserve(&mut self, from: IpAddr, now: Instant) -> bool {
        let from = network(from);
        self.made
            .retain(|(_, when)| now.saturating_duration_since(*when) < WHILE);
        let known = &self.known;
        let is_stranger = |address: &IpAddr| !known.contains(address);
        let made = self.made.iter().map(|(address, _)| address);
        let strangers = made.clone().filter(|address| is_stranger(address)).count();
        let own = made.filter(|address| **address == from).count();
        if own >= EACH || is_stranger(&from) && strangers >= ALL {
            return false;
        }
        self.made.push((from, now));
        true
    }

    /// Takes back a try that was right, and remembers from where it was.
    pub(super) fn was_right(&mut self, from: IpAddr) {
        let from = network(from);
        if let Some(last) = self.made.iter().rposition(|(address, _)| *address == from) {
            self.made.remove(last);
        }
        if !self.known.contains(&from) {
            self.known.push_back(from);
            if self.known.len() > KNOWN {
                self.known.pop_front();
            }
        }
    }
}

/// What one sender has for its own: an address of IPv4, a network of 64 bits of IPv6.
fn network(address: IpAddr) -> IpAddr {
    match address.to_canonical() {
        IpAddr::V6(address) => IpAddr::V6(Ipv6Addr::from_bits(
            address.to_bits() & !u128::from(u64::MAX),
        )),
        short => short,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::keep_passcode;
    use std::net::Ipv4Addr;

    const HERE: IpAddr = IpAddr::V4(Ipv4Addr::LOCALHOST);

    fn kept(text: &str) -> (tempfile::TempDir, Passcode) {
        let folder = tempfile::tempdir().unwrap();
        let records = folder.path().join("r.db");
        keep_passcode(&records, &hashed(text).unwrap()).unwrap();
        let passcode = Passcode::of(&records).unwrap();
        (folder, passcode)
    }

    async fn is_right(passcode: &Passcode, given: &str) -> bool {
        let tried = passcode.look_at(given.to_owned(), HERE).await;
        matches!(tried, Try::Right(_))
    }

    #[tokio::test]
    async fn only_the_passcode_that_is_kept_now_is_right() {
        let (folder, passcode) = kept("three small words");
        assert!(is_right(&passcode, "three small words").await);
        assert!(!is_right(&passcode, "three small sword").await);
        let other = hashed("four larger words").unwrap();
        keep_passcode(&folder.path().join("r.db"), &other).unwrap();
        assert!(!is_right(&passcode, "three small words").await);
        assert!(is_right(&passcode, "four larger words").await);
    }

    #[test]
    fn weak_ones_are_refused_with_what_to_choose() {
        for weak in [
            "short",
            "12345678",
            "19850412",
            "        ",
            "a        b",
            "aaaaaaaaaaaa",
            "abcabcabc",
            "abcdefgh",
            "Qwertzuiop",
            "poiuytrewq",
            "Password123!",
            "knitting",
        ] {
            let told = hashed(weak).unwrap_err();
            assert!(told.contains("three words"), "{weak}: {told}");
            assert!(!told.contains(weak), "a secret is never shown again");
        }
        for good in ["three small words", "wool7kettle", "schön grün Tisch"] {
            assert!(hashed(good).is_ok(), "{good}");
        }
    }

    fn address(text: &str) -> IpAddr {
        text.parse().unwrap()
    }

    fn looked_at(tries: &mut Tries, from: &str, count: usize, now: Instant) -> usize {
        (0..count)
            .filter(|_| tries.reserve(address(from), now))
            .count()
    }

    #[test]
    fn one_who_guesses_keeps_nobody_else_out_and_may_go_on_after_a_minute() {
        let (mut tries, now) = (Tries::default(), Instant::now());
        assert_eq!(looked_at(&mut tries, "192.0.2.1", 250, now), EACH);
        assert_eq!(looked_at(&mut tries, "192.0.2.2", 1, now), 1);
        assert_eq!(looked_at(&mut tries, "192.0.2.1", 9, now + WHILE), EACH);
    }

    #[test]
    fn a_right_try_counts_for_nothing() {
        let (mut tries, now) = (Tries::default(), Instant::now());
        for _ in 0..20 {
            assert!(tries.reserve(address("192.0.2.1"), now));
            tries.was_right(address("192.0.2.1"));
        }
    }

    #[test]
    fn many_addresses_together_are_limited_and_keep_out_nobody_who_came_in_before() {
        let (mut tries, now) = (Tries::default(), Instant::now());
        assert!(tries.reserve(address("198.51.100.7"), now));
        tries.was_right(address("198.51.100.7"));
        let all: usize = (0..250)
            .map(|last| looked_at(&mut tries, &format!("192.0.2.{last}"), 2, now))
            .sum();
        assert_eq!(all, ALL);
        assert_eq!(looked_at(&mut tries, "198.51.100.7", 9, now), EACH);
        assert_eq!(looked_at(&mut tries, "198.51.100.8", 1, now), 0);
    }

    #[test]
    fn a_network_of_64_bits_is_one_address_and_so_are_both_forms_of_a_short_one() {
        let (mut tries, now) = (Tries::default(), Instant::now());
        assert_eq!(looked_at(&mut tries, "2001:db8::1", 3, now), 3);
        assert_eq!(looked_at(&mut tries, "2001:db8::ffff:2", 9, now), EACH - 3);
        assert_eq!(looked_at(&mut tries, "192.0.2.1", 3, now), 3);
        assert_eq!(looked_at(&mut tries, "::ffff:192.0.2.1", 9, now), EACH - 3);
    }
}
