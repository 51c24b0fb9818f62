//! The fields of an answer to `read`.

use super::{basis, classes, warnings};
use crate::{
    app::ReadAnswer,
    label::{
        band::{Amount, AmountPart, Quantity},
        reading::NotRead,
    },
    measure::{Interval, Length, Mass, YarnCount},
    record::{BlendPart, Price, StatedGauge, YarnFacts},
    report::{
        facts_words::value,
        json::{fields_of, list},
    },
};
use rust_decimal::prelude::ToPrimitive;

fields_of! {
    /// What was understood of a text.
    ReadFields(answer: &ReadAnswer)
    where band = &answer.band, facts = &band.facts, title = answer.title.as_ref(),
          needles = value(&facts.needles).map(|it| it.map(|needle| needle.as_millimetres())); {
        /// The text.
        text: String = answer.text.clone(),
        /// Who makes the yarn.
        maker: Option<String> = title.and_then(|title| title.maker.clone()),
        /// Its name.
        name: Option<String> = title.map(|title| title.name.clone()),
        /// One skein.
        put_up: Option<PutUpFields> = PutUpFields::known(facts),
        /// The count of the yarn.
        yarn_count: Option<YarnCountFields> = value(&facts.count).map(YarnCountFields::of),
        /// Metres per gram.
        grist_m_per_g: Option<f64> = facts.grist().map(|grist| grist.as_metres_per_gram()),
        /// Shares of the weight.
        blend: Option<Vec<FibreShare>> =
            value(&facts.blend).map(|blend| list(blend.parts(), FibreShare::of)),
        /// The gauge.
        gauge: Option<StatedGaugeFields> = value(&facts.gauge).map(StatedGaugeFields::of),
        /// Needles in mm, from and to.
        needles_mm: Option<[f64; 2]> = needles.as_ref().map(ends),
        /// Every weight class that is possible.
        weight_classes: Vec<u8> = classes(facts).iter().map(|class| class.number()).collect(),
        /// Wraps per inch, from and to.
        wraps_per_inch: Option<[f64; 2]> = band.wraps_per_inch.as_ref().map(ends),
        /// The price.
        price: Option<PriceFields> = value(&facts.price).map(PriceFields::of),
        /// How much.
        amount: Option<WrittenAmount> = band.amount.as_ref().map(WrittenAmount::of),
        /// How much of other colours.
        other_colours: Vec<WrittenAmount> = list(&band.other_colours, WrittenAmount::of),
        /// How the yarn is built.
        construction: Option<&'static str> = value(&facts.construction).map(|it| it.name()),
        /// Plies.
        plies: Option<u8> = facts.plies,
        /// How to wash it.
        care: Option<&'static str> = value(&facts.care).map(|care| care.name()),
        /// Strands held together.
        strands_held: Option<u8> = band.strands_held,
        /// The number under the barcode.
        gtin: Option<String> = band.gtin.as_ref().map(ToString::to_string),
        /// The shade.
        shade: Option<String> = band.shade.clone(),
        /// The dye lot.
        lot: Option<String> = band.lot.clone(),
        /// What it is for.
        purpose: Option<&'static str> = band.purpose.map(|purpose| purpose.name()),
        /// How it fits.
        fit: Option<&'static str> = band.fit.map(|fit| fit.name()),
        /// Notes about what was read.
        warnings: Vec<String> = warnings(band),
        /// Fibres or families that the text does not want.
        denied: Vec<&'static str> = list(&band.denied, |group| group.name()),
        /// Parts that were not understood, or not used.
        not_read: Vec<NotReadFields> = list(&band.not_read, NotReadFields::of),
    }
}

fields_of! {
    /// A part that was not understood, or not used.
    NotReadFields(part: &NotRead) {
        /// Its text.
        text: String = part.text.clone(),
        /// Its first byte.
        from: usize = part.span.start,
        /// The byte after its last.
        to: usize = part.span.end,
        /// Why, and what to write instead.
        why: String = part.why.clone(),
    }
}

fields_of! {
    /// One skein.
    PutUpFields(facts: &YarnFacts) {
        /// Its metres.
        length_m: Option<f64> = value(&facts.length).map(|length| length.as_metres()),
        /// Its grams.
        mass_g: Option<f64> = value(&facts.mass).map(|mass| mass.as_grams()),
    }
}

fields_of! {
    /// The count of a yarn.
    YarnCountFields(count: &YarnCount) {
        /// Number of one single.
        number: f64 = count.single(),
        /// How many singles.
        plies: u8 = count.plies(),
        /// The system as printed.
        system: &'static str = count.system().symbol(),
    }
}

fields_of! {
    /// A fibre of a blend.
    FibreShare(part: &BlendPart) {
        /// The fibre.
        fibre: String = part.fibre.to_string(),
        /// Its share of the weight in percent.
        percent: f64 = part.percent,
    }
}

fields_of! {
    /// A gauge as it is written.
    StatedGaugeFields(stated: &StatedGauge) {
        /// Stitches, from and to.
        stitches: [f64; 2] = ends(&stated.gauge.stitches()),
        /// Rows, from and to.
        rows: Option<[f64; 2]> = stated.gauge.rows().as_ref().map(ends),
        /// Over how many metres; `null` where the text does not say.
        over_m: Option<f64> = stated.gauge.over().map(|over| over.as_metres()),
        /// The stitch.
        stitch: Option<String> = stated.stitch.as_ref().map(|stitch| stitch.name().to_owned()),
        /// Flat or in the round.
        worked: Option<&'static str> = stated.worked.map(|worked| worked.name()),
        /// Whether it was washed.
        washed: Option<bool> = stated.washed,
        /// Strands held together.
        strands: Option<u8> = stated.strands,
    }
}

fields_of! {
    /// A price.
    PriceFields(price: &Price) {
        /// In units of the currency.
        amount: Option<f64> = price.money.amount.to_f64(),
        /// The code of the currency (ISO 4217).
        currency: &'static str = price.money.currency.code(),
        /// What that buys.
        per: String = basis(price.per, "skein"),
    }
}

fields_of! {
    /// An amount as it is written.
    WrittenAmount(amount: &Amount) {
        /// Its text.
        text: String = amount.text.clone(),
        /// One part for each size.
        parts: Vec<AmountPartFields> = list(&amount.parts, AmountPartFields::of),
        /// Loose grams beside counted skeins.
        plus_g: Option<f64> = amount.plus.map(|mass| mass.as_grams()),
        /// Whether it says about.
        about: bool = amount.about,
        /// The colours of each of which it is.
        each_of: Vec<String> = amount.each_of.clone(),
    }
}

fields_of! {
    /// The amount of one size, from and to, in one of three measures.
    AmountPartFields(part: &AmountPart) where quantity = &part.quantity; {
        /// The size, where it is named.
        size: Option<String> = part.size.clone(),
        /// Skeins.
        #[serde(skip_serializing_if = "Option::is_none")]
        skeins: Option<[f64; 2]> = match quantity {
            Quantity::Skeins(range) => Some(ends(range)),
            _ => None,
        },
        /// Metres.
        #[serde(skip_serializing_if = "Option::is_none")]
        length_m: Option<[f64; 2]> = match quantity {
            Quantity::Length(range) => Some(ends(&range.map(Length::as_metres))),
            _ => None,
        },
        /// Grams.
        #[serde(skip_serializing_if = "Option::is_none")]
        mass_g: Option<[f64; 2]> = match quantity {
            Quantity::Mass(range) => Some(ends(&range.map(Mass::as_grams))),
            _ => None,
        },
    }
}

impl PutUpFields {
    /// Nothing where neither is given.
    fn known(facts: &YarnFacts) -> Option<Self> {
        let known = Self::of(facts);
        (known.length_m.is_some() || known.mass_g.is_some()).then_some(known)
    }
}

/// `[low, high]`.
fn ends(range: &Interval<f64>) -> [f64; 2] {
    [range.low(), range.high()]
}
