//! A record with the key and the version under which it is kept.

use std::{fmt, hash::Hash, marker::PhantomData};

/// The key of a kept `T`; keys of different records cannot be mixed up.
pub struct Id<T>(i64, PhantomData<fn() -> T>);

impl<T> Id<T> {
    /// The key with this number.
    pub fn new(number: i64) -> Self {
        Self(number, PhantomData)
    }

    /// Its number.
    pub fn number(self) -> i64 {
        self.0
    }
}

impl<T> Clone for Id<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T> Copy for Id<T> {}

impl<T> PartialEq for Id<T> {
    fn eq(&self, other: &Self) -> bool {
        self.0 == other.0
    }
}

impl<T> Eq for Id<T> {}

impl<T> PartialOrd for Id<T> {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl<T> Ord for Id<T> {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.0.cmp(&other.0)
    }
}

impl<T> Hash for Id<T> {
    fn hash<H: std::hash::Hasher>(&self, state: &mut H) {
        self.0.hash(state);
    }
}

impl<T> fmt::Debug for Id<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "#{}", self.0)
    }
}

impl<T> fmt::Display for Id<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0)
    }
}

/// A kept record. `version` grows with each change, so that of two people who
/// edit the same record the second can be told.
#[derive(Debug, Clone, PartialEq)]
pub struct Stored<T> {
    /// Its key.
    pub id: Id<T>,
    /// How often it was written.
    pub version: i64,
    /// The record.
    pub record: T,
}
