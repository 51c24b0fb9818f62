//! What a form sent, taken from the request: its fields by name, in the query of
//! a question or in the body of a change, and its file. Line breaks of fields are as
//! they were typed. All that is under way to here shares one room; what is too long,
//! or finds no room, is read to its end all the same and kept out of memory, since a
//! browser shows an answer only when it has sent everything.

use super::{
    error_page::ErrorPage,
    form::{Field, Kind},
    peer::Peer,
    refusal::TEXT,
    state::AppState,
};
use crate::app::{FormData, SourceFile};
use axum::{
    body::{Body, Bytes, HttpBody},
    extract::{Form, FromRequest, Multipart, Request, multipart::MultipartError},
    http::{Method, StatusCode},
};
use hyper::body::Frame;
use std::{
    pin::Pin,
    sync::{Arc, OnceLock},
    task::{Context, Poll, ready},
};
use tokio::sync::{OwnedSemaphorePermit, Semaphore};

/// The most bytes of a form.
const FORM: usize = 512 * 1024;
/// The most bytes of a form with a file: 100,000 yarns take some 12 MiB.
const FILE: usize = 24 * 1024 * 1024;
/// The most characters of one field. A materials line has some hundred.
const MOST: usize = 200_000;

/// What messages call a text that was pasted.
pub(super) const PASTED: &str = "The text";

impl FromRequest<Arc<AppState>> for FormData {
    type Rejection = ErrorPage;

    async fn from_request(mut request: Request, state: &Arc<AppState>) -> Result<Self, ErrorPage> {
        // Who asks only for the head of a page asks for the same page.
        if request.method() == Method::HEAD {
            *request.method_mut() = Method::GET;
        }
        let (arrival, request) = Arrival::of(request, &state.receiving, FORM);
        let form = Form::<Vec<(String, String)>>::from_request(request, state).await;
        let Form(pairs) = arrival.end(form.map_err(|_| no_form()))?;
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
        let (arrival, request) = Arrival::of(request, &state.receiving, FILE);
        arrival.end(parts(request, state).await)
    }
}

async fn parts(request: Request, state: &Arc<AppState>) -> Result<SentForm, ErrorPage> {
    let parts = Multipart::from_request(request, state).await;
    let mut parts = parts.map_err(|_| no_form())?;
    let mut sent = SentForm::default();
    while let Some(part) = parts.next_field().await.map_err(not_whole)? {
        let name = part.name().map_or_else(String::new, str::to_owned);
        let file = part.file_name().map(str::to_owned);
        let bytes = part.bytes().await.map_err(not_whole)?;
        if let Some(file) = file {
            sent.file = (!file.is_empty()).then_some((file, bytes));
        } else {
            let text = String::from_utf8_lossy(&bytes);
            sent.typed.set(&name, text.replace("\r\n", "\n"));
        }
    }
    Ok(sent)
}

fn not_whole(_: MultipartError) -> ErrorPage {
    ErrorPage::wrong("The file did not arrive whole: send it again.")
}

/// Why what is sent is kept out.
#[derive(Debug, Clone, Copy)]
enum Overflow {
    /// The form may not be so long.
    TooLong(usize),
    /// Others take the room for all that is under way.
    NoRoom,
}

impl From<Overflow> for ErrorPage {
    fn from(overflow: Overflow) -> Self {
        match overflow {
            Overflow::TooLong(FILE) => Self::too_long(
                "The file is longer than 24 MiB: split it, or import it with the command line.",
            ),
            Overflow::TooLong(_) => Self::too_long(
                "What was sent is too long for this form: shorten it, or send it as a file.",
            ),
            Overflow::NoRoom => {
                let said = "Others are sending files just now. Wait a moment and send yours again.";
                Self::new(StatusCode::SERVICE_UNAVAILABLE, "Busy", said)
            }
        }
    }
}

/// A form that is under way.
struct Arrival {
    overflow: Arc<OnceLock<Overflow>>,
    peer: Option<Peer>,
}

impl Arrival {
    /// That of a request, with the request whose body is to be read.
    fn of(request: Request, all: &Arc<Semaphore>, most: usize) -> (Self, Request) {
        let arrival = Self {
            overflow: Arc::default(),
            peer: request.extensions().get().cloned(),
        };
        let (all, overflow) = (Arc::clone(all), Arc::clone(&arrival.overflow));
        let bounded = |body| Bounded {
            body,
            most,
            arrived: 0,
            all,
            held: None,
            overflow,
        };
        (arrival, request.map(|body| Body::new(bounded(body))))
    }

    /// Once all of it has come; from now on its sender waits for us.
    fn end<T>(self, read: Result<T, ErrorPage>) -> Result<T, ErrorPage> {
        if let Some(peer) = self.peer {
            peer.pace.work();
        }
        read.map_err(|error| {
            self.overflow
                .get()
                .map_or(error, |&overflow| overflow.into())
        })
    }
}

/// A body, as far as it is short enough and there is room for it. Its room is given
/// back when all of it has come, or when it never will.
struct Bounded {
    body: Body,
    most: usize,
    arrived: usize,
    /// Room for all bodies.
    all: Arc<Semaphore>,
    held: Option<OwnedSemaphorePermit>,
    overflow: Arc<OnceLock<Overflow>>,
}

impl Bounded {
    /// Whether so many bytes more may be kept. Nobody waits for room: who waits holds
    /// what others wait for.
    fn keeps(&mut self, bytes: usize) -> bool {
        self.arrived = self.arrived.saturating_add(bytes);
        let overflow = if self.overflow.get().is_some() {
            return false;
        } else if self.arrived > self.most {
            Overflow::TooLong(self.most)
        } else if self.take(bytes) {
            return true;
        } else {
            Overflow::NoRoom
        };
        self.overflow.get_or_init(|| overflow);
        false
    }

    fn take(&mut self, bytes: usize) -> bool {
        let bytes = u32::try_from(bytes).unwrap_or(u32::MAX);
        let Ok(taken) = Arc::clone(&self.all).try_acquire_many_owned(bytes) else {
            return false;
        };
        match &mut self.held {
            Some(held) => held.merge(taken),
            held => *held = Some(taken),
        }
        true
    }
}

impl HttpBody for Bounded {
    type Data = Bytes;
    type Error = axum::Error;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, axum::Error>>> {
        loop {
            let frame = ready!(Pin::new(&mut self.body).poll_frame(context));
            match &frame {
                Some(Ok(sent)) => {
                    let bytes = sent.data_ref().map_or(0, Bytes::len);
                    if self.keeps(bytes) {
                        return Poll::Ready(frame);
                    }
                }
                None if self.overflow.get().is_some() => {
                    return Poll::Ready(Some(Err(axum::Error::new("kept out"))));
                }
                _ => return Poll::Ready(frame),
            }
        }
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

/// The most bytes of a text; a sheet has some thousand.
const TEXT_BYTES: usize = 512 * 1024;

/// A text that was sent.
pub(super) struct Text {
    pub(super) file: SourceFile,
    /// Whether it was a file, and not pasted.
    pub(super) is_file: bool,
}

/// What a form with a text sent. The text of a file takes the place of what was
/// pasted, so that the form shows it.
pub(super) fn text_of(sent: SentForm) -> Result<(Option<Text>, FormData), ErrorPage> {
    let found = sent.file_or_text();
    let (mut typed, is_file) = (sent.typed, sent.file.is_some());
    let Some((name, bytes)) = found else {
        return Ok((None, typed));
    };
    if bytes.len() > TEXT_BYTES {
        return Err(too_long(bytes.len()));
    }
    if let Ok(text) = std::str::from_utf8(&bytes) {
        typed.set(TEXT, text.replace("\r\n", "\n"));
    }
    let bytes = bytes.to_vec();
    let file = SourceFile { name, bytes };
    Ok((Some(Text { file, is_file }), typed))
}

fn too_long(bytes: usize) -> ErrorPage {
    ErrorPage::too_long(format!(
        "The text is {} KiB long: no pattern and no sheet is longer than {} KiB. Go back and send a part of it, or use the command line.",
        bytes / 1024,
        TEXT_BYTES / 1024
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

#[cfg(test)]
mod tests {
    use super::*;

    fn body(all: &Arc<Semaphore>, most: usize) -> (Arrival, Request) {
        Arrival::of(Request::new(Body::from("0123456789")), all, most)
    }

    async fn read(request: Request) -> Result<Bytes, ErrorPage> {
        let read = Bytes::from_request(request, &()).await;
        read.map_err(|_| no_form())
    }

    #[tokio::test]
    async fn all_that_is_under_way_shares_one_room_and_gives_it_back() {
        let all = Arc::new(Semaphore::new(12));
        let others = Arc::clone(&all).try_acquire_many_owned(4).unwrap();
        let (arrival, request) = body(&all, FORM);
        let busy = arrival.end(read(request).await).unwrap_err();
        assert_eq!(busy.status(), StatusCode::SERVICE_UNAVAILABLE);
        drop(others);
        let (arrival, request) = body(&all, FORM);
        assert_eq!(arrival.end(read(request).await).unwrap(), "0123456789");
        assert_eq!(all.available_permits(), 12);
    }

    #[tokio::test]
    async fn what_is_too_long_takes_no_room() {
        let all = Arc::new(Semaphore::new(12));
        let (arrival, request) = body(&all, 9);
        let refused = arrival.end(read(request).await).unwrap_err();
        assert_eq!(refused.status(), StatusCode::PAYLOAD_TOO_LARGE);
        assert_eq!(all.available_permits(), 12);
    }
}
