//! What a form sent, taken from the request: its fields by name, in the query of
//! a question or in the body of a change, and its file. Line breaks of fields are as
//! they were typed.

use super::{error_page::ErrorPage, refusal::TEXT};
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

/// What messages call a text that was pasted.
pub(super) const PASTED: &str = "The text";

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
        _ => no_form(),
    }
}

fn no_form() -> ErrorPage {
    ErrorPage::wrong("What was sent is no form of these pages: go back and send it again.")
}

/// What a form sent that may have a file.
#[derive(Default)]
pub(super) struct SentForm {
    pub(super) typed: FormData,
    /// Name and bytes of the file, where one was chosen.
    pub(super) file: Option<(String, Bytes)>,
}

impl<S: Send + Sync> FromRequest<S> for SentForm {
    type Rejection = ErrorPage;

    async fn from_request(request: Request, state: &S) -> Result<Self, ErrorPage> {
        let parts = Multipart::from_request(request, state).await;
        let mut parts = parts.map_err(|_| no_form())?;
        let mut sent = Self::default();
        while let Some(part) = parts.next_field().await.map_err(unreadable)? {
            let name = part.name().map_or_else(String::new, str::to_owned);
            if let Some(file) = part.file_name().map(str::to_owned) {
                let bytes = part.bytes().await.map_err(unreadable)?;
                sent.file = (!file.is_empty()).then_some((file, bytes));
            } else {
                let text = part.text().await.map_err(unreadable)?;
                sent.typed.set(&name, text.replace("\r\n", "\n"));
            }
        }
        Ok(sent)
    }
}

impl SentForm {
    /// The file, or the text that was pasted instead, with what messages call it.
    pub(super) fn file_or_text(&self) -> Option<(String, Bytes)> {
        let text = self.typed.text(TEXT);
        let pasted = || (PASTED.to_owned(), Bytes::from(text.to_owned()));
        let pasted = (!text.trim().is_empty()).then(pasted);
        self.file.clone().or(pasted)
    }
}

fn unreadable(error: MultipartError) -> ErrorPage {
    match error.status() {
        StatusCode::PAYLOAD_TOO_LARGE => ErrorPage::too_long(
            "The file is longer than 24 MiB: part it, or import it with the command line.",
        ),
        _ => ErrorPage::wrong("The file did not arrive whole: send it again."),
    }
}
