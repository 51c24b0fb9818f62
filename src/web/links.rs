//! Links and redirects within the program, and files that go out of it.

use crate::app::FormData;
use axum::{
    http::{HeaderValue, StatusCode, header},
    response::{IntoResponse, Response},
};

/// Text as it stands in a query.
pub(super) fn encoded(text: &str) -> String {
    let Ok(encoded) = askama::filters::urlencode_strict(text);
    encoded.to_string()
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

/// The name of a yarn and the link to it, as answers have them.
pub(super) fn yarn_link(title: &str) -> (String, String) {
    let link = format!("/yarns/named?name={}", encoded(title));
    (title.to_owned(), link)
}

/// On to another page, asked for with GET.
pub(super) fn redirect(to: &str) -> Response {
    let place = HeaderValue::from_str(to).unwrap_or(HeaderValue::from_static("/"));
    (StatusCode::SEE_OTHER, [(header::LOCATION, place)]).into_response()
}

/// A file to be kept by whoever asked for it.
pub(super) fn download(kind: &'static str, name: &str, bytes: impl Into<Vec<u8>>) -> Response {
    let headers = [
        (header::CONTENT_TYPE, kind.to_owned()),
        (
            header::CONTENT_DISPOSITION,
            format!("attachment; filename*=UTF-8''{name}"),
        ),
    ];
    (headers, bytes.into()).into_response()
}

/// A path of this program; anything else is the front page.
pub(super) fn own(path: &str) -> &str {
    let plain = path.bytes().all(|b| b.is_ascii_graphic() && b != b'\\');
    if path.starts_with('/') && !path.starts_with("//") && plain {
        path
    } else {
        "/"
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_goes_back_only_within_the_program() {
        assert_eq!(own("/yarns?q=a"), "/yarns?q=a");
        for foreign in [
            "//evil.example",
            "https://evil.example",
            "/\\evil",
            "",
            "/a\nb",
        ] {
            assert_eq!(own(foreign), "/", "{foreign}");
        }
    }

    #[test]
    fn what_means_something_in_a_query_is_encoded() {
        assert_eq!(encoded("Wool & Ö-1_2.a"), "Wool%20%26%20%C3%96-1_2.a");
    }
}
