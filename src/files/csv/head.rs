//! The start of a table: whether it is text, and its first line.

use crate::files::{
    ExchangeError,
    text::{given_away, without_mark},
};
use std::io::{self, Read};

/// The most bytes in which the header line is looked for.
const HEAD: u64 = 64 * 1024;

/// The start of a file, without the UTF-8 mark.
pub(super) fn head_of(file: &str, source: &mut impl Read) -> Result<Vec<u8>, ExchangeError> {
    let mut head = Vec::new();
    let read = source.take(HEAD).read_to_end(&mut head);
    read.map_err(failed_to_read(file))?;
    match given_away(&head) {
        Some(found) => Err(ExchangeError::NotText {
            file: file.to_owned(),
            line: None,
            found,
        }),
        None => Ok(without_mark(&head).to_vec()),
    }
}

/// The first line that is not blank.
pub(super) fn first_line(head: &[u8]) -> &[u8] {
    let mut lines = head.split(|byte| matches!(byte, b'\r' | b'\n'));
    lines
        .find(|line| !line.trim_ascii().is_empty())
        .unwrap_or_default()
}

/// The error of a source that cannot be read.
pub(super) fn failed_to_read(file: &str) -> impl FnOnce(io::Error) -> ExchangeError {
    let file = file.to_owned();
    |source| ExchangeError::Read { file, source }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_line_is_the_first_that_says_something() {
        assert_eq!(first_line(b"\r\n  \nmaker,name\r\na,b"), b"maker,name");
        assert_eq!(first_line(b""), b"");
    }

    #[test]
    fn the_mark_of_utf8_is_no_part_of_the_head() {
        let head = head_of("s.csv", &mut &b"\xEF\xBB\xBFmaker"[..]).unwrap();
        assert_eq!(head, b"maker");
    }
}
