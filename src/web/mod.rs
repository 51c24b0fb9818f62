//! The same program as a small local web page: forms in, the app's answers out.
//!
//! The router is a plain function; handlers are thin: what was sent becomes a
//! request to `app`, its report becomes a page, and what changed something is
//! answered by a redirect (303). Nothing is computed here. Every page works
//! without script, and nothing is fetched from anywhere else.

mod any_table;
mod ask;
mod body;
mod calculators;
mod connections;
mod counter;
mod counting;
mod cross_site;
mod error_page;
mod fields;
mod form;
mod form_data;
mod history;
mod kept_record;
mod layout;
mod links;
mod list;
mod passcode;
mod pattern_fields;
mod patterns;
mod peer;
mod preferences;
mod project_edit;
mod projects;
mod refusal;
mod router;
mod sent_once;
mod serve;
mod session;
mod shop;
mod state;
mod stock;
mod swatches;
mod tables;
mod undo;
mod visit;
mod yarns;

pub use passcode::hashed;
pub use router::router;
pub use serve::{PageServer, serve};
pub use state::AppState;
