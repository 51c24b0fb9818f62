//! The program against the outside world: other libraries, a set of odd CSV
//! files, published tables, worked examples and facts of the trade.
//!
//! `tests/run` fetches what is needed into `target/outside`. Where that was not
//! run, the checks that need it say so and pass; `tests/run` leaves them out and
//! names the reason.

mod csv_spectrum;
mod fibres;
mod practice;
mod published;
mod python;
mod worked_examples;

use proptest::{
    strategy::{Strategy, ValueTree},
    test_runner::TestRunner,
};
use std::path::{Path, PathBuf};

/// `count` values of `strategy`, the same ones on every run; more of them in the
/// long profile.
fn spread<S: Strategy>(strategy: &S, count: usize) -> Vec<S::Value> {
    let long = std::env::var("UNDERSTUDY_LONG").is_ok_and(|long| long == "1");
    let mut runner = TestRunner::deterministic();
    let value = |_| strategy.new_tree(&mut runner).unwrap().current();
    (0..if long { 10 * count } else { count })
        .map(value)
        .collect()
}

/// Something that `tests/run` fetches; `None`, and a line that says so, where it
/// was not run.
fn fetched(path: &str) -> Option<PathBuf> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("target/outside")
        .join(path);
    if path.exists() {
        return Some(path);
    }
    assert!(
        std::env::var_os("UNDERSTUDY_OUTSIDE").is_none(),
        "{} is not there",
        path.display()
    );
    eprintln!(
        "skipped: a check, because {} is not there; tests/run fetches it",
        path.display()
    );
    None
}

/// Whether two numbers differ by no more than `share` of the larger.
fn are_close(a: f64, b: f64, share: f64) -> bool {
    (a - b).abs() <= share * a.abs().max(b.abs())
}
