//! What a yarn is: put-up, yarn count, class, fibres, construction, care, gauge,
//! needles, price.

use super::{Cell, whole, whole_plain, written};
use crate::{
    label::{
        band::read_skein,
        care::{CARE_ALLOWED, care as care_words, heat, heat_alone},
        class::{CLASS_ALLOWED, class_alone},
        construction::{CONSTRUCTION_ALLOWED, construction as construction_words},
        count::{COUNT_ALLOWED, count as yarn_count},
        fibre::{
            BLEND_ALLOWED, GROUPS_ALLOWED, blend as stated_blend, fibre_groups as groups_of_fibres,
            material_beside,
        },
        gauge::{GAUGE_ALLOWED, gauge as stated_gauge},
        grist::{GRIST_ALLOWED, per_mass, per_unit},
        length_mass::one_value,
        measured::measured_count,
        money::{MONEY_ALLOWED, money as stated_money},
        needles::{NEEDLES_ALLOWED, only_needles},
        price::{PRICE_ALLOWED, price_alone},
        reading::{ReadResult, Reading, Refusal},
        token::{ParseResult, Tokens, symbol},
    },
    measure::{Grist, Length, Mass, Money, NeedleSize, YarnCount, units::Dimension},
    record::{Blend, Care, Classes, Needles, Price, Printed, StatedGauge, YarnFacts},
    trade::{Construction, FibreGroup},
};
use winnow::{
    Parser,
    combinator::{alt, opt, terminated},
};

const LENGTH_ALLOWED: &str = "`125 m`, `137 yd` or `1 1/2 yd`";
const MASS_ALLOWED: &str = "`50 g`, `1 3/4 oz` or `50 g (1.75 oz)`";
const PUT_UP_ALLOWED: &str = "`50 g = 135 m`, `3.5 oz / 220 yd` or `2/14 Nm, 150 g`";

/// `125 m`, `137 yd`, `1 1/2 yd`.
pub fn length(text: &str) -> Cell<Length> {
    let length = one_value(Dimension::Length, LENGTH_ALLOWED, Length::metres);
    whole(text, "a length", LENGTH_ALLOWED, length)
}

/// `50 g`, `1 3/4 oz`, `50 g (1.75 oz)`.
pub fn mass(text: &str) -> Cell<Mass> {
    let mass = one_value(Dimension::Mass, MASS_ALLOWED, Mass::grams);
    whole(text, "a mass", MASS_ALLOWED, mass)
}

/// A put-up: length, mass or both, both systems allowed; fills `length`, `mass`, `count`.
pub fn put_up(text: &str) -> Cell<YarnFacts> {
    let band = read_skein(text);
    let refuse = |span, why: &str| Err(Refusal::new(span, why, PUT_UP_ALLOWED).error(text));
    if let Some(first) = band.not_read.into_iter().next() {
        return refuse(first.span, &first.why);
    }
    let only = YarnFacts {
        length: band.facts.length.clone(),
        mass: band.facts.mass.clone(),
        count: band.facts.count.clone(),
        ..YarnFacts::default()
    };
    if only == YarnFacts::default() {
        return refuse(0..text.len(), "it has neither a length nor a weight");
    }
    if only != band.facts || band.amount.is_some() {
        return refuse(
            0..text.len(),
            "this is more than one ball's length and weight",
        );
    }
    Ok(Reading::new(each_alone(only), band.warnings))
}

/// Each of the facts with a text that says it alone: `m 24 / 100 g` has a length that is
/// read only beside its mass.
fn each_alone(facts: YarnFacts) -> YarnFacts {
    YarnFacts {
        length: facts
            .length
            .map(|printed| alone(printed, length, |value| written::length(*value))),
        mass: facts
            .mass
            .map(|printed| alone(printed, mass, |value| written::mass(*value))),
        count: facts
            .count
            .map(|printed| alone(printed, count, |value| written::count(*value))),
        ..facts
    }
}

fn alone<T: PartialEq>(
    printed: Printed<T>,
    read: impl Fn(&str) -> Cell<T>,
    plain: impl Fn(&T) -> String,
) -> Printed<T> {
    let text = written::text_of(&printed, read, plain);
    Printed { text, ..printed }
}

/// `2/14 Nm`, `tex 120/2`, `20/2 Ne`; of a yarn without a label `377 m/100 g (369 to 386)`.
pub fn count(text: &str) -> Cell<YarnCount> {
    let counted = |input: &mut Tokens<'_>| alt((measured_count, yarn_count)).parse_next(input);
    whole(text, "a yarn count with its system", COUNT_ALLOWED, counted)
}

/// `230 m/100 g`, `1150 yd/lb`, `125 m per 50 g`, or a yarn count.
pub fn grist(text: &str) -> Cell<Grist> {
    whole(text, "a length with its weight", GRIST_ALLOWED, any_grist)
}

pub(super) fn any_grist(input: &mut Tokens<'_>) -> ParseResult<ReadResult<Grist>> {
    let counted = yarn_count.map(|count| count.map(|count| count.map(|count| count.grist())));
    alt((per_mass, per_unit, counted)).parse_next(input)
}

/// `DK`, `3`, `8 ply`, `sport / 5 ply`. In a cell the ambiguous `4 ply` gives all its classes and a note.
pub fn class(text: &str) -> Cell<Classes> {
    whole(text, "a weight class", CLASS_ALLOWED, class_alone)
}

/// `75% wool 25% nylon`; `100% acrylic, fun fur`, with a word about what is not known.
pub fn blend(text: &str) -> Cell<Blend> {
    whole(text, "a blend of fibres", BLEND_ALLOWED, |input| {
        let stated = stated_blend(input)?;
        let beside = opt(material_beside).parse_next(input)?;
        Ok(stated.map(|stated| {
            let notes = stated.notes.into_iter().chain(beside);
            Reading::new(stated.value.blend, notes)
        }))
    })
}

/// `wool, mohair`, `animal`.
pub fn fibre_groups(text: &str) -> Cell<Vec<FibreGroup>> {
    whole_plain(text, "fibres", GROUPS_ALLOWED, groups_of_fibres)
}

/// `plied`, `3 plied` (second value: number of plies, where given).
pub fn construction(text: &str) -> Cell<(Construction, Option<u8>)> {
    whole_plain(
        text,
        "a construction",
        CONSTRUCTION_ALLOWED,
        construction_words,
    )
}

/// `machine wash`, `superwash`, `hand wash`, `dry clean`; `machine wash, 30 C`, where the
/// temperature adds nothing; `30 C`, with a word about it.
pub fn care(text: &str) -> Cell<Care> {
    whole(text, "a way of washing", CARE_ALLOWED, |input| {
        let temperature = opt((opt(symbol(",;")), heat));
        alt((heat_alone, terminated(care_words, temperature))).parse_next(input)
    })
}

/// `22 sts x 30 rows / 10 cm`, with stitch, flat or round, washed, strands where stated.
pub fn gauge(text: &str) -> Cell<StatedGauge> {
    whole(text, "a gauge", GAUGE_ALLOWED, stated_gauge)
}

/// `4 mm`, `3.25-3.75 mm`, `US 6`, `old UK 8`.
pub fn needles(text: &str) -> Cell<Needles> {
    whole(text, "a needle size", NEEDLES_ALLOWED, only_needles)
}

/// One needle.
pub fn needle(text: &str) -> Cell<NeedleSize> {
    needles(text)?.try_map(|needles| {
        let why = "this is a range, and one needle is needed";
        let range = Refusal::new(0..text.len(), why, "`4 mm` or `US 6`");
        needles
            .is_one()
            .then(|| needles.low())
            .ok_or_else(|| range.error(text))
    })
}

/// `6.50 GBP`, `12,95 €`, `£6.50/50g`.
pub fn price(text: &str) -> Cell<Price> {
    whole(text, "a price", PRICE_ALLOWED, price_alone)
}

/// `40 EUR`, `£40`: money alone.
pub fn money(text: &str) -> Cell<Money> {
    whole(text, "an amount of money", MONEY_ALLOWED, stated_money)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_temperature_beside_a_way_of_washing_adds_nothing_and_alone_is_a_machine_wash_with_a_word()
    {
        for text in [
            "machine wash, 30 C",
            "machine wash 30 C",
            "Machine wash 40°C",
        ] {
            assert_eq!(care(text).unwrap().value, Care::MachineWash, "{text}");
        }
        assert_eq!(care("hand wash, 30°C").unwrap().value, Care::HandWash);
        for text in ["30 C", "40°C", "wash at 30"] {
            let alone = care(text).unwrap();
            assert_eq!(alone.value, Care::MachineWash, "{text}");
            assert!(alone.notes[0].message.contains("by hand or by machine"));
        }
    }

    #[test]
    fn words_of_a_material_stay_beside_the_fibres_and_come_back() {
        let read = blend("100% acrylic, fun fur").unwrap();
        assert_eq!(read.value.to_string(), "100% acrylic");
        assert!(
            read.notes[0].message.contains("`fun fur`"),
            "{:?}",
            read.notes
        );
        assert!(blend("100% acrylic, second hand").is_err());
    }

    #[test]
    fn pounds_are_money_in_a_cell_of_prices() {
        let money = |text: &str| price(text).unwrap().value.money.to_string();
        assert_eq!(money("5 pounds"), "5.00 GBP");
        assert_eq!(money("5.50 pounds per ball"), "5.50 GBP");
    }
}
