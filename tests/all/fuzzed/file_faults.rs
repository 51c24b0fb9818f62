//! What a file that is refused says: at least one fault, each in a line of the file.

use understudy::{app::AppError, files::FileError};

/// Panics where a fault of the file `data` lies in no line of it.
pub fn lie_in(data: &[u8], error: &FileError) {
    assert!(!error.to_string().is_empty());
    if let FileError::Faults { faults, .. } = error {
        assert!(!faults.is_empty(), "refused without a reason");
        let places = faults.iter().filter_map(|fault| fault.place);
        places.for_each(|place| is_a_line(data, place.line));
    }
}

/// The same of an answer that is refused.
#[allow(dead_code, reason = "not every target asks for an answer")]
pub fn lie_in_answer(data: &[u8], error: &AppError) {
    match error {
        AppError::Exchange(error) => lie_in(data, error),
        other => assert!(!format!("{other:?}").is_empty()),
    }
}

/// Panics where the file `data` has no such line.
pub fn is_a_line(data: &[u8], line: u64) {
    let lines = String::from_utf8_lossy(data).split(['\n', '\r']).count();
    assert!((1..=lines as u64).contains(&line), "line {line} of {lines}");
}
