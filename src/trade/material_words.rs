//! Words of labels that name a fibre or a build of which no table here knows how it
//! behaves. Common practice, no source.

use crate::words::{Words, fold, words};

/// Folded, one word each.
const WORDS: Words = words! {
    raffia, paper, straw, rattan, fur, faux, sequin, sequins, beads, beaded, metallic, lurex,
    metal, steel, copper, wire, plastic, plarn, foil, glitter, jersey, denim, fleece, feather,
    feathers, pompom, pompoms, bobble, bobbles, ladder, ruffle, mesh, tinsel, banana, nettle,
    pineapple, seaweed, seacell, kapok, qiviut, possum, mink, bison, buffalo, plush, suede,
    leather, cork, reflective, glow, macrame, novelty, fringe, fringed, knop, nep, neps, papier,
    papel, carta, pelz,
};

/// Whether a text that was not understood names a fibre or a build.
pub fn names_material(text: &str) -> bool {
    let folded = fold(text);
    let mut words = folded.split(|letter: char| !letter.is_alphanumeric());
    words.any(|word| WORDS.contains(word))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_of_fibre_and_build_are_told_from_others() {
        for text in ["fun fur", "paper raffia", "100% Raffia", "Lurex"] {
            assert!(names_material(text), "{text}");
        }
        for text in ["soft", "shade 26", "new", "made in Italy", "carbon neutral"] {
            assert!(!names_material(text), "{text}");
        }
    }
}
