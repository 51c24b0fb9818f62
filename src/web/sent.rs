//! What a form sent: its fields by name, in the query of a question or in the
//! body of a change. Line breaks are as they were typed.

use super::{body::encoded, trouble::Trouble};
use crate::app::FormData;
use axum::{
    extract::{Form, FromRequest, Request, rejection::FormRejection},
    http::StatusCode,
    response::IntoResponse,
};

/// The most characters of one field. A materials line has some hundred.
const MOST: usize = 200_000;

/// The fields of a form.
pub(super) struct Sent(pub(super) FormData);

impl Sent {
    /// The text of a field without spaces around it; nothing where it is empty.
    pub(super) fn some(&self, field: &str) -> Option<String> {
        some(&self.0, field)
    }

    /// The text of a field.
    pub(super) fn text(&self, field: &str) -> &str {
        self.0.text(field)
    }

    /// A whole number of a hidden field or link.
    pub(super) fn number(&self, field: &str) -> Option<i64> {
        self.text(field).trim().parse().ok()
    }

    /// Where a page of a list begins.
    pub(super) fn from(&self) -> usize {
        self.text("from").parse().unwrap_or(0)
    }
}

/// The text of a field without spaces around it; nothing where it is empty.
pub(super) fn some(typed: &FormData, field: &str) -> Option<String> {
    let text = typed.text(field).trim();
    (!text.is_empty()).then(|| text.to_owned())
}

/// The fields as the query of a link, but for some.
pub(super) fn query_without(typed: &FormData, without: &[&str]) -> String {
    let pairs: Vec<String> = typed
        .iter()
        .filter(|(name, text)| !without.contains(name) && !text.is_empty())
        .map(|(name, text)| format!("{}={}", encoded(name), encoded(text)))
        .collect();
    pairs.join("&")
}

impl<S: Send + Sync> FromRequest<S> for Sent {
    type Rejection = Trouble;

    async fn from_request(request: Request, state: &S) -> Result<Self, Trouble> {
        let form = Form::<Vec<(String, String)>>::from_request(request, state).await;
        let Form(pairs) = form.map_err(refused)?;
        if let Some((name, text)) = pairs.iter().find(|(_, text)| text.chars().count() > MOST) {
            let said = format!(
                "The field `{}` holds {} characters: write at most {MOST}.",
                crate::words::safe(name),
                text.chars().count()
            );
            return Err(too_long(said));
        }
        let pairs = pairs.into_iter();
        Ok(Self(
            pairs
                .map(|(name, text)| (name, text.replace("\r\n", "\n")))
                .collect(),
        ))
    }
}

fn too_long(said: String) -> Trouble {
    Trouble::new(StatusCode::PAYLOAD_TOO_LARGE, "Too long", said)
}

fn refused(rejection: FormRejection) -> Trouble {
    match rejection.into_response().status() {
        StatusCode::PAYLOAD_TOO_LARGE => too_long(
            "What was sent is too long for this form: shorten it, or send it as a file.".to_owned(),
        ),
        _ => Trouble::wrong("What was sent is no form of these pages: go back and send it again."),
    }
}
