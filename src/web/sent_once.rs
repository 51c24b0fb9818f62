//! A few things held between two requests, the oldest of which go when there is no
//! room: some under a token that cannot be guessed, such as a file that somebody
//! looks over before saving it; and the changes that forms made, each under what makes two
//! forms one, so that a form that is sent twice, as by a double click, changes the
//! records once and the second is answered with the result of the first.

use super::error_page::ErrorPage;
use crate::{app::FormData, report::Page};
use std::{
    borrow::Borrow,
    collections::VecDeque,
    hash::{DefaultHasher, Hash, Hasher},
    sync::{Mutex, MutexGuard, PoisonError},
};

/// A few things, each under a name.
pub(super) struct Held<T, N = String> {
    most: usize,
    weight: fn(&T) -> usize,
    things: Mutex<VecDeque<(N, T)>>,
}

impl<T: Clone, N> Held<T, N> {
    /// At most so many.
    pub(super) fn new(most: usize) -> Self {
        Self::with_weight(most, |_| 1)
    }

    /// As many as weigh no more than this together; one is held in any case.
    pub(super) fn with_weight(most: usize, weight: fn(&T) -> usize) -> Self {
        Self {
            most,
            weight,
            things: Mutex::new(VecDeque::new()),
        }
    }

    /// Holds a thing under this name.
    pub(super) fn insert_as(&self, name: N, thing: T) {
        let mut things = self.locked();
        things.push_back((name, thing));
        let weight = |(_, thing): &(N, T)| (self.weight)(thing);
        while things.len() > 1 && things.iter().map(weight).sum::<usize>() > self.most {
            things.pop_front();
        }
    }

    /// The thing of this name, while it is held.
    pub(super) fn get<Q: Eq + ?Sized>(&self, name: &Q) -> Option<T>
    where
        N: Borrow<Q>,
    {
        let things = self.locked();
        let found = things.iter().find(|(held, _)| held.borrow() == name);
        found.map(|(_, thing)| thing.clone())
    }

    fn locked(&self) -> MutexGuard<'_, VecDeque<(N, T)>> {
        self.things.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl<T: Clone> Held<T> {
    /// Holds a thing; gives its token, which cannot be guessed.
    pub(super) fn insert(&self, thing: T) -> Result<String, ErrorPage> {
        let token = random_token()?;
        self.insert_as(token.clone(), thing);
        Ok(token)
    }

    /// Lets go of a thing.
    pub(super) fn remove(&self, token: &str) {
        self.locked().retain(|(held, _)| held != token);
    }
}

/// 128 random bits in hexadecimal.
pub(super) fn random_token() -> Result<String, ErrorPage> {
    let mut bytes = [0_u8; 16];
    getrandom::fill(&mut bytes)
        .map_err(|_| ErrorPage::failed("the machine gives no random numbers; try again"))?;
    Ok(bytes.iter().map(|byte| format!("{byte:02x}")).collect())
}

/// The field that holds the token of a form.
pub(super) const ONCE: &str = "once";
/// What a change led to.
#[derive(Debug, Clone)]
pub(super) struct Done {
    /// The page to go on to.
    pub(super) next: String,
    /// What is shown there.
    pub(super) told: Option<Page>,
    /// The number of the change, where it can be taken back.
    pub(super) change: Option<i64>,
}

/// What a page tells of what was done just before.
#[derive(Debug, Clone)]
pub(super) struct Told {
    pub(super) page: Page,
    /// The number of the change, where it can be taken back.
    pub(super) change: Option<i64>,
}

/// What makes two forms one: the token and every field. Another text in a form that
/// was sent before, as by going back, is another change and is not lost.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct SentOnce {
    token: String,
    fields: u64,
}

impl SentOnce {
    /// That of a form; nothing where it has no token.
    pub(super) fn of(typed: &FormData) -> Option<Self> {
        let token = typed.filled(ONCE)?;
        let mut fields = DefaultHasher::new();
        typed.iter().for_each(|field| field.hash(&mut fields));
        Some(Self {
            token,
            fields: fields.finish(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_oldest_goes_when_there_is_no_room() {
        let held = Held::new(2);
        let names: Vec<String> = (0..3).map(|n| held.insert(n).unwrap()).collect();
        assert_eq!(held.get(&names[0]), None);
        assert_eq!(held.get(&names[2]), Some(2));
        held.remove(&names[2]);
        assert_eq!(held.get(&names[2]), None);
    }

    #[test]
    fn heavy_things_make_the_oldest_go_and_the_last_stays() {
        let held = Held::with_weight(10, |weight: &usize| *weight);
        let names: Vec<String> = [4, 5, 2, 30].map(|n| held.insert(n).unwrap()).to_vec();
        assert_eq!(held.get(&names[3]), Some(30));
        assert_eq!(held.get(&names[2]), None);
        let names: Vec<String> = [4, 5].map(|n| held.insert(n).unwrap()).to_vec();
        assert_eq!(
            (held.get(&names[0]), held.get(&names[1])),
            (Some(4), Some(5))
        );
    }

    fn sent(token: &str, amount: &str) -> Option<SentOnce> {
        let typed = [(ONCE, token), ("amount", amount)].into_iter().collect();
        SentOnce::of(&typed)
    }

    #[test]
    fn forms_are_one_by_their_token_and_all_fields() {
        assert_eq!(sent("a", "1 skein"), sent("a", "1 skein"));
        assert_ne!(sent("a", "1 skein"), sent("a", "2 skeins"));
        assert_ne!(sent("a", "1 skein"), sent("b", "1 skein"));
        assert_eq!(sent("", "1 skein"), None);
    }
}
