//! One `[[sample]]` read.

use super::{
    PieceNeed, Sample, SampleKind,
    fabric::read_fabric,
    read::{Named, read_yarn_place},
};
use crate::{
    files::toml_reader::{Keys, as_text},
    label::cells,
    measure::{Grist, Mass},
    words::{fold, or_list},
};
use std::collections::HashMap;
use toml::{Spanned, de::DeValue};

/// The sample, or `None` where something in it is bad.
pub(super) fn read_sample(
    keys: &Keys<'_>,
    place: usize,
    named: &mut Named,
    pieces: &[PieceNeed],
) -> Option<Sample> {
    let name = keys.text("name").map(|text| text.text);
    let yarn = read_yarn_place(keys, named)?;
    let grist = read_grist(keys, named.grist(yarn));
    let used = read_used(keys);
    let swatch = keys.has("shape") || keys.has("rows");
    let of = if swatch {
        read_swatch(keys, named)
    } else {
        read_pieces(keys, yarn, named, pieces)
    };
    Some(Sample {
        name: name.unwrap_or_else(|| format!("sample {}", place + 1)),
        yarn,
        grist: grist?,
        used: used?,
        of: of?,
    })
}

/// Of a put-up of its own, else of the yarn role.
fn read_grist(keys: &Keys<'_>, usual: Option<Grist>) -> Option<Grist> {
    let Some(put_up) = keys.value("put_up", cells::put_up) else {
        return usual.filter(|_| !keys.has("put_up"));
    };
    let grist = put_up.value.grist();
    if grist.is_none() {
        let allowed = "write length and mass, as in `120 m / 50 g`";
        keys.lacks("length and weight", allowed);
    }
    grist
}

/// Grams before less grams after, or the finished mass.
fn read_used(keys: &Keys<'_>) -> Option<Mass> {
    let before = keys.value("before", cells::mass).map(|cell| cell.value);
    let after = keys.value("after", cells::mass).map(|cell| cell.value);
    let finished = keys.value("mass", cells::mass).map(|cell| cell.value);
    let allowed = "give `before` and `after` (the yarn), or `mass` (what was knitted)";
    let used = match (before, after, finished) {
        (Some(before), Some(after), None) => before.as_grams() - after.as_grams(),
        (None, None, Some(finished)) => finished.as_grams(),
        _ => {
            let why = "it has no weight, or two";
            keys.fault_here(why, allowed);
            return None;
        }
    };
    if used <= 0.0 {
        let why = "no yarn was used between the two weighings";
        keys.fault("after", "", why, "`after` is less than `before`");
        return None;
    }
    Mass::grams(used).ok()
}

fn read_swatch(keys: &Keys<'_>, named: &mut Named) -> Option<SampleKind> {
    for key in ["size", "pieces", "edges"] {
        if keys.has(key) {
            let why = "a sample is a swatch of its own or of pieces, not both";
            let allowed = "leave this out, or `shape` and `rows`";
            keys.fault(key, "", why, allowed);
        }
    }
    let fabric = read_fabric(keys, 1, named.per_area)?;
    let mut extent = *fabric.extents.first()?;
    let times = f64::from(keys.whole::<u32>("times").unwrap_or(1));
    extent.area = extent.area.map(|area| area * times);
    extent.stitches = extent.stitches.map(|stitches| stitches * times);
    let stitch = named.stitch(keys.text("stitch").map(|text| text.text));
    Some(SampleKind::Swatch { stitch, extent })
}

fn read_pieces(
    keys: &Keys<'_>,
    yarn: usize,
    named: &Named,
    pieces: &[PieceNeed],
) -> Option<SampleKind> {
    let size = read_size(keys, named)?;
    let of_yarn = || {
        pieces
            .iter()
            .enumerate()
            .filter(|(_, piece)| piece.yarn == yarn)
    };
    let all = !keys.has("pieces");
    let chosen = if all {
        of_yarn().map(|(place, _)| place).collect()
    } else {
        read_piece_names(keys, yarn, pieces)?
    };
    let edges = keys.yes_no("edges", cells::yes_no).unwrap_or(all);
    Some(SampleKind::Pieces {
        size,
        pieces: chosen,
        edges,
    })
}

fn read_size(keys: &Keys<'_>, named: &Named) -> Option<usize> {
    let names: Vec<&str> = named.sizes.iter().map(|size| size.as_str()).collect();
    let allowed = format!("write the size that was knitted: {}", or_list(&names));
    let Some(text) = keys.text("size") else {
        if names.len() == 1 {
            return Some(0);
        }
        keys.lacks(
            "size",
            &format!("{allowed}; or give the `shape` of a swatch"),
        );
        return None;
    };
    let place = names.iter().position(|name| fold(name) == fold(&text.text));
    if place.is_none() {
        keys.fault("size", &text.text, "there is no such size", allowed);
    }
    place
}

fn read_piece_names(keys: &Keys<'_>, yarn: usize, pieces: &[PieceNeed]) -> Option<Vec<usize>> {
    let of_yarn = || {
        let pieces = pieces.iter().enumerate();
        pieces.filter(|(_, piece)| piece.yarn == yarn)
    };
    let known: Vec<&str> = of_yarn().map(|(_, piece)| piece.name.as_str()).collect();
    let allowed = format!("write a list of {}", or_list(&known));
    let items = keys.items("pieces");
    if items.len() > pieces.len() {
        let why = format!("this names {} of {} pieces", items.len(), pieces.len());
        keys.fault("pieces", "", why, allowed);
        return None;
    }
    let places: HashMap<String, usize> = of_yarn()
        .map(|(place, piece)| (fold(piece.name.as_str()), place))
        .collect();
    let place_of = |item: &Spanned<DeValue<'_>>| {
        let given = as_text(item).map_or_else(String::new, |text| text.text);
        let place = places.get(&fold(&given)).copied();
        if place.is_none() {
            let why = "there is no such piece of this yarn";
            keys.fault_at(&item.span(), "pieces", &given, why, allowed.as_str());
        }
        place
    };
    items.into_iter().map(place_of).collect()
}
