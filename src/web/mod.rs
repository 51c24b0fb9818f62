//! The same program as a small local web page: forms in, the app's answers out.
//!
//! The router is a plain function; handlers are thin: what was sent becomes a
//! request to `app`, its report becomes a page, and what changed something is
//! answered by a redirect (303). Nothing is computed here. Every page works
//! without script, and nothing is fetched from anywhere else.

mod access;
mod ask;
mod assets;
mod body;
mod calculators;
mod connections;
mod enter;
mod faults;
mod files;
mod filters;
mod form;
mod frame;
mod guard;
mod held;
mod labels;
mod pages;
mod pattern_choice;
mod patterns;
mod plain;
mod prefs;
mod random;
mod router;
mod saved;
mod sent;
mod serve;
mod shop;
mod stock;
mod suggest;
mod swatches;
mod tables;
mod trouble;
mod yarns;

pub use access::hashed;
pub use router::router;
pub use serve::{Listening, serve};
pub use shop::Shop;
