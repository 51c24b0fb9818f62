//! `understudy` finds what other yarn could replace that of a knitting pattern, how much
//! of it each size takes, and whether the cupboard holds it.
//!
//! The crate is a house of one-way rooms: a room uses only rooms above it in
//! this list. `tests/all/house.rs` enforces it, DEVELOPERS.md explains it.

pub mod words;

pub mod measure;

pub mod trade;

pub mod record;

pub mod label;

pub mod matching;

pub mod quantity;

pub mod planning;

pub mod store;

pub mod files;

pub mod app;

pub mod report;

pub mod web;

pub mod cli;
