//! The one integration test binary.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::string_slice,
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    clippy::cast_sign_loss,
    clippy::print_stderr,
    reason = "tests fail by panicking"
)]

mod archive;
mod bad_input;
mod calculators;
mod colours;
mod desk;
mod each_colour;
mod editing;
mod expert_swaps;
mod fibre_limits;
mod foreign_tables;
mod fuzzed;
mod help;
mod house;
mod invented_forms;
mod label_forms;
mod machine;
mod materials_lines;
mod misread_forms;
mod outside;
mod pattern_of_two_yarns;
mod planning;
mod program;
mod projects;
mod readme;
mod records_safety;
mod reliability;
mod round_trip;
mod sample_stash;
mod sayings;
mod schema;
mod sheets;
mod shop_floor;
mod stripes;
mod suits;
mod together;
mod undo;
mod unlabelled;
mod unseen_forms;
mod web;
mod wishes;
mod workbooks;
