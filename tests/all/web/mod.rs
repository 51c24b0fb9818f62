//! The pages, asked of the router as of a function; the real browser has a file
//! of its own.

mod asking;
mod browser;
mod burdens;
mod calculators;
mod contrast;
mod editing;
mod entering;
mod guarding;
mod keeping;
mod killed;
mod markup;
mod pictures;
mod projects;
mod shop;
mod stopping;
mod tables;

use crate::desk::Desk;
use axum::{
    Router,
    body::Body,
    http::{HeaderMap, Request, StatusCode, header},
};
use http_body_util::BodyExt;
use std::sync::Arc;
use tower::ServiceExt;
use understudy::{
    app::{self, Records},
    web::{AppState, router},
};

/// A name that tries to become markup, to end an attribute, to turn direction.
pub const HOSTILE: &str = "<script>alert(1)</script>\"'&\u{202e}x";

pub struct House {
    pub desk: Desk,
    pub router: Router,
}

pub struct Answered {
    pub status: StatusCode,
    pub headers: HeaderMap,
    pub text: String,
}

impl Answered {
    pub fn place(&self) -> &str {
        self.headers[header::LOCATION].to_str().unwrap()
    }
}

impl House {
    pub fn empty() -> Self {
        Self::with(|shop| shop)
    }

    /// Open to those who give this passcode.
    pub fn locked(passcode: &str) -> Self {
        let desk = Desk::empty();
        lock(&desk, passcode);
        Self::on(desk, |shop| shop.with_passcode().unwrap())
    }

    pub fn with(change: impl FnOnce(AppState) -> AppState) -> Self {
        Self::on(Desk::empty(), change)
    }

    pub fn on(desk: Desk, change: impl FnOnce(AppState) -> AppState) -> Self {
        let shop = AppState::open(&desk.db()).unwrap();
        let router = router(Arc::new(change(shop)));
        Self { desk, router }
    }

    /// With the sample stash.
    pub fn sample() -> Self {
        let house = Self::empty();
        fill(&house.desk, &[JUMPER, PAD]);
        house
    }

    pub async fn ask(&self, request: Request<Body>) -> Answered {
        let response = self.router.clone().oneshot(request).await.unwrap();
        let (parts, body) = response.into_parts();
        let bytes = body.collect().await.unwrap().to_bytes();
        Answered {
            status: parts.status,
            headers: parts.headers,
            text: String::from_utf8_lossy(&bytes).into_owned(),
        }
    }

    pub async fn get(&self, path: &str) -> Answered {
        self.ask(getting(path).body(Body::empty()).unwrap()).await
    }

    pub async fn post(&self, path: &str, fields: &[(&str, &str)]) -> Answered {
        self.ask(posting(path).body(Body::from(query(fields))).unwrap())
            .await
    }

    /// The same with fields that were read from a page.
    pub async fn send_fields(&self, path: &str, fields: &[(String, String)]) -> Answered {
        let fields = fields.iter();
        let fields = fields.map(|(name, text)| (name.as_str(), text.as_str()));
        self.post(path, &fields.collect::<Vec<_>>()).await
    }

    /// Sends a form with a file.
    pub async fn send(&self, path: &str, fields: &[(&str, &str)], file: (&str, &[u8])) -> Answered {
        self.send_with("", path, fields, file).await
    }

    /// The same with a cookie.
    pub async fn send_with(
        &self,
        cookie: &str,
        path: &str,
        fields: &[(&str, &str)],
        file: (&str, &[u8]),
    ) -> Answered {
        let mut body = Vec::new();
        for (name, text) in fields {
            body.extend(
                format!(
                    "--edge\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{text}\r\n"
                )
                .bytes(),
            );
        }
        body.extend(
            format!("--edge\r\nContent-Disposition: form-data; name=\"file\"; filename=\"{}\"\r\nContent-Type: text/csv\r\n\r\n", file.0)
                .bytes(),
        );
        body.extend(file.1);
        body.extend(b"\r\n--edge--\r\n");
        let request = Request::post(path)
            .header(header::HOST, "localhost:8765")
            .header("sec-fetch-site", "same-origin")
            .header(header::COOKIE, cookie)
            .header(header::CONTENT_TYPE, "multipart/form-data; boundary=edge")
            .body(Body::from(body));
        self.ask(request.unwrap()).await
    }
}

/// Sets the passcode of these records.
pub fn lock(desk: &Desk, passcode: &str) {
    let hash = understudy::web::hashed(passcode).unwrap();
    app::keep_passcode(&desk.db(), &hash).unwrap();
}

pub fn getting(path: &str) -> axum::http::request::Builder {
    Request::get(path).header(header::HOST, "localhost:8765")
}

pub fn posting(path: &str) -> axum::http::request::Builder {
    Request::post(path)
        .header(header::HOST, "localhost:8765")
        .header("sec-fetch-site", "same-origin")
        .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded")
}

pub fn query(fields: &[(&str, &str)]) -> String {
    url::form_urlencoded::Serializer::new(String::new())
        .extend_pairs(fields)
        .finish()
}

pub const YARNS: &str = include_str!("../../../sample-stash/yarns.csv");
pub const STOCK: &str = include_str!("../../../sample-stash/stock.csv");
pub const JUMPER: &str = include_str!("../../../sample-stash/patterns/skerrablet.toml");
pub const PAD: &str = include_str!("../../../sample-stash/patterns/hobplate.toml");

/// Takes the yarns and the stock of the sample stash in, and these patterns.
pub fn fill(desk: &Desk, patterns: &[&str]) {
    let mut records = Records::open(&desk.db()).unwrap();
    app::import_table(
        &mut records,
        understudy::app::TableKind::Yarns,
        "y",
        YARNS.as_bytes(),
        false,
        |_| (),
    )
    .unwrap();
    app::import_table(
        &mut records,
        understudy::app::TableKind::Stock,
        "s",
        STOCK.as_bytes(),
        false,
        |_| (),
    )
    .unwrap();
    for text in patterns {
        app::save_pattern(&mut records, None, text).unwrap();
    }
}

/// The fields of the first form with this id, as they would be sent again.
pub fn filled<'t>(text: &'t str, name: &str) -> &'t str {
    let field = text
        .split("<input")
        .find(|part| part.contains(&format!("name=\"{name}\"")))
        .unwrap_or_else(|| panic!("no field {name} in {text}"));
    let value = field.split("value=\"").nth(1).unwrap_or("\"");
    value.split('"').next().unwrap()
}
