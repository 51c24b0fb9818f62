//! The program against the outside world: other libraries, a set of odd CSV
//! files, published tables, worked examples and facts of the trade.
//!
//! `tests/run` fetches what is needed into `target/outside`; `machine.rs` tells what could
//! not be checked where that was not run.

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

/// Whether two numbers differ by no more than `share` of the larger.
fn are_close(a: f64, b: f64, share: f64) -> bool {
    (a - b).abs() <= share * a.abs().max(b.abs())
}
