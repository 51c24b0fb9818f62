//! One cell, field or argument at a time: the whole text must be one value.
//!
//! CSV columns, pattern files, command-line arguments and forms all read here.
//! Printing any of these values and reading it back gives the same value.

mod read;

pub use read::*;
