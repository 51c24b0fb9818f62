//! A text that is pasted or sent as a file, with what was typed beside it.

use crate::{
    app::{FormData, SourceFile},
    web::{
        error_page::ErrorPage,
        form::{Field, Kind},
        form_data::SentForm,
    },
};

/// The most bytes of a text; a sheet has some thousand.
const MOST: usize = 512 * 1024;

/// A text that was sent.
pub(super) struct Text {
    pub(super) file: SourceFile,
    /// Whether it was a file, and not pasted.
    pub(super) is_file: bool,
}

/// The field that the text is pasted into.
pub(super) use crate::web::refusal::TEXT as FIELD;

/// What a form with a text sent. The text of a file takes the place of what was
/// pasted, so that the form shows it.
pub(super) fn text_of(sent: SentForm) -> Result<(Option<Text>, FormData), ErrorPage> {
    let found = sent.file_or_text();
    let (mut typed, is_file) = (sent.typed, sent.file.is_some());
    let Some((name, bytes)) = found else {
        return Ok((None, typed));
    };
    if bytes.len() > MOST {
        return Err(too_long(bytes.len()));
    }
    if let Ok(text) = std::str::from_utf8(&bytes) {
        typed.set(FIELD, text.replace("\r\n", "\n"));
    }
    let bytes = bytes.to_vec();
    let file = SourceFile { name, bytes };
    Ok((Some(Text { file, is_file }), typed))
}

fn too_long(bytes: usize) -> ErrorPage {
    ErrorPage::too_long(format!(
        "The text is {} KiB long: no pattern and no sheet is longer than {} KiB. Go back and send a part of it, or use the command line.",
        bytes / 1024,
        MOST / 1024
    ))
}

/// A text that was pasted or made, and what messages call it.
pub(super) fn pasted_text(name: &str, text: &str) -> SourceFile {
    SourceFile {
        name: name.to_owned(),
        bytes: text.as_bytes().to_vec(),
    }
}

/// The field that takes a file.
pub(super) fn file_field(label: &str) -> Field {
    let hint = "Its text then appears above, to correct. Nothing is saved.";
    Field::new("file", label, hint, Kind::File)
}
