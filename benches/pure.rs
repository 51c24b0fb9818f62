//! Times of the parts that do no input or output: `cargo bench --bench pure`.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a benchmark fails by panicking"
)]

use divan::{Bencher, black_box};
use understudy::{
    label::{band::read_band, cells},
    matching::{Bounds, Candidate, FibreLimits, KindBound, Requirement, Settings, Weights, judge},
    measure::{GristTolerance, Length, Ratio},
    quantity::purchase,
    record::{Fit, NeedRange, YarnFacts},
};

fn main() {
    divan::main();
}

const REFERENCE: &str = "50 g = 112.5 m, 100% wool, DK, plied, 22 sts = 10 cm, machine wash";
const CANDIDATES: [&str; 3] = [
    "50 g = 115 m, 75% wool 25% nylon, DK, plied, 22 sts = 10 cm",
    "100 g = 450 m, 60% cotton 40% acrylic, 4 ply, plied, 29 sts = 10 cm",
    "25 g = 140 m, 70% mohair 30% silk, brushed",
];

fn facts(text: &str) -> YarnFacts {
    read_band(text).facts
}

fn wanted() -> Requirement {
    let facts = facts(REFERENCE);
    Requirement {
        gauge: facts.gauge.as_ref().map(|gauge| gauge.value.clone()),
        care: facts.care.as_ref().map(|care| care.value),
        facts,
        strands: 1,
        fit: Fit::Relaxed,
        purpose: None,
        multiple: None,
        sizes: Vec::new(),
        size: None,
    }
}

fn settings() -> Settings {
    Settings {
        tolerance: GristTolerance::Share(Ratio::percent(8.0).unwrap()),
        weights: Weights::default(),
        limits: FibreLimits::default(),
    }
}

#[divan::bench(args = CANDIDATES)]
fn judging(bencher: Bencher<'_, '_>, text: &str) {
    let (wanted, settings) = (wanted(), settings());
    let offered = Candidate {
        facts: facts(text),
        swatches: Vec::new(),
        measured: None,
        strands: 1,
        doubts: Vec::new(),
    };
    bencher.bench(|| judge(black_box(&wanted), black_box(&offered), &settings));
}

fn kind(bounds: &Bounds<'_>, facts: &YarnFacts) -> KindBound {
    let blend = facts.blend.as_ref().map(|blend| blend.value.clone());
    let class = facts.class.as_ref().map(|class| class.value.clone());
    let built = facts.construction.as_ref().map(|built| built.value);
    bounds
        .of_class(class)
        .with(&bounds.of_construction(built))
        .with(&bounds.of_fibre(blend, facts.care.as_ref().map(|care| care.value)))
}

/// Class, fibre, construction and washing of a kind of yarn, once a kind.
#[divan::bench(args = CANDIDATES)]
fn bound_of_a_kind(bencher: Bencher<'_, '_>, text: &str) {
    let (wanted, settings) = (wanted(), settings());
    let bounds = Bounds::new(&wanted, &settings, false);
    let facts = facts(text);
    bencher.bench(|| kind(&bounds, black_box(&facts)));
}

/// What a yarn does at best, once a yarn that is looked at.
#[divan::bench]
fn bound_of_a_yarn(bencher: Bencher<'_, '_>) {
    let (wanted, settings) = (wanted(), settings());
    let bounds = Bounds::new(&wanted, &settings, false);
    let facts = facts(REFERENCE);
    let kind = kind(&bounds, &facts);
    let gauge = facts.gauge.as_ref().map(|gauge| &gauge.value);
    bencher.bench(|| bounds.at_best(black_box(&kind), black_box(Some(2.3)), gauge));
}

#[divan::bench(args = ["100% wool", "75% wool 25% nylon", "55% wool 30% acrylic 15% nylon"])]
fn reading_fibres(text: &str) {
    black_box(cells::blend(black_box(text)).ok());
}

#[divan::bench(args = CANDIDATES)]
fn reading_a_band(text: &str) {
    black_box(read_band(black_box(text)));
}

#[divan::bench]
fn skeins_to_buy(bencher: Bencher<'_, '_>) {
    let metres = |m| Length::metres(m).unwrap();
    let need = NeedRange {
        at_least: metres(1000.0),
        buy_for: metres(1150.0),
    };
    let margin = Ratio::percent(10.0).unwrap();
    bencher.bench(|| purchase(black_box(need), metres(112.5), margin));
}
