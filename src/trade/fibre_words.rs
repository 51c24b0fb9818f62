//! Fibre words of labels in the languages of the European markets, and the
//! letter codes printed instead.
//!
//! Sources: Regulation (EU) No 1007/2011 Annex I for which names are fibres;
//! the words of other languages and the letter codes are from memory and common
//! practice. Breeds of sheep are wool.

use super::{Fibre, fibre, fibre_words_east::EASTERN_WORDS};

/// Name in the fibre table, and the words that mean it, folded: no accents,
/// lower case, one word each.
pub const FIBRE_WORDS: &[(&str, &[&str])] = &[
    (
        "wool",
        &[
            "wool",
            "wools",
            "laine",
            "wolle",
            "schurwolle",
            "schafwolle",
            "lammwolle",
            "lana",
            "wol",
            "scheerwol",
            "lamswol",
            "schapenwol",
            "uld",
            "lammeuld",
            "lamsuld",
            "ull",
            "lammull",
            "villa",
            "villaa",
            "merinovillaa",
            "lampaanvilla",
            "merino",
            "merinos",
            "merinowolle",
            "merinowol",
            "merinould",
            "merinoull",
            "merinovilla",
            "lambswool",
            "shetland",
            "bluefaced",
            "leicester",
            "bfl",
            "corriedale",
            "polwarth",
            "romney",
            "falkland",
            "targhee",
            "rambouillet",
            "jacob",
            "cheviot",
            "icelandic",
            "gotland",
            "masham",
            "wensleydale",
            "texel",
            "cormo",
            "finn",
            "finnsheep",
            "lopi",
            "botany",
            "peruvian",
            "highland",
        ],
    ),
    ("mohair", &["mohair", "kidmohair", "moher", "mohairvilla"]),
    (
        "alpaca",
        &[
            "alpaca",
            "alpaga",
            "alpaka",
            "alpakka",
            "alpakkaa",
            "suri",
            "alpacawol",
            "alpakkavilla",
        ],
    ),
    (
        "cashmere",
        &[
            "cashmere",
            "kashmir",
            "cachemire",
            "kaschmir",
            "cachemira",
            "caxemira",
            "kasjmier",
            "kasjmir",
            "cachemir",
        ],
    ),
    ("angora", &["angora"]),
    ("yak", &["yak", "yack", "jak", "jakki"]),
    (
        "camel",
        &[
            "camel",
            "chameau",
            "kamel",
            "kamelhaar",
            "cammello",
            "camello",
            "camelo",
            "kameel",
            "kameli",
        ],
    ),
    ("llama", &["llama", "lama"]),
    (
        "silk",
        &[
            "silk",
            "soie",
            "seide",
            "maulbeerseide",
            "seta",
            "seda",
            "zijde",
            "silke",
            "silkki",
            "silkkia",
            "mulberry",
            "tussah",
            "tussar",
            "bourette",
        ],
    ),
    (
        "cotton",
        &[
            "cotton",
            "coton",
            "baumwolle",
            "cotone",
            "algodon",
            "algodao",
            "katoen",
            "bomuld",
            "bomull",
            "puuvilla",
            "puuvillaa",
            "pima",
            "supima",
        ],
    ),
    (
        "linen",
        &[
            "linen", "flax", "lin", "leinen", "flachs", "lino", "linho", "linnen", "vlas", "hør",
            "horr", "pellava", "pellavaa", "linne",
        ],
    ),
    (
        "hemp",
        &[
            "hemp", "chanvre", "hanf", "canapa", "canamo", "canhamo", "hennep", "hamp", "hamppu",
        ],
    ),
    ("ramie", &["ramie", "rami"]),
    ("jute", &["jute", "juta", "juutti", "yute"]),
    (
        "viscose",
        &[
            "viscose",
            "viscosa",
            "viskose",
            "viskos",
            "viskoosi",
            "viskoosia",
            "rayon",
            "rayonne",
            "raion",
        ],
    ),
    ("modal", &["modal", "modaali"]),
    ("lyocell", &["lyocell", "liocel", "lyosell", "lyocel"]),
    (
        "acetate",
        &["acetate", "acetat", "acetato", "acetaat", "asetaatti"],
    ),
    (
        "protein",
        &["azlon", "casein", "soy", "soya", "milk", "protein"],
    ),
    (
        "acrylic",
        &[
            "acrylic",
            "acrylique",
            "acryl",
            "polyacryl",
            "polyacrylic",
            "acrilico",
            "acrilica",
            "akryl",
            "akryyli",
            "akryylia",
            "polyakryl",
            "polyacrylnitril",
        ],
    ),
    ("modacrylic", &["modacrylic", "modacryl", "modacrylique"]),
    (
        "nylon",
        &[
            "nylon",
            "polyamide",
            "polyamid",
            "poliammide",
            "poliamida",
            "polyamidi",
            "polyamidia",
            "poliamid",
            "nailon",
            "poliammidica",
        ],
    ),
    (
        "polyester",
        &["polyester", "poliester", "poliestere", "polyesteri"],
    ),
    (
        "polypropylene",
        &[
            "polypropylene",
            "polypropylen",
            "polipropilene",
            "olefin",
            "polypropeen",
        ],
    ),
    ("polylactide", &["polylactide", "pla"]),
    (
        "elastane",
        &[
            "elastane",
            "elastan",
            "elasthan",
            "elasthanne",
            "elastano",
            "elastaan",
            "elastaani",
            "spandex",
            "elastam",
        ],
    ),
    (
        "rubber",
        &[
            "rubber",
            "elastodiene",
            "elastodien",
            "elastodieno",
            "elastodieeni",
            "latex",
            "lateks",
            "lattice",
            "gummi",
            "kautschuk",
            "naturkautschuk",
            "caoutchouc",
            "gomma",
            "caucho",
            "borracha",
            "kumi",
        ],
    ),
];

/// Letter codes and short words, folded; read beside a share only.
pub const FIBRE_CODES: &[(&str, &str)] = &[
    ("wo", "wool"),
    ("wv", "wool"),
    ("la", "wool"),
    ("wm", "mohair"),
    ("wp", "alpaca"),
    ("ws", "cashmere"),
    ("wa", "angora"),
    ("wy", "yak"),
    ("wk", "camel"),
    ("wl", "llama"),
    ("se", "silk"),
    ("co", "cotton"),
    ("li", "linen"),
    ("ha", "hemp"),
    ("ra", "ramie"),
    ("ju", "jute"),
    ("vi", "viscose"),
    ("cv", "viscose"),
    ("md", "modal"),
    ("cmd", "modal"),
    ("ly", "lyocell"),
    ("cly", "lyocell"),
    ("ac", "acetate"),
    ("pr", "protein"),
    ("pan", "acrylic"),
    ("pc", "acrylic"),
    ("ma", "modacrylic"),
    ("mac", "modacrylic"),
    ("pa", "nylon"),
    ("ny", "nylon"),
    ("pl", "polyester"),
    ("pes", "polyester"),
    ("pp", "polypropylene"),
    ("el", "elastane"),
    ("ea", "elastane"),
    ("ed", "rubber"),
    ("len", "linen"), // Polish and Czech
];

/// Codes that two fibres share, with both.
pub const SHARED_CODES: &[(&str, &str, &str)] =
    &[("ca", "acetate", "hemp"), ("mo", "mohair", "modal")];

/// The fibre that a folded word means.
pub fn fibre_of_word(word: &str) -> Option<&'static Fibre> {
    let mut rows = FIBRE_WORDS.iter();
    let mut eastern = EASTERN_WORDS.iter();
    let western = rows.find(|(_, words)| words.contains(&word));
    let name = match western {
        Some((name, _)) => name,
        None => {
            &eastern
                .find(|(_, words)| words.split(' ').any(|known| known == word))?
                .0
        }
    };
    fibre(name)
}

/// The fibre that a letter code means.
pub fn fibre_of_code(code: &str) -> Option<&'static Fibre> {
    FIBRE_CODES
        .iter()
        .find(|(known, _)| *known == code)
        .and_then(|(_, name)| fibre(name))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::fold;

    #[test]
    fn every_row_names_a_fibre_of_the_table_in_folded_words() {
        for (name, words) in FIBRE_WORDS {
            assert!(fibre(name).is_some(), "{name}");
            assert!(words.iter().all(|word| fold(word) == *word), "{name}");
        }
        for (name, words) in EASTERN_WORDS {
            assert!(fibre(name).is_some(), "{name}");
            assert!(words.split(' ').all(|word| fold(word) == word), "{name}");
        }
        assert!(FIBRE_CODES.iter().all(|(_, name)| fibre(name).is_some()));
    }

    #[test]
    fn no_word_means_two_fibres() {
        let mut words: Vec<&str> = FIBRE_WORDS
            .iter()
            .flat_map(|(_, words)| words.iter().copied())
            .chain(EASTERN_WORDS.iter().flat_map(|(_, words)| words.split(' ')))
            .collect();
        let all = words.len();
        words.sort_unstable();
        words.dedup();
        assert_eq!(all, words.len());
    }

    #[test]
    fn one_fibre_has_many_names() {
        let name = |word| fibre_of_word(word).map(|fibre| fibre.name);
        assert_eq!(name("merino"), Some("wool"));
        assert_eq!(name("baumwolle"), Some("cotton"));
        assert_eq!(name("soie"), Some("silk"));
        assert_eq!(fibre_of_code("pa").map(|fibre| fibre.name), Some("nylon"));
        assert_eq!(name("stellina"), None);
    }
}
