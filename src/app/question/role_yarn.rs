//! A yarn for one colour of a pattern, as people type it: `MC=Name of a yarn`.

use super::{ResolvedQuestion, Role};

/// A yarn that is named for one role, or for any.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::app) struct RoleYarn<'t> {
    /// Place of the role, where the text begins with its key.
    pub(in crate::app) role: Option<usize>,
    /// Place of the yarn within the role, where the key is that of one that it holds
    /// together with others.
    pub(in crate::app) end: Option<usize>,
    /// What stands behind the key, else all of the text.
    pub(in crate::app) yarn: &'t str,
}

impl<'t> RoleYarn<'t> {
    /// What stands before the first `=` counts where it is a key of the pattern: a label
    /// has that sign too, as in `50 g = 125 m`.
    pub(in crate::app) fn read(text: &'t str, asked: &ResolvedQuestion) -> Self {
        let keyed = text.split_once('=').and_then(|(key, yarn)| {
            let (role, end) = place_of(key, asked)?;
            Some(Self {
                role: Some(role),
                end,
                yarn: yarn.trim(),
            })
        });
        keyed.unwrap_or(Self {
            role: None,
            end: None,
            yarn: text.trim(),
        })
    }
}

/// Place of the role with this key, or of the one that holds the yarn with it.
fn place_of(key: &str, asked: &ResolvedQuestion) -> Option<(usize, Option<usize>)> {
    let is_it = |role: &Role| role.is_called(key);
    let mut roles = asked.roles.iter().enumerate();
    if let Some((place, role)) = roles.find(|(_, role)| is_it(role)) {
        return Some((place, role.only_end));
    }
    let strands = asked.roles.iter().enumerate();
    let mut strands = strands.filter(|(_, role)| role.only_end.is_none());
    strands.find_map(|(place, role)| Some((place, Some(role.ends.iter().position(is_it)?))))
}
