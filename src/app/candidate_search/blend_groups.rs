//! The blends of a catalogue in two groups: those that may depart by nothing on fibre,
//! and all others, of which is known how far they depart at least. So the yarns of
//! most blends are passed over where the first group fills the places, and few ranges
//! are looked at where there is nothing in it.

use super::super::AppError;
use crate::{
    matching::{Bounds, FibreLimits, Thickness},
    store::{BlendFilter, NO_BLEND, Reader},
};

/// Yarns of some blends.
pub(super) struct BlendGroup {
    pub(super) blends: BlendFilter,
    /// How far they depart on fibre at least, in tolerances.
    pub(super) least: f64,
    /// How thick they are beside what is wanted.
    pub(super) thickness: Thickness,
}

/// Of more blends it would take too long to tell how far each departs.
const MOST: usize = 500;

/// Groups that hold every yarn between them, but for those of blends that the limits
/// exclude.
pub(super) fn blend_groups(
    reader: &Reader<'_>,
    bounds: &Bounds<'_>,
    limits: &FibreLimits,
) -> Result<Vec<BlendGroup>, AppError> {
    let mut excluded = if limits.is_empty() {
        Vec::new()
    } else {
        vec![NO_BLEND]
    };
    let (mut near, mut least) = (Vec::new(), f64::INFINITY);
    let (mut near_thickness, mut far_thickness) = (Thickness::EQUAL, Thickness::EQUAL);
    let blends = reader.blends(MOST + 1)?;
    let is_too_many = blends.len() > MOST;
    for (number, blend) in blends {
        if limits.exclusion(Some(&blend)).is_some() {
            excluded.push(number);
            continue;
        }
        let kind = bounds.of_fibre(Some(blend), None);
        match kind.fibre_departure() {
            Some(departure) if departure > 0.0 => {
                least = least.min(departure);
                far_thickness = far_thickness.with(&kind, bounds);
            }
            _ => {
                near.push(number);
                near_thickness = near_thickness.with(&kind, bounds);
            }
        }
    }
    if is_too_many || least.is_infinite() {
        return Ok(vec![BlendGroup {
            blends: BlendFilter::all_but(excluded),
            least: 0.0,
            thickness: if is_too_many {
                bounds.any_thickness()
            } else {
                near_thickness
            },
        }]);
    }
    if limits.is_empty() && reader.has_yarn_without_blend()? {
        near.push(NO_BLEND);
    }
    let far = |blends| BlendGroup {
        blends,
        least,
        thickness: far_thickness,
    };
    if near.is_empty() {
        return Ok(vec![far(BlendFilter::all_but(excluded))]);
    }
    let near_group = BlendGroup {
        blends: BlendFilter::Only(near.clone()),
        least: 0.0,
        thickness: near_thickness,
    };
    near.append(&mut excluded);
    Ok(vec![near_group, far(BlendFilter::AllBut(near))])
}
