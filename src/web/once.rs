//! Changes that were made by forms, each under the token of its form: a form that is
//! sent twice, as by a double click, changes the records once, and the second is
//! answered with the result of the first.

use crate::{app::FormData, report::Page};
use std::{
    collections::VecDeque,
    hash::{DefaultHasher, Hash, Hasher},
    sync::{Mutex, PoisonError},
};

/// The field that holds the token of a form.
pub(super) const ONCE: &str = "once";
/// Changes that are remembered.
const REMEMBERED: usize = 512;

/// What a change led to.
#[derive(Debug, Clone)]
pub(super) struct Done {
    /// The page to go on to.
    pub(super) next: String,
    /// What is told there.
    pub(super) told: Option<Page>,
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

/// The latest changes.
#[derive(Debug, Default)]
pub(super) struct ChangesDone(Mutex<VecDeque<(SentOnce, Done)>>);

impl ChangesDone {
    /// What the same form led to before.
    pub(super) fn earlier(&self, sent: &SentOnce) -> Option<Done> {
        let done = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let found = done.iter().find(|(before, _)| before == sent);
        found.map(|(_, done)| done.clone())
    }

    /// Remembers what a form led to; the oldest goes where there are many.
    pub(super) fn remember(&self, sent: SentOnce, what: Done) {
        let mut done = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        done.push_back((sent, what));
        if done.len() > REMEMBERED {
            done.pop_front();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

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
