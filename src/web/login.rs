//! Giving the passcode, and leaving.

use super::{
    body::Body,
    cookies::{SESSION, cookie, with_cookie},
    error_page::ErrorPage,
    field_errors::FieldError,
    form::{Field, Form, Group, Kind},
    layout::Layout,
    links::redirect,
    state::AppState,
};
use crate::app::FormData;
use axum::{
    extract::State,
    http::{HeaderMap, StatusCode},
    response::Response,
};
use std::sync::Arc;
use tokio::task::spawn_blocking;

fn page(status: StatusCode, faults: Vec<FieldError>) -> Response {
    let secret = Field::new(
        "passcode",
        "Passcode",
        "It was set where the program runs.",
        Kind::Secret,
    );
    let form = Form::post("enter", "/enter", "Come in").with(Group::plain(vec![secret.needed()]));
    let (form, told) = form.marked(faults);
    let mut body = Body::default();
    body.faults(&told);
    body.heading("Passcode");
    body.form(&form);
    Layout::titled("Passcode").bare().page(status, body)
}

pub(super) async fn form() -> Response {
    page(StatusCode::OK, Vec::new())
}

pub(super) async fn log_in(
    State(state): State<Arc<AppState>>,
    sent: FormData,
) -> Result<Response, ErrorPage> {
    let Some(access) = &state.access else {
        return Ok(redirect("/"));
    };
    if !access.may_try() {
        let said = "too many wrong tries: wait a minute and try again";
        return Ok(page(
            StatusCode::TOO_MANY_REQUESTS,
            vec![FieldError::new("passcode", said)],
        ));
    }
    let (trying, passcode) = (Arc::clone(&state), sent.text("passcode").to_owned());
    let right = spawn_blocking(move || {
        trying
            .access
            .as_ref()
            .is_some_and(|access| access.is_right(&passcode))
    });
    if right.await.unwrap_or(false) {
        return Ok(with_session("/", &access.new_session()?, 43_200));
    }
    let said = "this is not the passcode: look at it again, capitals count";
    Ok(page(
        StatusCode::FORBIDDEN,
        vec![FieldError::new("passcode", said)],
    ))
}

pub(super) async fn log_out(State(state): State<Arc<AppState>>, headers: HeaderMap) -> Response {
    if let (Some(access), Some(session)) = (&state.access, cookie(&headers, SESSION)) {
        access.leave(session);
    }
    with_session("/enter", "", 0)
}

fn with_session(to: &str, session: &str, seconds: u32) -> Response {
    with_cookie(redirect(to), SESSION, session, seconds)
}
