//! The one integration test binary.

#[cfg(test)]
mod sample_stash;
