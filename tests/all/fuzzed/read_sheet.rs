//! Any bytes as a materials sheet: no panic, lines go on and are lines of the file,
//! every amount is a number, and what is found lies in a line of the file.

use super::file_faults::{is_a_line, lie_in, lie_in_answer};
use understudy::{
    app::{LintRequest, Records, SourceFile, lint},
    files::sheet_text::{SheetLine, read_sheet},
    label::band::BandReader,
    report::{Render, Style, plain_text},
};

/// Panics where `data` does not hold.
pub fn check(data: &[u8]) {
    match read_sheet("s.txt", data) {
        Ok(lines) => lines_hold(data, &lines),
        Err(error) => lie_in(data, &error),
    }
    let request = LintRequest {
        file: Some(SourceFile {
            name: "s.txt".to_owned(),
            bytes: data.to_owned(),
        }),
        ..LintRequest::default()
    };
    match lint(&Records::none(), &request) {
        Ok(answer) => {
            let lines = answer.findings.iter().filter_map(|finding| finding.line);
            lines.for_each(|line| is_a_line(data, line));
            assert!(!plain_text(&answer.page(&Style::default()), 80).is_empty());
        }
        Err(error) => lie_in_answer(data, &error),
    }
}

fn lines_hold(data: &[u8], lines: &[SheetLine]) {
    let mut last = 0;
    for line in lines {
        assert!(line.number > last, "line {} after {last}", line.number);
        last = line.number;
        is_a_line(data, line.number);
        for stated in line.stated() {
            // Marks without width and marks of a trade name part words as spaces do.
            let parts =
                |c: char| c.is_whitespace() || "\u{200B}\u{FEFF}\u{AD}\u{2060}™®©".contains(c);
            let evenly = |text: &str| {
                let words = text.split(parts).filter(|word| !word.is_empty());
                words.collect::<Vec<_>>().join(" ")
            };
            let (line, text) = (evenly(&line.text), evenly(&stated.text));
            assert!(line.contains(&text), "{stated:?}");
            let mut all = stated.readings.iter().flatten();
            assert!(
                all.all(|value| value.is_finite() && *value >= 0.0),
                "{stated:?}"
            );
        }
        assert!(
            line.skein(&mut BandReader::default())
                .is_none_or(|skein| skein.as_metres().is_finite())
        );
    }
}
