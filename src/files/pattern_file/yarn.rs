//! One `[[yarn]]` of a pattern file read.

use super::{keys::Keys, needs::read_needs, syntax::Findings};
use crate::{
    label::cells,
    record::{Name, PatternYarn, Printed, YarnFacts, contradictions},
    trade::Construction,
};

/// The yarn role, or `None` where something in it is bad.
pub(super) fn read_yarn(
    keys: &Keys<'_, '_>,
    sizes: &[Name],
    found: &mut Findings<'_>,
) -> Option<PatternYarn> {
    let key = keys.name(
        "key",
        "name the yarn as the pattern does: A, B, MC, CC1",
        found,
    );
    let reference = read_reference(keys, found);
    for sentence in contradictions(&reference) {
        found.note(&keys.at, &keys.named(""), sentence);
    }
    let strands = keys.whole::<u8>("strands", found).unwrap_or(1);
    let needs = read_needs(keys, &reference, sizes, found);
    Some(PatternYarn {
        key: key?,
        called: keys.text("called", found).map(|text| text.text),
        reference,
        strands,
        needs: needs?,
    })
}

fn read_reference(keys: &Keys<'_, '_>, found: &mut Findings<'_>) -> YarnFacts {
    let put_up = read_put_up(keys, found);
    let (construction, plies) = read_construction(keys, found);
    YarnFacts {
        class: keys.value("class", cells::class, found),
        blend: keys.value("fibre", cells::blend, found),
        construction,
        plies,
        gauge: keys.value("gauge", cells::gauge, found),
        needles: keys.value("needle", cells::needles, found),
        care: keys.value("care", cells::care, found),
        price: keys.value("price", cells::price, found),
        ..put_up
    }
}

/// Length, mass and count: from `put_up`, or from keys of their own.
fn read_put_up(keys: &Keys<'_, '_>, found: &mut Findings<'_>) -> YarnFacts {
    let whole = keys.value("put_up", cells::put_up, found);
    let own = YarnFacts {
        length: keys.value("length", cells::length, found),
        mass: keys.value("mass", cells::mass, found),
        count: keys.value("count", cells::count, found),
        ..YarnFacts::default()
    };
    let Some(whole) = whole else { return own };
    let twice = [
        (
            "length",
            whole.value.length.is_some() && own.length.is_some(),
        ),
        ("mass", whole.value.mass.is_some() && own.mass.is_some()),
        ("count", whole.value.count.is_some() && own.count.is_some()),
    ];
    for (key, _) in twice.into_iter().filter(|(_, twice)| *twice) {
        let at = keys.get(key).map_or(keys.at.clone(), toml::Spanned::span);
        let why = "`put_up` says this already";
        found.fault(&at, &keys.named(key), "", why, "give it once");
    }
    YarnFacts {
        length: whole.value.length.or(own.length),
        mass: whole.value.mass.or(own.mass),
        count: whole.value.count.or(own.count),
        ..YarnFacts::default()
    }
}

fn read_construction(
    keys: &Keys<'_, '_>,
    found: &mut Findings<'_>,
) -> (Option<Printed<Construction>>, Option<u8>) {
    let built = keys.value("construction", cells::construction, found);
    let told = built.as_ref().and_then(|cell| cell.value.1);
    let plies = keys.whole::<u8>("plies", found);
    if let (Some(told), Some(plies)) = (told, plies)
        && told != plies
    {
        let at = keys
            .get("plies")
            .map_or(keys.at.clone(), toml::Spanned::span);
        let why = format!("the construction says {told}");
        found.fault(
            &at,
            &keys.named("plies"),
            &plies.to_string(),
            why,
            "say it once",
        );
    }
    let construction = built.map(|cell| Printed::new(cell.text, cell.value.0));
    (construction, plies.or(told))
}
