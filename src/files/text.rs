//! Whether bytes are UTF-8 text, and what they are otherwise.
//!
//! Nothing is decoded from another encoding: a wrong guess would change letters
//! without a word. The message says how to save the file instead.

use super::FileError;
use std::fmt;

/// What a file is, when it is not UTF-8 text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FileKind {
    /// Two bytes a letter.
    Utf16,
    /// A workbook or another packed document.
    Workbook,
    /// Bytes that are no text in any encoding.
    Binary,
    /// One byte a letter: Windows-1252 or one of its kin.
    OneByteLetters,
}

impl FileKind {
    /// What to do about it.
    pub fn remedy(self) -> &'static str {
        match self {
            Self::Workbook => {
                "open it in its own program and save or export it as CSV with the character set UTF-8"
            }
            Self::Binary => "give a text file",
            Self::Utf16 | Self::OneByteLetters => {
                "open it in the program that wrote it and save it again with the character set (encoding) UTF-8, in a spreadsheet as `CSV UTF-8`"
            }
        }
    }
}

impl fmt::Display for FileKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Utf16 => "UTF-16 text",
            Self::Workbook => "a workbook or another packed document",
            Self::Binary => "a binary file",
            Self::OneByteLetters => "text in Windows-1252 or another encoding of one byte a letter",
        })
    }
}

/// The UTF-8 mark that some programs write first.
const MARK: &[u8] = b"\xEF\xBB\xBF";

/// `bytes` without the UTF-8 mark at their start.
pub(super) fn without_mark(bytes: &[u8]) -> &[u8] {
    bytes.strip_prefix(MARK).unwrap_or(bytes)
}

/// What the start of a file gives away, where it is not UTF-8 text.
pub(super) fn kind_by_start(head: &[u8]) -> Option<FileKind> {
    if head.starts_with(b"\xFF\xFE") || head.starts_with(b"\xFE\xFF") {
        return Some(FileKind::Utf16);
    }
    if head.starts_with(b"PK\x03\x04") || head.starts_with(b"\xD0\xCF\x11\xE0") {
        return Some(FileKind::Workbook);
    }
    if !head.contains(&0) {
        None
    } else if every_other_is_zero(head) {
        Some(FileKind::Utf16)
    } else {
        Some(FileKind::Binary)
    }
}

/// Text of mostly ASCII letters in UTF-16 has a zero for every other byte.
fn every_other_is_zero(head: &[u8]) -> bool {
    let zeros = |first: usize| {
        let bytes = head.iter().skip(first).step_by(2);
        bytes.clone().filter(|b| **b == 0).count() * 10 >= bytes.count() * 7
    };
    head.len() >= 4 && (zeros(0) ^ zeros(1))
}

/// The whole of `bytes` as text, without the UTF-8 mark.
pub(super) fn text_of<'a>(file: &str, bytes: &'a [u8]) -> Result<&'a str, FileError> {
    let refused = |line, found| FileError::NotText {
        file: file.to_owned(),
        line,
        found,
    };
    if let Some(found) = kind_by_start(bytes) {
        return Err(refused(None, found));
    }
    let bytes = without_mark(bytes);
    std::str::from_utf8(bytes).map_err(|error| {
        let good = bytes.iter().take(error.valid_up_to());
        let breaks = good.filter(|byte| **byte == b'\n').count();
        refused(
            u64::try_from(breaks).ok().map(|breaks| breaks + 1),
            FileKind::OneByteLetters,
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(bytes: &[u8]) -> Option<(Option<u64>, FileKind)> {
        match text_of("x.toml", bytes) {
            Err(FileError::NotText { line, found, .. }) => Some((line, found)),
            _ => None,
        }
    }

    fn utf16(text: &str, big: bool) -> Vec<u8> {
        let bytes = |unit: u16| {
            if big {
                unit.to_be_bytes()
            } else {
                unit.to_le_bytes()
            }
        };
        text.encode_utf16().flat_map(bytes).collect()
    }

    #[test]
    fn utf16_is_known_with_and_without_its_mark() {
        for big in [true, false] {
            for mark in ["", "\u{FEFF}"] {
                let bytes = utf16(&format!("{mark}maker,name\nHollin,Döll\n"), big);
                assert_eq!(found(&bytes), Some((None, FileKind::Utf16)));
            }
        }
    }

    #[test]
    fn one_byte_letters_are_told_with_their_line() {
        assert_eq!(
            found(b"a\nb\ncaf\xE9\n"),
            Some((Some(3), FileKind::OneByteLetters))
        );
    }

    #[test]
    fn a_workbook_and_a_picture_are_no_text() {
        assert_eq!(found(b"PK\x03\x04\x14\0"), Some((None, FileKind::Workbook)));
        assert_eq!(
            found(b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR"),
            Some((None, FileKind::Binary))
        );
    }

    #[test]
    fn utf8_is_text_and_loses_only_its_mark() {
        assert_eq!(text_of("x", "\u{FEFF}½ £".as_bytes()).unwrap(), "½ £");
    }
}
