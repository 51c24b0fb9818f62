//! Checks against Python: pint, SciPy, python-stdnum, exact fractions.

mod ceilings;
mod chance;
mod cover;
mod gtin;
mod plans;
mod ranking;
mod units;

use crate::machine::{Need, fetched};
use serde_json::Value;
use std::{
    io::Write,
    path::Path,
    process::{Command, Stdio},
};

/// The answers of tests/outside/reference.py; `None` where no Python was set up.
fn answers(questions: &[Value]) -> Option<Vec<Value>> {
    if !Need::Python.is_here() {
        return None;
    }
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/outside/reference.py");
    let mut asked = Command::new(fetched("venv/bin/python"))
        .arg(script)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut input = asked.stdin.take().unwrap();
    input
        .write_all(&serde_json::to_vec(questions).unwrap())
        .unwrap();
    drop(input);
    let done = asked.wait_with_output().unwrap();
    assert!(done.status.success(), "reference.py failed");
    let answers: Vec<Value> = serde_json::from_slice(&done.stdout).unwrap();
    assert_eq!(answers.len(), questions.len());
    Some(answers)
}
