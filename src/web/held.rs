//! A few things held between two pages, such as a file that is looked over
//! before it is taken. The oldest go when there is no room.

use super::{random::token, trouble::Trouble};
use std::{
    collections::VecDeque,
    sync::{Mutex, MutexGuard, PoisonError},
};

/// A few things, each under a name that cannot be guessed.
pub(super) struct Held<T> {
    most: usize,
    weight: fn(&T) -> usize,
    things: Mutex<VecDeque<(String, T)>>,
}

impl<T: Clone> Held<T> {
    /// At most so many.
    pub(super) fn of(most: usize) -> Self {
        Self::weighing(most, |_| 1)
    }

    /// As many as weigh no more than this together; one is held in any case.
    pub(super) fn weighing(most: usize, weight: fn(&T) -> usize) -> Self {
        Self {
            most,
            weight,
            things: Mutex::new(VecDeque::new()),
        }
    }

    /// Holds a thing; gives its name.
    pub(super) fn hold(&self, thing: T) -> Result<String, Trouble> {
        let name = token()?;
        let mut things = self.locked();
        things.push_back((name.clone(), thing));
        let weight = |(_, thing): &(String, T)| (self.weight)(thing);
        while things.len() > 1 && things.iter().map(weight).sum::<usize>() > self.most {
            things.pop_front();
        }
        Ok(name)
    }

    /// The thing of this name, while it is held.
    pub(super) fn get(&self, name: &str) -> Option<T> {
        let things = self.locked();
        let found = things.iter().find(|(held, _)| held == name);
        found.map(|(_, thing)| thing.clone())
    }

    /// Lets go of a thing.
    pub(super) fn drop_named(&self, name: &str) {
        self.locked().retain(|(held, _)| held != name);
    }

    fn locked(&self) -> MutexGuard<'_, VecDeque<(String, T)>> {
        self.things.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_oldest_goes_when_there_is_no_room() {
        let held = Held::of(2);
        let names: Vec<String> = (0..3).map(|n| held.hold(n).unwrap()).collect();
        assert_eq!(held.get(&names[0]), None);
        assert_eq!(held.get(&names[2]), Some(2));
        held.drop_named(&names[2]);
        assert_eq!(held.get(&names[2]), None);
    }

    #[test]
    fn heavy_things_make_the_oldest_go_and_the_last_stays() {
        let held = Held::weighing(10, |weight: &usize| *weight);
        let names: Vec<String> = [4, 5, 2, 30].map(|n| held.hold(n).unwrap()).to_vec();
        assert_eq!(held.get(&names[3]), Some(30));
        assert_eq!(held.get(&names[2]), None);
        let names: Vec<String> = [4, 5].map(|n| held.hold(n).unwrap()).to_vec();
        assert_eq!(
            (held.get(&names[0]), held.get(&names[1])),
            (Some(4), Some(5))
        );
    }
}
