//! What the head of the file declares: sizes, yarns and stitches.

use super::{NEEDS_YARN_KEYS, NeedsYarn, STITCH_KEYS, read::Named};
use crate::{
    files::pattern_file::{
        keys::{Keys, as_text},
        syntax::Findings,
    },
    label::cells,
    record::{Name, contradictions},
    words::fold,
};
use toml::de::DeValue;

pub(super) fn read_sizes(keys: &Keys<'_, '_>, found: &mut Findings<'_>) -> Option<Vec<Name>> {
    let allowed = "write `sizes = [\"S\", \"M\"]`, as the pattern calls them";
    let Some(value) = keys.get("sizes") else {
        return Name::new("a size", "one size").ok().map(|one| vec![one]);
    };
    let texts: Option<Vec<Name>> = match value.get_ref() {
        DeValue::Array(items) => items
            .iter()
            .map(|item| Name::new("a size", &as_text(item)?.text).ok())
            .collect(),
        _ => None,
    };
    let mut seen = std::collections::HashSet::new();
    let sound = texts.filter(|names| {
        !names.is_empty() && names.iter().all(|name| seen.insert(fold(name.as_str())))
    });
    if sound.is_none() {
        let why = "this is no list of names, each once";
        found.fault(&value.span(), "sizes", "", why, allowed);
    }
    sound
}

pub(super) fn read_yarns(keys: &Keys<'_, '_>, found: &mut Findings<'_>) -> Option<Vec<NeedsYarn>> {
    let tables = keys.tables("yarn", &NEEDS_YARN_KEYS, found);
    if tables.is_empty() {
        keys.lacks("yarn", "begin each with a line `[[yarn]]`", found);
        return None;
    }
    let yarns: Vec<Option<NeedsYarn>> = tables.iter().map(|yarn| read_yarn(yarn, found)).collect();
    yarns.into_iter().collect()
}

fn read_yarn(keys: &Keys<'_, '_>, found: &mut Findings<'_>) -> Option<NeedsYarn> {
    let key = keys.name("key", "name the yarn as the pattern does: A, B, MC", found);
    let allowed = "write length and mass of one skein, as in `120 m / 50 g`";
    let facts = keys.needed("put_up", allowed, cells::put_up, found)?.value;
    for sentence in contradictions(&facts) {
        found.note(&keys.at, &keys.named(""), sentence);
    }
    let Some(grist) = facts.grist() else {
        keys.lacks("the length per mass", allowed, found);
        return None;
    };
    Some(NeedsYarn {
        key: key?,
        called: keys.text("called", found).map(|text| text.text),
        facts,
        grist,
    })
}

/// Every `[[stitch]]`; one that takes so many times another names it first.
pub(super) fn read_stitches(keys: &Keys<'_, '_>, named: &mut Named, found: &mut Findings<'_>) {
    for table in keys.tables("stitch", &STITCH_KEYS, found) {
        let Some(name) = table.name("name", "name the stitch", found) else {
            continue;
        };
        let other = table.text("of", found);
        let takes = table.value("takes", cells::percent, found);
        let other_place = other
            .as_ref()
            .map(|other| named.stitch(Some(other.text.clone())));
        let place = named.stitch(Some(name.to_string()));
        let tied = other_place.and_then(|other| named.stitches.get(other)?.of);
        let of = match (other_place, takes) {
            (Some(other), Some(takes)) if other != place && tied.is_none() => {
                Some((other, takes.value.as_fraction()))
            }
            (None, None) => continue,
            _ => {
                let allowed =
                    "as in `takes = \"120 %\"` and `of = \"stockinette\"`, which is weighed itself";
                let why = "`takes` and `of` go together";
                found.fault(&table.at, &table.named(""), "", why, allowed);
                continue;
            }
        };
        if let Some(stitch) = named.stitches.get_mut(place) {
            stitch.of = of;
        }
    }
}
