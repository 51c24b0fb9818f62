//! What the knitted thing is for and how close it sits, in words.

use super::token::{ParseResult, Tokens, Words, longest_of, word, words};
use crate::record::{Fit, Purpose};
use winnow::{
    Parser,
    combinator::{alt, opt, terminated},
};

const PURPOSES: &[(Purpose, Words)] = &[
    (
        Purpose::HotPad,
        words! {
            hot pad, hot pads, hotpad, hotpads, pot holder, pot holders, potholder, potholders,
            oven glove, oven gloves, oven mitt, oven mitts, trivet, trivets, topflappen,
            manique, maniques, grytlapp, grytlappar, grytekluter, grydelapper, pannenlap,
            pannenlappen, tea cosy, tea cosies, tea cozy, tea cozies, teacosy, hot mat, hot mats,
            coffee cosy, cafetiere cosy, teapot cosy, teewarmer,
            eierwarmer, untersetzer, dessous de plat, pan holder, pan holders, pot stand,
            pot stands,
        },
    ),
    (
        Purpose::ChildNightwear,
        words! {
            childs nightwear, childrens nightwear, kids nightwear, child nightwear, nightwear,
            sleepwear, childrens sleepwear, childs sleepwear, pyjamas, pajamas, pyjama, pajama,
            childs pyjamas, childrens pyjamas, kids pyjamas, kids pajamas, childs pajamas,
            childrens pajamas, nightgown, nightgowns, childs nightgown, nightdress, nightdresses,
            childs nightdress, nightie, nightshirt, childs nightshirt, dressing gown, dressing
            gowns, childs dressing gown, childrens dressing gown, bathrobe, childs bathrobe, robe,
            childs robe, childrens robe, sleepsuit, sleepsuits, childs sleepsuit, baby sleepsuit,
            babys sleepsuit, sleeping bag, childs sleeping bag, baby sleeping bag, babys sleeping
            bag, sleep sack, baby sleep sack, nachthemd, schlafanzug,
            bademantel, schlafsack, chemise de nuit, gigoteuse, turbulette, robe de chambre,
            pigiama, camicia da notte, pijama, camison, nattlinne, nattkjole,
        },
    ),
    (
        Purpose::Baby,
        words! {
            for baby, for a baby, for babies, baby blanket, baby hat, baby cardigan, baby
            jacket, baby clothes, baby garment, baby bonnet, baby booties, baby sweater, baby
            jumper, newborn, layette, preemie, infant, babies, for newborn, baby socks, baby
            shawl, baby dress,
        },
    ),
    (
        Purpose::Child,
        words! {
            child, childs, children, childrens, kids, for kids, childs garment, childs sweater,
            childs jumper, childs cardigan, toddler, childrens clothes,
        },
    ),
    (
        Purpose::Socks,
        words! {
            socks, pair of socks, a sock, for a sock, ankle socks, bed socks, boot socks, knee
            socks, for socks, stockings, chaussettes, socken, strumpfe, calzini, calcetines,
            meias, sokken, strømper, sokker, strumpor, sockor, sukat,
        },
    ),
    (
        Purpose::Felted,
        words! {
            felted, for felting, to felt, to be felted, felted bag, felted bags, felted slippers,
            felted hat, felted mittens, felting, fulled, fulling, for fulling, felting project,
            filzen, zum filzen, filzpantoffeln, gefilzt, feutrage, feutre, infeltrito, vervilten,
            filtning, tovning, tovad, filtad, huovutus,
        },
    ),
    (
        Purpose::Dishcloth,
        words! {
            dishcloth, dishcloths, dish cloth, dish cloths, washcloth, washcloths, wash cloth,
            wash cloths, face cloth, facecloth, dish towel, spultuch,
            spultucher, waschlappen, lavette, disktrasa, disktrasor, karklud, karklude, oppvaskklut,
            kluter, vaatdoek, vaatdoekje, tiskiratti,
        },
    ),
    (
        Purpose::Toy,
        words! {
            toy, toys, soft toy, soft toys, softie, softies, amigurumi, stuffed animal, stuffed
            animals, stuffed toy, teddy, teddies, doll, dolls, plushie, kuscheltier, stofftier,
            doudou, peluche, peluches, giocattolo, juguete, knuffel, bamse, kosedyr, gosedjur,
            pehmolelu,
        },
    ),
    (
        Purpose::Accessory,
        words! {
            accessory, accessories, hat, hats, scarf, scarves, shawl, shawls, mittens,
            gloves, cowl, beanie, bag, bags, mitts, accessoire,
        },
    ),
    (
        Purpose::Home,
        words! {
            home, blanket, blankets, cushion, cushions, afghan blanket, throw, homeware, pillow,
            rug yarn project,
        },
    ),
    (
        Purpose::Garment,
        words! {
            garment, garments, sweater, sweaters, jumper, jumpers, cardigan, cardigans,
            pullover, pullovers, vest, dress, jacket, top, tee, skirt, clothes,
        },
    ),
];

const FITS: &[(Fit, Words)] = &[
    (
        Fit::Fitted,
        words! { close fitting, close fitted, tight fitting, negative ease, fitted, snug },
    ),
    (Fit::Relaxed, words! { loose fitting, oversized }),
    (Fit::Unfitted, words! { unfitted, not fitted }),
];

/// The same of a thing, and of a yarn or a gauge other things.
const LOOSE: &[(Fit, Words)] = &[(Fit::Relaxed, words! { relaxed, loose })];

/// What the thing is for.
pub fn purpose(input: &mut Tokens<'_>) -> ParseResult<Purpose> {
    longest_of(PURPOSES).parse_next(input)
}

/// A purpose where nothing else may stand, so that `baby` and `sock`, on a label
/// names of classes, are purposes.
pub fn purpose_alone(input: &mut Tokens<'_>) -> ParseResult<Purpose> {
    alt((
        purpose,
        word(words! { baby }).value(Purpose::Baby),
        word(words! { sock }).value(Purpose::Socks),
    ))
    .parse_next(input)
}

/// `fitted`, `relaxed fit`, `unfitted`.
pub fn fit(input: &mut Tokens<'_>) -> ParseResult<Fit> {
    let named = longest_of(FITS);
    let fit = || word(words! { fit });
    alt((terminated(named, opt(fit())), terminated(loose_fit, fit()))).parse_next(input)
}

/// `relaxed`: how close a thing sits, where one is named.
pub fn loose_fit(input: &mut Tokens<'_>) -> ParseResult<Fit> {
    longest_of(LOOSE).parse_next(input)
}

/// A fit where nothing else may stand.
pub fn fit_alone(input: &mut Tokens<'_>) -> ParseResult<Fit> {
    alt((fit, loose_fit)).parse_next(input)
}
