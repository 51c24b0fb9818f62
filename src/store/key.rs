//! What decides whether two names are the same.

use crate::words::fold;

/// The folded name; a name of nothing but marks is compared as it stands.
pub(super) fn key(name: &str) -> String {
    match fold(name) {
        folded if folded.is_empty() => name.trim().to_lowercase(),
        folded => folded,
    }
}
