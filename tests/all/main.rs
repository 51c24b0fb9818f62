//! The one integration test binary.

mod sample_stash;
