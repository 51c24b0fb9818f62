//! Files in and out of the browser.

use super::error_page::ErrorPage;
use axum::{
    body::Bytes,
    extract::Multipart,
    http::{StatusCode, header},
    response::{IntoResponse, Response},
};

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

fn unreadable(error: axum::extract::multipart::MultipartError) -> ErrorPage {
    match error.status() {
        StatusCode::PAYLOAD_TOO_LARGE => ErrorPage::new(
            StatusCode::PAYLOAD_TOO_LARGE,
            "Too long",
            "The file is longer than 24 MiB: part it, or import it with the command line.",
        ),
        _ => ErrorPage::wrong("The file did not arrive whole: send it again."),
    }
}

/// A file to be kept by whoever asked for it.
pub(super) fn download(kind: &'static str, name: &str, bytes: Vec<u8>) -> Response {
    let headers = [
        (header::CONTENT_TYPE, kind.to_owned()),
        (
            header::CONTENT_DISPOSITION,
            format!("attachment; filename*=UTF-8''{name}"),
        ),
    ];
    (headers, bytes).into_response()
}
