//! What a form sent, taken from the request: its fields by name, in the query of
//! a question or in the body of a change, and its file. Line breaks of fields are as
//! they were typed.

use super::error_page::ErrorPage;
use crate::app::FormData;
use axum::{
    body::Bytes,
    extract::{
        Form, FromRequest, Multipart, Request, multipart::MultipartError, rejection::FormRejection,
    },
    http::StatusCode,
    response::IntoResponse,
};

/// The most characters of one field. A materials line has some hundred.
const MOST: usize = 200_000;

impl<S: Send + Sync> FromRequest<S> for FormData {
    type Rejection = ErrorPage;

    async fn from_request(request: Request, state: &S) -> Result<Self, ErrorPage> {
        let form = Form::<Vec<(String, String)>>::from_request(request, state).await;
        let Form(pairs) = form.map_err(refused)?;
        if let Some((name, text)) = pairs.iter().find(|(_, text)| text.chars().count() > MOST) {
            let said = format!(
                "The field `{}` holds {} characters: write at most {MOST}.",
                crate::words::safe(name),
                text.chars().count()
            );
            return Err(ErrorPage::too_long(said));
        }
        let pairs = pairs.into_iter();
        Ok(pairs
            .map(|(name, text)| (name, text.replace("\r\n", "\n")))
            .collect())
    }
}

fn refused(rejection: FormRejection) -> ErrorPage {
    match rejection.into_response().status() {
        StatusCode::PAYLOAD_TOO_LARGE => ErrorPage::too_long(
            "What was sent is too long for this form: shorten it, or send it as a file.",
        ),
        _ => {
            ErrorPage::wrong("What was sent is no form of these pages: go back and send it again.")
        }
    }
}

/// The name and the bytes of the file that a form sent.
pub(super) async fn file_of(
    form: &mut Multipart,
    mut other: impl FnMut(&str, String),
) -> Result<Option<(String, Bytes)>, ErrorPage> {
    let mut found = None;
    while let Some(part) = form.next_field().await.map_err(unreadable)? {
        let name = part.name().unwrap_or_default().to_owned();
        match part.file_name().map(str::to_owned) {
            Some(file) => {
                let bytes = part.bytes().await.map_err(unreadable)?;
                found = (!file.is_empty()).then_some((file, bytes));
            }
            None => other(&name, part.text().await.map_err(unreadable)?),
        }
    }
    Ok(found)
}

fn unreadable(error: MultipartError) -> ErrorPage {
    match error.status() {
        StatusCode::PAYLOAD_TOO_LARGE => ErrorPage::too_long(
            "The file is longer than 24 MiB: part it, or import it with the command line.",
        ),
        _ => ErrorPage::wrong("The file did not arrive whole: send it again."),
    }
}
