//! Fibre words of labels in the languages of Europe, of Turkey and of Japan, and the
//! letter codes printed instead.
//!
//! Sources: Regulation (EU) No 1007/2011 Annex I for which names are fibres;
//! the words of other languages and the letter codes are from memory and common
//! practice. Breeds of sheep are wool.

use super::{Fibre, fibre};
use crate::words::{Words, by_word, words};
use std::{collections::HashMap, sync::LazyLock};

/// Name in the fibre table, and the words that mean it, folded: no accents,
/// lower case, one word each.
pub const FIBRE_WORDS: &[(&str, Words)] = &[
    (
        "wool",
        words! {
            wool, wools, laine, wolle, schurwolle, schafwolle, lammwolle, lana, wol, scheerwol,
            lamswol, schapenwol, uld, lammeuld, lamsuld, ull, lammull, villa, villaa,
            merinovillaa, lampaanvilla, merino, merinos, merinowolle, merinowol, merinould,
            merinoull, merinovilla, lambswool, shetland, bluefaced, leicester, bfl, corriedale,
            polwarth, romney, falkland, targhee, rambouillet, jacob, cheviot, icelandic,
            gotland, masham, wensleydale, texel, cormo, finn, finnsheep, lopi, botany, peruvian,
            highland, wełna, wełny, wełniana, vlna, vlny, шерсть, шерсти, шерстяная, меринос,
            мериноса, мериносовая, yun, yunu, 毛, ウール, 羊毛, メリノ, メリノウール,
        },
    ),
    (
        "mohair",
        words! {
            mohair, kidmohair, moher, mohairvilla, moheru, мохер, мохера, tiftik, モヘヤ, モヘア,
        },
    ),
    (
        "alpaca",
        words! {
            alpaca, alpaga, alpaka, alpakka, alpakkaa, suri, alpacawol, alpakkavilla, alpaki,
            альпака, альпаки, アルハカ,
        },
    ),
    (
        "cashmere",
        words! {
            cashmere, kashmir, cachemire, kaschmir, cachemira, caxemira, kasjmier, kasjmir,
            cachemir, kaszmir, kaszmiru, kasmir, кашемир, кашемира, カシミヤ, カシミア,
        },
    ),
    ("angora", words! { angora, ангора, ангоры, アンコラ }),
    ("yak", words! { yak, yack, jak, jakki }),
    (
        "camel",
        words! {
            camel, chameau, kamel, kamelhaar, cammello, camello, camelo, kameel, kameli,
        },
    ),
    ("llama", words! { llama, lama }),
    (
        "silk",
        words! {
            silk, soie, seide, maulbeerseide, seta, seda, zijde, silke, silkki, silkkia,
            mulberry, tussah, tussar, bourette, jedwab, jedwabiu, hedvabi, шелк, шелка, ipek, 絹,
            シルク,
        },
    ),
    (
        "cotton",
        words! {
            cotton, coton, baumwolle, cotone, algodon, algodao, katoen, bomuld, bomull,
            puuvilla, puuvillaa, pima, supima, bawełna, bawełny, bavlna, bavlny, хлопок, хлопка,
            pamuk, 綿, コットン, 木綿,
        },
    ),
    (
        "linen",
        words! {
            linen, flax, lin, leinen, flachs, lino, linho, linnen, vlas, hør, horr, pellava,
            pellavaa, linne, lnu, лен, льна, keten, 麻, リネン, 亜麻,
        },
    ),
    (
        "hemp",
        words! {
            hemp, chanvre, hanf, canapa, canamo, canhamo, hennep, hamp, hamppu, konopie, konopi,
            конопля, kenevir, ヘンフ,
        },
    ),
    ("ramie", words! { ramie, rami, ラミー }),
    ("jute", words! { jute, juta, juutti, yute }),
    (
        "viscose",
        words! {
            viscose, viscosa, viskose, viskos, viskoosi, viskoosia, rayon, rayonne, raion,
            wiskoza, wiskozy, viskoza, вискоза, вискозы, viskon, viskoz, レーヨン, ヒスコース,
        },
    ),
    ("modal", words! { modal, modaali }),
    (
        "lyocell",
        words! { lyocell, liocel, lyosell, lyocel, リヨセル },
    ),
    (
        "acetate",
        words! { acetate, acetat, acetato, acetaat, asetaatti },
    ),
    (
        "protein",
        words! { azlon, casein, soy, soya, milk, protein },
    ),
    (
        "acrylic",
        words! {
            acrylic, acrylique, acryl, polyacryl, polyacrylic, acrilico, acrilica, akryl,
            akryyli, akryylia, polyakryl, polyacrylnitril, akrylu, акрил, акрила, akrilik, アクリル,
        },
    ),
    ("modacrylic", words! { modacrylic, modacryl, modacrylique }),
    (
        "nylon",
        words! {
            nylon, polyamide, polyamid, poliammide, poliamida, polyamidi, polyamidia, poliamid,
            nailon, poliammidica, poliamidu, polyamidu, полиамид, полиамида, неилон, naylon,
            ナイロン,
        },
    ),
    (
        "polyester",
        words! {
            polyester, poliester, poliestere, polyesteri, poliestru, полиэстер, полиэстера,
            ホリエステル,
        },
    ),
    (
        "polypropylene",
        words! {
            polypropylene, polypropylen, polipropilene, olefin, polypropeen,
        },
    ),
    ("polylactide", words! { polylactide, pla }),
    (
        "elastane",
        words! {
            elastane, elastan, elasthan, elasthanne, elastano, elastaan, elastaani, spandex,
            elastam, эластан, ホリウレタン,
        },
    ),
    (
        "rubber",
        words! {
            rubber, elastodiene, elastodien, elastodieno, elastodieeni, latex, lateks, lattice,
            gummi, kautschuk, naturkautschuk, caoutchouc, gomma, caucho, borracha, kumi,
        },
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
    static FIBRES: LazyLock<HashMap<&str, &Fibre>> = LazyLock::new(|| {
        let rows = FIBRE_WORDS.iter();
        let named = rows.filter_map(|(name, words)| Some((fibre(name)?, words)));
        by_word(named.flat_map(|(fibre, words)| words.iter().map(move |word| (word, fibre))))
    });
    FIBRES.get(word).copied()
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
            assert!(words.iter().all(|word| fold(word) == word), "{name}");
        }
        assert!(FIBRE_CODES.iter().all(|(_, name)| fibre(name).is_some()));
    }

    #[test]
    fn no_word_means_two_fibres() {
        let mut words: Vec<&str> = FIBRE_WORDS
            .iter()
            .flat_map(|(_, words)| words.iter())
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
