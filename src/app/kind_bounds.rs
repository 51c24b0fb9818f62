//! The bounds of the kinds that a search has met, remembered.

use super::AppError;
use crate::{
    matching::{Bounds, KindBound},
    store::{Kind, Reader},
};
use std::collections::HashMap;

/// Kinds that are remembered; more are reckoned anew.
const MOST: usize = 50_000;

/// Bounds of whole kinds, and of their parts, of which there are far fewer.
#[derive(Default)]
pub(super) struct KindBounds {
    kinds: HashMap<Kind, KindBound>,
    parts: HashMap<Kind, KindBound>,
}

impl KindBounds {
    /// The bound of a kind, as `bounds` reckon it.
    pub(super) fn of(
        &mut self,
        kind: Kind,
        bounds: &Bounds<'_>,
        reader: &Reader<'_>,
    ) -> Result<KindBound, AppError> {
        if let Some(known) = self.kinds.get(&kind) {
            return Ok(*known);
        }
        let [construction, class, blend] = kind.parts();
        let mut part = |part| self.part(part, bounds, reader);
        let bound = part(construction)?.with(&part(class)?).with(&part(blend)?);
        remember(&mut self.kinds, kind, bound);
        Ok(bound)
    }

    fn part(
        &mut self,
        part: Kind,
        bounds: &Bounds<'_>,
        reader: &Reader<'_>,
    ) -> Result<KindBound, AppError> {
        if let Some(known) = self.parts.get(&part) {
            return Ok(*known);
        }
        let bound = bounds.of_kind(reader.facts_of(part)?);
        remember(&mut self.parts, part, bound);
        Ok(bound)
    }
}

fn remember(bounds: &mut HashMap<Kind, KindBound>, kind: Kind, bound: KindBound) {
    if bounds.len() < MOST {
        bounds.insert(kind, bound);
    }
}
