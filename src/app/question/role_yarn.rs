//! A yarn for one colour of a pattern, as people type it: `MC=Name of a yarn`.

use super::{ResolvedQuestion, Role};
use crate::words::fold;

/// A yarn that is named for one role, or for any.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::app) struct RoleYarn<'t> {
    /// Place of the role, where the text begins with its key.
    pub(in crate::app) role: Option<usize>,
    /// What stands behind the key, else all of the text.
    pub(in crate::app) yarn: &'t str,
}

impl<'t> RoleYarn<'t> {
    /// What stands before the first `=` counts where it is a key of the pattern: a label
    /// has that sign too, as in `50 g = 125 m`.
    pub(in crate::app) fn read(text: &'t str, asked: &ResolvedQuestion) -> Self {
        let keyed = text.split_once('=').and_then(|(key, yarn)| {
            let is_meant = |role: &Role| fold(&role.key) == fold(key);
            Some((asked.roles.iter().position(is_meant)?, yarn.trim()))
        });
        match keyed {
            Some((role, yarn)) => Self {
                role: Some(role),
                yarn,
            },
            None => Self {
                role: None,
                yarn: text.trim(),
            },
        }
    }
}
