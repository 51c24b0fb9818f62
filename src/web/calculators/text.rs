//! A text that is pasted or sent as a file, with what was typed beside it.

use crate::{
    app::{FormData, SourceFile},
    web::{
        error_page::ErrorPage,
        form::{Field, Kind},
        form_data::file_of,
    },
};
use axum::extract::Multipart;

/// The most bytes of a text; a sheet has some thousand.
const MOST: usize = 512 * 1024;

/// What messages call a text that was pasted.
pub(super) const PASTED: &str = "The text";

/// A text that was sent.
pub(super) struct Text {
    pub(super) file: SourceFile,
    /// Whether it was a file, and not pasted.
    pub(super) sent: bool,
}

/// The field that the text is pasted into.
pub(super) use crate::web::refusal::TEXT as FIELD;

/// What a form with a text sent. The text of a file takes the place of what was
/// pasted, so that the form shows it.
pub(super) async fn text_of(form: &mut Multipart) -> Result<(Option<Text>, FormData), ErrorPage> {
    let mut typed = FormData::default();
    let file = file_of(form, |name, text| {
        typed.set(name, text.replace("\r\n", "\n"));
    })
    .await?;
    let pasted_bytes = typed.text(FIELD).len();
    let bytes = file.as_ref().map_or(pasted_bytes, |(_, bytes)| bytes.len());
    if bytes > MOST {
        return Err(too_long(bytes));
    }
    let text = match file {
        Some((name, bytes)) => {
            if let Ok(text) = std::str::from_utf8(&bytes) {
                typed.set(FIELD, text.replace("\r\n", "\n"));
            }
            let bytes = bytes.to_vec();
            Some(Text {
                file: SourceFile { name, bytes },
                sent: true,
            })
        }
        None => pasted(&typed),
    };
    Ok((text, typed))
}

fn too_long(bytes: usize) -> ErrorPage {
    ErrorPage::too_long(format!(
        "The text is {} KiB long: no pattern and no sheet is longer than {} KiB. Go back and send a part of it, or use the command line.",
        bytes / 1024,
        MOST / 1024
    ))
}

fn pasted(typed: &FormData) -> Option<Text> {
    let text = typed.text(FIELD);
    (!text.trim().is_empty()).then(|| Text {
        file: pasted_text(PASTED, text),
        sent: false,
    })
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
    let hint = "Its text is then shown above, to be corrected. Nothing of it is kept.";
    Field::new("file", label, hint, Kind::File)
}
