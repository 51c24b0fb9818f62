//! Giving the passcode, and leaving.

use super::{
    body::Body,
    faults::Fault,
    form::{Field, Form, Group, Kind},
    frame::{Frame, redirect},
    prefs::cookie,
    sent::Sent,
    shop::Shop,
    trouble::Trouble,
};
use axum::{
    extract::State,
    http::{HeaderMap, StatusCode, header},
    response::Response,
};
use std::sync::Arc;
use tokio::task::spawn_blocking;

/// Name of the session's cookie.
pub(super) const SESSION: &str = "session";

fn page(status: StatusCode, faults: Vec<Fault>) -> Response {
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
    Frame::titled("Passcode").bare().page(status, body)
}

pub(super) async fn asked() -> Response {
    page(StatusCode::OK, Vec::new())
}

pub(super) async fn given(State(shop): State<Arc<Shop>>, sent: Sent) -> Result<Response, Trouble> {
    let Some(access) = &shop.access else {
        return Ok(redirect("/"));
    };
    if !access.may_try() {
        let said = "too many wrong tries: wait a minute and try again";
        return Ok(page(
            StatusCode::TOO_MANY_REQUESTS,
            vec![Fault::of("passcode", said)],
        ));
    }
    let (trying, passcode) = (Arc::clone(&shop), sent.text("passcode").to_owned());
    let right = spawn_blocking(move || {
        trying
            .access
            .as_ref()
            .is_some_and(|access| access.is_right(&passcode))
    });
    match right.await.unwrap_or(false) {
        true => Ok(with_session(redirect("/"), &access.let_in()?, 43_200)),
        false => {
            let said = "this is not the passcode: look at it again, capitals count";
            Ok(page(
                StatusCode::FORBIDDEN,
                vec![Fault::of("passcode", said)],
            ))
        }
    }
}

pub(super) async fn left(State(shop): State<Arc<Shop>>, headers: HeaderMap) -> Response {
    if let (Some(access), Some(session)) = (&shop.access, cookie(&headers, SESSION)) {
        access.leave(session);
    }
    with_session(redirect("/enter"), "", 0)
}

fn with_session(mut response: Response, session: &str, seconds: u32) -> Response {
    let cookie =
        format!("{SESSION}={session}; Path=/; Max-Age={seconds}; HttpOnly; SameSite=Strict");
    if let Ok(value) = cookie.parse() {
        response.headers_mut().insert(header::SET_COOKIE, value);
    }
    response
}
