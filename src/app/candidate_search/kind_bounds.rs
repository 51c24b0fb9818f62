//! The bounds of the kinds that a search has met, remembered.

use super::super::AppError;
use crate::{
    matching::{Bounds, KindBound},
    record::Care,
    store::{Kind, Reader},
    trade::Construction,
};
use std::{collections::HashMap, hash::Hash};

/// Kinds that are remembered; more are computed anew.
const MOST: usize = 50_000;

/// Bounds of whole kinds, and of their parts, of which there are far fewer.
#[derive(Default)]
pub(super) struct KindBounds {
    kinds: HashMap<Kind, KindBound>,
    classes: HashMap<Option<u8>, KindBound>,
    constructions: HashMap<Option<Construction>, KindBound>,
    fibres: HashMap<(Option<i64>, Option<Care>), KindBound>,
}

impl KindBounds {
    /// The bound of a kind, as `bounds` compute it.
    pub(super) fn of(
        &mut self,
        kind: Kind,
        bounds: &Bounds<'_>,
        reader: &Reader<'_>,
    ) -> Result<KindBound, AppError> {
        let Self {
            kinds,
            classes,
            constructions,
            fibres,
        } = self;
        remembered(kinds, kind, || {
            let class = || Ok(bounds.of_class(kind.class()));
            let built = || Ok(bounds.of_construction(kind.construction));
            let fibre = || {
                let blend = kind.blend.map(|number| reader.blend(number)).transpose()?;
                Ok(bounds.of_fibre(blend.flatten(), kind.care))
            };
            Ok(remembered(classes, kind.classes, class)?
                .with(&remembered(constructions, kind.construction, built)?)
                .with(&remembered(fibres, (kind.blend, kind.care), fibre)?))
        })
    }
}

fn remembered<K: Hash + Eq>(
    known: &mut HashMap<K, KindBound>,
    key: K,
    compute: impl FnOnce() -> Result<KindBound, AppError>,
) -> Result<KindBound, AppError> {
    if let Some(bound) = known.get(&key) {
        return Ok(*bound);
    }
    let bound = compute()?;
    if known.len() < MOST {
        known.insert(key, bound);
    }
    Ok(bound)
}
