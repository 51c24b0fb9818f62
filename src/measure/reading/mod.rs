//! Reading quantities as people write them.

mod note;

pub use note::{NotRead, Note, ReadError, Reading};
