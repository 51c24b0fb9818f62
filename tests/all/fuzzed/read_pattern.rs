//! Any bytes as a pattern file: no panic, every fault and every finding lies in a line
//! of the file, and what was read, written and read again is the same pattern.

use super::file_faults::{is_a_line, lie_in};
use understudy::{
    app::{LintRequest, Records, SourceFile, lint},
    files::pattern_file::{read_pattern, write_pattern},
    report::{Render, Style, plain_text},
};

/// Panics where `data` does not hold.
pub fn check(data: &[u8]) {
    let reading = match read_pattern("p.toml", data) {
        Ok(reading) => reading,
        Err(error) => return lie_in(data, &error),
    };
    let printed = write_pattern(&reading.pattern);
    match read_pattern("p.toml", printed.as_bytes()) {
        Ok(again) => assert_eq!(again.pattern, reading.pattern, "{printed}"),
        Err(error) => panic!("{error}\n{printed}"),
    }
    findings_lie_in(data);
}

fn findings_lie_in(data: &[u8]) {
    let request = LintRequest {
        file: Some(SourceFile {
            name: "p.toml".to_owned(),
            bytes: data.to_owned(),
        }),
        ..LintRequest::default()
    };
    let answer = lint(&Records::none(), &request).expect("a pattern that was read");
    let lines = answer.findings.iter().filter_map(|finding| finding.line);
    lines.for_each(|line| is_a_line(data, line));
    assert!(!plain_text(&answer.page(&Style::default()), 80).is_empty());
}
