//! What a form sent, taken from the request: its fields by name, in the query of
//! a question or in the body of a change, and its file. Line breaks of fields are as
//! they were typed.

use super::{error_page::ErrorPage, refusal::TEXT, state::AppState};
use crate::app::FormData;
use axum::{
    body::Bytes,
    extract::{
        Form, FromRequest, Multipart, Request,
        multipart::{Field, MultipartError},
        rejection::FormRejection,
    },
    http::{Method, StatusCode},
    response::IntoResponse,
};
use std::sync::Arc;
use tokio::sync::{OwnedSemaphorePermit, Semaphore};

/// The most characters of one field. A materials line has some hundred.
const MOST: usize = 200_000;

/// What messages call a text that was pasted.
pub(super) const PASTED: &str = "The text";

impl<S: Send + Sync> FromRequest<S> for FormData {
    type Rejection = ErrorPage;

    async fn from_request(mut request: Request, state: &S) -> Result<Self, ErrorPage> {
        // Who asks only for the head of a page asks for the same page.
        if request.method() == Method::HEAD {
            *request.method_mut() = Method::GET;
        }
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

impl FromRequest<Arc<AppState>> for SentForm {
    type Rejection = ErrorPage;

    async fn from_request(request: Request, state: &Arc<AppState>) -> Result<Self, ErrorPage> {
        let mut room = Room::of(&state.receiving);
        let parts = Multipart::from_request(request, state).await;
        let mut parts = parts.map_err(|_| no_form())?;
        let mut sent = Self::default();
        while let Some(mut part) = parts.next_field().await.map_err(unreadable)? {
            let name = part.name().map_or_else(String::new, str::to_owned);
            if let Some(file) = part.file_name().map(str::to_owned) {
                let bytes = received(&mut part, &mut room).await?;
                sent.file = (!file.is_empty()).then_some((file, bytes.into()));
            } else {
                let bytes = received(&mut part, &mut room).await?;
                let text = String::from_utf8_lossy(&bytes);
                sent.typed.set(&name, text.replace("\r\n", "\n"));
            }
        }
        Ok(sent)
    }
}

/// All of a part, as far as there is room for it.
async fn received(part: &mut Field<'_>, room: &mut Room) -> Result<Vec<u8>, ErrorPage> {
    let mut bytes = Vec::new();
    while let Some(chunk) = part.chunk().await.map_err(unreadable)? {
        room.take(chunk.len())?;
        bytes.extend_from_slice(&chunk);
    }
    Ok(bytes)
}

/// What one who sends holds of the room for all that is under way; given back when
/// all of it has come, or when it never will.
struct Room {
    all: Arc<Semaphore>,
    held: Option<OwnedSemaphorePermit>,
}

impl Room {
    fn of(all: &Arc<Semaphore>) -> Self {
        Self {
            all: Arc::clone(all),
            held: None,
        }
    }

    /// Room for so many bytes more. Nobody waits for it: who waits holds what others
    /// wait for.
    fn take(&mut self, bytes: usize) -> Result<(), ErrorPage> {
        let bytes = u32::try_from(bytes).unwrap_or(u32::MAX);
        let taken = Arc::clone(&self.all).try_acquire_many_owned(bytes);
        let taken = taken.map_err(|_| others_send())?;
        match &mut self.held {
            Some(held) => held.merge(taken),
            held => *held = Some(taken),
        }
        Ok(())
    }
}

fn others_send() -> ErrorPage {
    let said = "Others are sending files just now. Wait a moment and send yours again.";
    ErrorPage::new(StatusCode::SERVICE_UNAVAILABLE, "Busy", said)
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_that_is_under_way_shares_one_room_and_gives_it_back() {
        let all = Arc::new(Semaphore::new(10));
        let (mut one, mut other) = (Room::of(&all), Room::of(&all));
        assert!(one.take(4).is_ok() && one.take(2).is_ok());
        assert!(other.take(5).is_err());
        assert!(other.take(4).is_ok());
        drop(one);
        assert!(other.take(6).is_ok());
        drop(other);
        assert_eq!(all.available_permits(), 10);
    }
}
