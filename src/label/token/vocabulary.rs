//! Words that every grammar knows: what balls of yarn are called, and what joins
//! the values on a label and says nothing itself.

use super::{ParseResult, Token, TokenKind, Tokens, any_word};
use crate::words::{Words, words};
use winnow::Parser;

/// Words for one ball of yarn in any form.
const SKEIN_WORDS: Words = words! {
    ball, balls, skein, skeins, hank, hanks, cone, cones, cake, cakes, bll, blls, sk, sks, skn,
    skns, pack, packs, pelote, pelotes, echeveau, echeveaux, knauel, knaeuel, strang, strange,
    kone, ovillo, ovillos, madeja, madejas, gomitolo, gomitoli, matassa, matasse, novelo,
    novelos, meada, meadas, bol, bollen, bolletje, bolletjes, streng, strengen, nogle, nogler,
    nøgle, nøgler, ngl, nøste, nøster, noste, nystan, nyst, harva, harvor, kera, keraa, kerat,
    vyyhti, vyyhtea, spool, spools, bobbin, bobbins, motek, motka, motki, motkow, моток, мотка,
    мотков, yumak, klubko, klubka, klubek, pradeno, 玉, 玉巻, カセ,
};

/// Whether the folded word counts skeins.
pub fn is_skein_word(word: &str) -> bool {
    SKEIN_WORDS.contains(word)
}

/// A word for a ball of yarn.
pub fn skein_word<'t>(input: &mut Tokens<'t>) -> ParseResult<&'t str> {
    any_word
        .verify(|word: &str| is_skein_word(word))
        .parse_next(input)
}

/// Joining words, in the languages in which labels are printed.
const FILLERS: Words = words! {
    // English
    a, an, and, approx, approximately, approximate, about, around, at, ball, by, c, ca, circa,
    contains, composition, content, contents, each, equals, fiber, fibers, fibre, fibres, for,
    from, in, is, length, mass, material, meterage, metrage, net, nett, of, on, or, per,
    roughly, that, the, this, to, weight, weighs, with, wt, yardage, yarn, put, up, netto, are,
    has, made, recommended, suggested, use, using, skein, hank, cone, avg, average, minimum,
    knits, min, materials,
    // German
    auf, bei, das, der, die, etwa, gewicht, je, lauflange, lange, ll, mit, pro, und, zirka,
    ungefahr, zusammensetzung, knauel, garn, garnmenge,
    // French
    composee, de, des, du, env, environ, et, la, le, les, longueur, par, poids, pour, une, un,
    pelote, fil, fournitures,
    // Spanish, Portuguese, Italian
    aprox, aproximadamente, composicion, con, da, di, e, largo, longitud, lunghezza, metraje,
    ovillo, peso, por, comprimento, composizione, composicao, gomitolo, y, com, novelo, circ,
    cerca, al, del, materiales, hilo, materiali, filato,
    // Dutch, Danish, Norwegian, Swedish, Finnish
    een, en, looplengte, lengte, bol, lobelaengde, løbelængde, løbelaengde, langde, laengde,
    loplangd, lopelangd, van, voor, lopelengde, løpelengde, nøgle, nøste, nystan, og, och,
    vaegt, vikt, vekt, pa, kera, ja, noin, paino, pituus, ungefar, omtrent, cirka,
    garen, benodigdheden, materialer, garnmengde, garnmaengde,
    // Polish, Czech
    skład, długosc, dlugosc, waga, w, z, na, i, ok, około, slozeni, delka, hmotnost, navin, ve,
    około, asi, prumerne, nici, priza, doporucene, zalecane,
    // Russian
    состав, вес, длина, нити, в, на, и, для, около, метраж, пряжа, мотке,
    // Turkish
    icerik, agırlık, uzunluk, yaklasık,
    // Japanese
    約, 糸長, 重量, 重さ, 長さ, 品質, 組成, 素材, 仕立, 標準, 参考, 標準状態重量,
};

/// Signs that only separate or join.
const SIGNS: &str = "=~/,;:()[]{}.-+&|·•_<>'\"@℮";

/// Whether the token says nothing by itself.
pub fn says_nothing(token: &Token<'_>) -> bool {
    match &token.kind {
        TokenKind::Word(word) => FILLERS.contains(word) || is_skein_word(word),
        TokenKind::Symbol(sign) => SIGNS.contains(*sign),
        TokenKind::Number(_) => false,
    }
}

/// Whether the token is a sign that only separates or joins.
pub fn is_sign(token: &Token<'_>) -> bool {
    matches!(token.kind, TokenKind::Symbol(sign) if SIGNS.contains(sign))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::label::token::lex;

    #[test]
    fn a_sign_that_joins_is_told_from_words_numbers_and_other_signs() {
        let signs = |text: &str| lex(text).iter().map(is_sign).collect::<Vec<_>>();
        assert_eq!(signs(", 50 g ? ="), [true, false, false, false, true]);
    }
}
