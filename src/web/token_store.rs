//! A few things held between two requests, such as a file that is looked over
//! before it is taken, each under a token that cannot be guessed. The oldest go
//! when there is no room.

use super::error_page::ErrorPage;
use std::{
    collections::VecDeque,
    sync::{Mutex, MutexGuard, PoisonError},
};

/// A few things, each under a name that cannot be guessed.
pub(super) struct TokenStore<T> {
    most: usize,
    weight: fn(&T) -> usize,
    things: Mutex<VecDeque<(String, T)>>,
}

impl<T: Clone> TokenStore<T> {
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

    /// Holds a thing; gives its token.
    pub(super) fn insert(&self, thing: T) -> Result<String, ErrorPage> {
        let token = random_token()?;
        let mut things = self.locked();
        things.push_back((token.clone(), thing));
        let weight = |(_, thing): &(String, T)| (self.weight)(thing);
        while things.len() > 1 && things.iter().map(weight).sum::<usize>() > self.most {
            things.pop_front();
        }
        Ok(token)
    }

    /// The thing of this name, while it is held.
    pub(super) fn get(&self, token: &str) -> Option<T> {
        let things = self.locked();
        let found = things.iter().find(|(held, _)| held == token);
        found.map(|(_, thing)| thing.clone())
    }

    /// Lets go of a thing.
    pub(super) fn remove(&self, token: &str) {
        self.locked().retain(|(held, _)| held != token);
    }

    fn locked(&self) -> MutexGuard<'_, VecDeque<(String, T)>> {
        self.things.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// 128 random bits in hexadecimal.
pub(super) fn random_token() -> Result<String, ErrorPage> {
    let mut bytes = [0_u8; 16];
    getrandom::fill(&mut bytes)
        .map_err(|_| ErrorPage::failed("the machine gives no random numbers; try again"))?;
    Ok(bytes.iter().map(|byte| format!("{byte:02x}")).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_oldest_goes_when_there_is_no_room() {
        let held = TokenStore::new(2);
        let names: Vec<String> = (0..3).map(|n| held.insert(n).unwrap()).collect();
        assert_eq!(held.get(&names[0]), None);
        assert_eq!(held.get(&names[2]), Some(2));
        held.remove(&names[2]);
        assert_eq!(held.get(&names[2]), None);
    }

    #[test]
    fn heavy_things_make_the_oldest_go_and_the_last_stays() {
        let held = TokenStore::with_weight(10, |weight: &usize| *weight);
        let names: Vec<String> = [4, 5, 2, 30].map(|n| held.insert(n).unwrap()).to_vec();
        assert_eq!(held.get(&names[3]), Some(30));
        assert_eq!(held.get(&names[2]), None);
        let names: Vec<String> = [4, 5].map(|n| held.insert(n).unwrap()).to_vec();
        assert_eq!(
            (held.get(&names[0]), held.get(&names[1])),
            (Some(4), Some(5))
        );
    }
}
