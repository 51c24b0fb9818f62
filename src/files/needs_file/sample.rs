//! One `[[sample]]` read.

use super::{
    PieceNeed, Sample, SampleOf,
    fabric::read_fabric,
    read::{Named, read_yarn_place},
};
use crate::{
    files::pattern_file::{
        keys::{Keys, as_text},
        syntax::Findings,
    },
    label::cells,
    measure::{Grist, Mass},
    words::{fold, or_list},
};
use toml::de::DeValue;

/// The sample, or `None` where something in it is bad.
pub(super) fn read_sample(
    keys: &Keys<'_, '_>,
    place: usize,
    named: &mut Named,
    pieces: &[PieceNeed],
    found: &mut Findings<'_>,
) -> Option<Sample> {
    let name = keys.text("name", found).map(|text| text.text);
    let yarn = read_yarn_place(keys, named, found)?;
    let grist = read_grist(keys, named.grist(yarn), found);
    let used = read_used(keys, found);
    let swatch = keys.get("shape").is_some() || keys.get("rows").is_some();
    let of = match swatch {
        true => read_swatch(keys, named, found),
        false => read_pieces(keys, yarn, named, pieces, found),
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
fn read_grist(
    keys: &Keys<'_, '_>,
    usual: Option<Grist>,
    found: &mut Findings<'_>,
) -> Option<Grist> {
    let Some(put_up) = keys.value("put_up", cells::put_up, found) else {
        return usual.filter(|_| keys.get("put_up").is_none());
    };
    let grist = put_up.value.grist();
    if grist.is_none() {
        let allowed = "write length and mass, as in `120 m / 50 g`";
        keys.lacks("the length per mass", allowed, found);
    }
    grist
}

/// Grams before less grams after, or the finished mass.
fn read_used(keys: &Keys<'_, '_>, found: &mut Findings<'_>) -> Option<Mass> {
    let before = keys
        .value("before", cells::mass, found)
        .map(|cell| cell.value);
    let after = keys
        .value("after", cells::mass, found)
        .map(|cell| cell.value);
    let finished = keys
        .value("mass", cells::mass, found)
        .map(|cell| cell.value);
    let allowed = "give `before` and `after` (the yarn), or `mass` (what was knitted)";
    let used = match (before, after, finished) {
        (Some(before), Some(after), None) => before.as_grams() - after.as_grams(),
        (None, None, Some(finished)) => finished.as_grams(),
        _ => {
            let why = "it is not weighed, or in two ways";
            found.fault(&keys.at, &keys.named(""), "", why, allowed);
            return None;
        }
    };
    if used <= 0.0 {
        let at = keys
            .get("after")
            .map_or(keys.at.clone(), toml::Spanned::span);
        let why = "no yarn was used between the two weighings";
        found.fault(
            &at,
            &keys.named("after"),
            "",
            why,
            "`after` is less than `before`",
        );
        return None;
    }
    Mass::grams(used).ok()
}

fn read_swatch(
    keys: &Keys<'_, '_>,
    named: &mut Named,
    found: &mut Findings<'_>,
) -> Option<SampleOf> {
    for key in ["size", "pieces", "edges"] {
        if let Some(value) = keys.get(key) {
            let why = "a sample is a swatch of its own or of pieces, not both";
            let allowed = "leave this out, or `shape` and `rows`";
            found.fault(&value.span(), &keys.named(key), "", why, allowed);
        }
    }
    let fabric = read_fabric(keys, 1, named.per_area, found)?;
    let mut extent = *fabric.extents.first()?;
    let times = f64::from(keys.whole::<u32>("times", found).unwrap_or(1));
    extent.area = extent.area.map(|area| area * times);
    extent.stitches = extent.stitches.map(|stitches| stitches * times);
    let stitch = named.stitch(keys.text("stitch", found).map(|text| text.text));
    Some(SampleOf::Swatch { stitch, extent })
}

fn read_pieces(
    keys: &Keys<'_, '_>,
    yarn: usize,
    named: &Named,
    pieces: &[PieceNeed],
    found: &mut Findings<'_>,
) -> Option<SampleOf> {
    let size = read_size(keys, named, found)?;
    let of_yarn = || {
        pieces
            .iter()
            .enumerate()
            .filter(|(_, piece)| piece.yarn == yarn)
    };
    let all = keys.get("pieces").is_none();
    let chosen = match all {
        true => of_yarn().map(|(place, _)| place).collect(),
        false => read_piece_names(keys, yarn, pieces, found)?,
    };
    let edges = keys.yes_no("edges", cells::yes_no, found).unwrap_or(all);
    Some(SampleOf::Pieces {
        size,
        pieces: chosen,
        edges,
    })
}

fn read_size(keys: &Keys<'_, '_>, named: &Named, found: &mut Findings<'_>) -> Option<usize> {
    let names: Vec<&str> = named.sizes.iter().map(|size| size.as_str()).collect();
    let allowed = format!("write the size that was knitted: {}", or_list(&names));
    let Some(text) = keys.text("size", found) else {
        if names.len() == 1 {
            return Some(0);
        }
        keys.lacks(
            "size",
            &format!("{allowed}; or give the `shape` of a swatch"),
            found,
        );
        return None;
    };
    let place = names.iter().position(|name| fold(name) == fold(&text.text));
    if place.is_none() {
        found.fault(
            &text.at,
            &keys.named("size"),
            &text.text,
            "there is no such size",
            allowed,
        );
    }
    place
}

fn read_piece_names(
    keys: &Keys<'_, '_>,
    yarn: usize,
    pieces: &[PieceNeed],
    found: &mut Findings<'_>,
) -> Option<Vec<usize>> {
    let value = keys.get("pieces")?;
    let of_yarn = || pieces.iter().filter(|piece| piece.yarn == yarn);
    let known: Vec<&str> = of_yarn().map(|piece| piece.name.as_str()).collect();
    let allowed = format!("write a list of {}", or_list(&known));
    let items = match value.get_ref() {
        DeValue::Array(items) => items.iter().collect(),
        _ => vec![value],
    };
    let mut places = Vec::new();
    for item in items {
        let given = as_text(item).map(|text| text.text).unwrap_or_default();
        let same = |piece: &PieceNeed| fold(piece.name.as_str()) == fold(&given);
        match pieces
            .iter()
            .position(|piece| piece.yarn == yarn && same(piece))
        {
            Some(place) => places.push(place),
            None => {
                let why = "there is no such piece of this yarn";
                found.fault(
                    &item.span(),
                    &keys.named("pieces"),
                    &given,
                    why,
                    allowed.clone(),
                );
                return None;
            }
        }
    }
    Some(places)
}
