//! Files written whole or not at all.

use super::AppError;
use crate::files::{
    FileError,
    atomic::{IfThere, write_atomically},
};
use std::{
    io::{self, Write},
    path::Path,
};

/// Writes a file with what `write` writes; where that fails nothing is changed.
/// A file that is there is replaced only when `replace`.
pub fn to_file<T>(
    path: &Path,
    replace: bool,
    write: impl FnOnce(&mut dyn Write) -> Result<T, AppError>,
) -> Result<T, AppError> {
    let if_there = match replace {
        true => IfThere::Replace,
        false => IfThere::Refuse,
    };
    let mut refused = None;
    let written = write_atomically(path, if_there, |target| {
        write(target).map_err(|error| {
            refused = Some(error);
            FileError::Write {
                file: path.display().to_string(),
                source: io::Error::other("not written"),
            }
        })
    });
    match (written, refused) {
        (_, Some(error)) => Err(error),
        (written, None) => Ok(written?),
    }
}
