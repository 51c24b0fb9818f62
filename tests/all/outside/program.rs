//! The program itself, asked as a person asks it.

use assert_cmd::Command;
use serde_json::Value;

/// The answer to a question, in JSON, of a person who has no records yet.
pub fn ask(arguments: &[&str]) -> Value {
    let home = tempfile::tempdir().unwrap();
    let done = Command::cargo_bin("understudy")
        .unwrap()
        .env_remove("UNDERSTUDY_DB")
        .env("HOME", home.path())
        .env("XDG_DATA_HOME", home.path())
        .args(arguments)
        .arg("--json")
        .output()
        .unwrap();
    let told = String::from_utf8_lossy(&done.stderr);
    assert!(done.status.success(), "{arguments:?}: {told}");
    serde_json::from_slice(&done.stdout).unwrap()
}

/// One number of the answer, by JSON pointer.
pub fn number(arguments: &[&str], pointer: &str) -> f64 {
    let answer = ask(arguments);
    let found = answer.pointer(pointer).and_then(Value::as_f64);
    found.unwrap_or_else(|| panic!("{arguments:?}: no number at {pointer} in {answer:#}"))
}
