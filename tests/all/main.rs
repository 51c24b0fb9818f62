//! The one integration test binary.
mod label_forms;
