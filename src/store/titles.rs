//! Folded makers and names of very many yarns, in little memory: all texts in one
//! string, a maker only once; and how they are read from the file.

use super::{
    Reader, StoreError,
    cells::Taken,
    copies::file_error,
    lettered::{Lettered, ManyLetters},
};
use rusqlite::Params;
use std::{
    cell::RefCell,
    sync::mpsc::{Receiver, SyncSender, sync_channel},
    thread,
};

/// In the order of maker and name, so that one maker serves many.
const ALL: &str = "SELECT id, maker_key, name_key FROM yarn ORDER BY maker_key, name_key";

const LATER: &str = "SELECT id, maker_key, name_key FROM yarn WHERE id > ? ORDER BY id";

/// Yarns that are handed over at a time.
const AT_A_TIME: usize = 2048;

/// What is seen of the titles, one after the other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Title<T> {
    /// The maker of the names that follow.
    Maker(T),
    /// The name of a yarn.
    Name(T),
}

/// Makers and names in their order.
#[derive(Debug, Default)]
pub(super) struct Titles {
    /// A maker, the names of its yarns, the next maker and so on.
    texts: String,
    makers: Vec<Maker>,
    /// Bytes of the name of each yarn.
    yarns: Vec<u32>,
    /// Where the text of the last maker starts.
    last_maker: usize,
}

/// A maker: bytes of its text, and how many yarns it has.
#[derive(Debug)]
struct Maker {
    bytes: u32,
    yarns: usize,
}

impl Titles {
    /// Adds a yarn behind the others; whether its maker is another than that of the
    /// yarn before.
    pub(super) fn add(&mut self, (maker, name): (&str, &str)) -> bool {
        let known = self.texts.get(self.last_maker..).unwrap_or_default();
        let last = self.makers.last_mut();
        let same = |last: &&mut Maker| size(last.bytes) == maker.len() && known.starts_with(maker);
        let another = match last.filter(same) {
            Some(last) => {
                last.yarns += 1;
                false
            }
            None => {
                self.add_maker(maker);
                true
            }
        };
        self.texts.push_str(name);
        self.yarns.push(short(name.len()));
        another
    }

    fn add_maker(&mut self, maker: &str) {
        self.last_maker = self.texts.len();
        self.texts.push_str(maker);
        let bytes = short(maker.len());
        self.makers.push(Maker { bytes, yarns: 1 });
    }

    /// Hands each maker, and then each of its yarns, to `see`.
    #[inline]
    pub(super) fn each<'t>(&'t self, mut see: impl FnMut(Title<&'t str>)) {
        let mut texts = self.texts.as_str();
        let mut next = |bytes: u32| {
            let (text, rest) = texts.split_at_checked(size(bytes)).unwrap_or_default();
            texts = rest;
            text
        };
        let mut yarns = self.yarns.iter();
        for maker in &self.makers {
            see(Title::Maker(next(maker.bytes)));
            for yarn in yarns.by_ref().take(maker.yarns) {
                see(Title::Name(next(*yarn)));
            }
        }
    }

    /// Forgets all, and keeps the memory and some more: a full one would be doubled
    /// for the next yarn.
    pub(super) fn clear(&mut self) {
        let bytes = self.texts.len();
        self.texts.clear();
        self.texts.reserve_exact(with_room(bytes));
        clear(&mut self.makers);
        clear(&mut self.yarns);
        self.last_maker = 0;
    }

    /// Gives back the memory that is not needed.
    pub(super) fn shrink(&mut self) {
        self.texts
            .shrink_to(self.texts.len() + self.texts.len() / 8);
        shrink(&mut self.makers);
        shrink(&mut self.yarns);
    }

    /// Bytes of memory.
    #[cfg(test)]
    pub(super) fn memory(&self) -> usize {
        self.texts.capacity()
            + self.makers.capacity() * size_of::<Maker>()
            + self.yarns.capacity() * size_of::<u32>()
    }
}

/// So many, and room for one in sixteen more.
fn with_room(count: usize) -> usize {
    count + count / 16
}

/// As [`Titles::clear`].
pub(super) fn clear<T>(all: &mut Vec<T>) {
    let count = all.len();
    all.clear();
    all.reserve_exact(with_room(count));
}

/// As [`Titles::shrink`]; what has room for one in eight more keeps it.
pub(super) fn shrink<T>(all: &mut Vec<T>) {
    all.shrink_to(all.len() + all.len() / 8);
}

/// A text in SQLite has at most 2,147,483,647 bytes.
fn short(size: usize) -> u32 {
    u32::try_from(size).unwrap_or(u32::MAX)
}

fn size(short: u32) -> usize {
    usize::try_from(short).unwrap_or(usize::MAX)
}

impl Reader<'_> {
    /// Hands folded makers and names of all yarns to `see`, on a thread of its own,
    /// while the next are read.
    pub(super) fn titles(
        &self,
        see: impl FnMut(Title<Lettered<'_>>) + Send,
    ) -> Result<(), StoreError> {
        let (send, receive) = sync_channel(4);
        thread::scope(|scope| {
            let started = thread::Builder::new().spawn_scoped(scope, || see_all(receive, see));
            started.map_err(file_error("start a thread to search", self.db.path))?;
            self.send_titles(send)
        })
    }

    fn send_titles(&self, send: SyncSender<Titles>) -> Result<(), StoreError> {
        let mut titles = Titles::default();
        self.each_title(|title| {
            titles.add(title);
            if titles.yarns.len() >= AT_A_TIME {
                // Nobody listens only where the other side has failed.
                let _ = send.send(std::mem::take(&mut titles));
            }
        })?;
        let _ = send.send(titles);
        Ok(())
    }

    /// Hands folded maker and name of every yarn to `see`, in the order of
    /// maker and name.
    pub(super) fn each_title(&self, see: impl FnMut((&str, &str))) -> Result<(), StoreError> {
        self.see_titles(ALL, [], see)
    }

    /// The same of those with a greater number than `after`, in the order of numbers.
    pub(super) fn each_title_after(
        &self,
        after: i64,
        see: impl FnMut((&str, &str)),
    ) -> Result<(), StoreError> {
        self.see_titles(LATER, [after], see)
    }

    fn see_titles(
        &self,
        sql: &str,
        params: impl Params,
        see: impl FnMut((&str, &str)),
    ) -> Result<(), StoreError> {
        let see = RefCell::new(see);
        let take = |row: &mut Taken<'_, '_>| {
            row.pass();
            let title = (row.text()?, row.text()?);
            (*see.borrow_mut())(title);
            Ok(())
        };
        self.db
            .each("yarn", sql, params, take, Ok::<(), StoreError>)
    }
}

fn see_all(titles: Receiver<Titles>, mut see: impl FnMut(Title<Lettered<'_>>)) {
    let (mut of_maker, mut of_name) = (ManyLetters::default(), ManyLetters::default());
    for some in titles {
        some.each(|title| {
            see(match title {
                Title::Maker(text) => Title::Maker(of_maker.only(text)),
                Title::Name(text) => Title::Name(of_name.only(text)),
            });
        });
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Store, samples::bare};
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn prop_titles_come_back_in_their_order(
            given in prop::collection::vec(("[a-cé]{0,3}", "[a-cé ]{0,5}"), 0..30),
        ) {
            let mut titles = Titles::default();
            for (maker, name) in &given {
                titles.add((maker, name));
            }
            let (mut back, mut of) = (Vec::new(), String::new());
            titles.each(|title| match title {
                Title::Maker(maker) => of = maker.to_owned(),
                Title::Name(name) => back.push((of.clone(), name.to_owned())),
            });
            prop_assert_eq!(back, given);
        }
    }

    #[test]
    fn more_yarns_than_are_handed_over_at_a_time_all_come() {
        let mut store = Store::in_memory().unwrap();
        let count = AT_A_TIME * 2 + 3;
        let kept: Result<(), StoreError> = store.write(|w| {
            let each = 0..count;
            each.into_iter()
                .try_for_each(|n| w.add_yarn(&bare("Quay", &format!("{n:06}"))).map(|_| ()))
        });
        kept.unwrap();
        let mut names = Vec::new();
        let reader = store.reader().unwrap();
        let seen = reader.titles(|title| match title {
            Title::Maker(maker) => assert_eq!(maker.text, "quay"),
            Title::Name(name) => names.push(name.text.to_owned()),
        });
        seen.unwrap();
        assert!(
            names
                .iter()
                .cloned()
                .eq((0..count).map(|n| format!("{n:06}")))
        );
    }
}
