//! Any bytes as a file of samples and pieces: no panic, every fault lies in a line of
//! the file, needs are numbers, and the pattern that is made of them reads back.

use super::file_faults::lie_in_answer;
use understudy::{
    app::{NeedsPatternRequest, NeedsRequest, SourceFile, needs, needs_pattern},
    files::pattern_file::read_pattern,
    report::{Render, Style, needs_note, plain_text},
};

/// Panics where `data` does not hold.
pub fn check(data: &[u8]) {
    let request = NeedsRequest {
        file: SourceFile {
            name: "n.toml".to_owned(),
            bytes: data.to_owned(),
        },
        ..NeedsRequest::default()
    };
    let answer = match needs(&request) {
        Ok(answer) => answer,
        Err(error) => return lie_in_answer(data, &error),
    };
    assert!(!plain_text(&answer.page(&Style::default()), 80).is_empty());
    for need in &answer.needs {
        let amounts = [
            need.need_m,
            need.need_g,
            need.edges_m,
            need.stated_m,
            need.stated_g,
        ];
        assert!(
            amounts
                .iter()
                .all(|amount| amount.is_finite() && *amount >= 0.0),
            "{need:?}"
        );
        assert!(need.stated_m >= need.need_m * (1.0 - 1e-9), "{need:?}");
    }
    let stated = NeedsPatternRequest {
        purpose: Some("garment".to_owned()),
        fit: Some("relaxed".to_owned()),
    };
    if let Ok((text, _)) = needs_pattern(&request, &stated, needs_note) {
        let read = read_pattern("p.toml", text.as_bytes());
        read.unwrap_or_else(|error| panic!("{error}\n{text}"));
    }
}
