//! What a yarn is: class, fibres, construction, care.

use super::whole::{Asked, Cell, whole};
use crate::{
    label::grammar::{
        class::{CLASS_ALLOWED, class_alone},
        fibres::{BLEND_ALLOWED, fibres},
        words,
    },
    label::reading::{Reading, plain},
    record::{Blend, Care, Classes},
    trade::Construction,
};

/// `DK`, `3`, `8 ply`, `sport / 5 ply`. In a cell the ambiguous `4 ply` gives all its classes and a note.
pub fn class(text: &str) -> Cell<Classes> {
    whole(
        text,
        Asked {
            what: "a weight class",
            allowed: CLASS_ALLOWED,
        },
        class_alone,
    )
}

/// `75% wool 25% nylon`.
pub fn blend(text: &str) -> Cell<Blend> {
    let asked = Asked {
        what: "a blend of fibres",
        allowed: BLEND_ALLOWED,
    };
    whole(text, asked, |input| {
        let found = fibres(input)?;
        Ok(found.map(|fibres| Reading {
            value: fibres.value.blend,
            notes: fibres.notes,
        }))
    })
}

/// `plied`, `3 plied` (second value: number of plies, where given).
pub fn construction(text: &str) -> Cell<(Construction, Option<u8>)> {
    let asked = Asked {
        what: "a construction",
        allowed: "`plied`, `3 plied`, `cabled`, `single`, `chainette`, `blown`, `brushed`, `boucle`, `slub` or `tape`",
    };
    whole(text, asked, |input| words::construction(input).map(plain))
}

/// `machine wash`, `superwash`, `hand wash`, `dry clean`, `30 C`.
pub fn care(text: &str) -> Cell<Care> {
    let asked = Asked {
        what: "a way of washing",
        allowed: "`machine wash`, `hand wash`, `dry clean` or `30 C`",
    };
    whole(text, asked, words::care)
}
