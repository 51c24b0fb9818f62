//! A yarn of the user's own records: what it is called, how it may be washed, what
//! it costs and for how much of it; and what its label says, each value beside the text
//! it was read from.

use super::{Blend, Name, StatedGauge, Together};
use crate::{
    measure::{Grist, Interval, Length, Mass, Money, NeedleSize, YarnCount},
    trade::{Construction, Gtin, WeightClass},
};

/// A yarn: who makes it, what it is called, what its label says.
#[derive(Debug, Clone, PartialEq)]
pub struct Yarn {
    /// Who makes it.
    pub maker: Name,
    /// What it is called.
    pub name: Name,
    /// What its label says.
    pub facts: YarnFacts,
    /// Article number under the barcode.
    pub gtin: Option<Gtin>,
    /// Further ones, as of a yarn that was entered twice.
    pub more_gtins: Vec<Gtin>,
    /// How few balls of a shade are low, where that was said of this yarn.
    pub low: Option<u32>,
    /// Shades it comes in.
    pub shades: Vec<String>,
    /// Whether it is discontinued.
    pub discontinued: bool,
    /// Anything else.
    pub notes: String,
}

impl Yarn {
    /// `maker, name`, as people say it.
    pub fn title(&self) -> String {
        format!("{}, {}", self.maker, self.name)
    }

    /// All its article numbers.
    pub fn gtins(&self) -> impl Iterator<Item = &Gtin> {
        self.gtin.iter().chain(&self.more_gtins)
    }
}

/// What a label allows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Care {
    /// Takes a machine wash.
    MachineWash,
    /// By hand only.
    HandWash,
    /// Dry cleaning only.
    DryClean,
}

impl Care {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::MachineWash, Self::HandWash, Self::DryClean];

    /// The words used here.
    pub fn name(self) -> &'static str {
        match self {
            Self::MachineWash => "machine wash",
            Self::HandWash => "hand wash",
            Self::DryClean => "dry clean",
        }
    }
}

/// A price and the quantity it buys.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Price {
    /// The money.
    pub money: Money,
    /// What it buys.
    pub per: PriceBasis,
}

/// The quantity that a price buys.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PriceBasis {
    /// One skein as sold.
    Skein,
    /// So much mass, such as 50 g or 1 oz.
    Mass(Mass),
    /// So much length.
    Length(Length),
}

/// The needle sizes a label recommends.
pub type Needles = Interval<NeedleSize>;

/// One or more classes that a printed class may mean, in order, each once.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Classes(Vec<WeightClass>);

impl Classes {
    /// The classes that are possible; `None` for an empty list.
    pub fn new(mut classes: Vec<WeightClass>) -> Option<Self> {
        classes.sort();
        classes.dedup();
        (!classes.is_empty()).then_some(Self(classes))
    }

    /// In order, never empty.
    pub fn as_slice(&self) -> &[WeightClass] {
        &self.0
    }
}

/// What is known of a yarn; everything that is not is `None`.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct YarnFacts {
    /// Length of one skein as sold.
    pub length: Option<Printed<Length>>,
    /// Mass of one skein as sold.
    pub mass: Option<Printed<Mass>>,
    /// Yarn count.
    pub count: Option<Printed<YarnCount>>,
    /// Weight class, or the classes that its name may mean.
    pub class: Option<Printed<Classes>>,
    /// Fibres.
    pub blend: Option<Printed<Blend>>,
    /// How it is built.
    pub construction: Option<Printed<Construction>>,
    /// How many singles or strands the yarn itself is made of.
    pub plies: Option<u8>,
    /// Gauge that the label recommends.
    pub gauge: Option<Printed<StatedGauge>>,
    /// Needles that the label recommends.
    pub needles: Option<Printed<Needles>>,
    /// Washing.
    pub care: Option<Printed<Care>>,
    /// Price.
    pub price: Option<Printed<Price>>,
    /// What several yarns are that are held together, which are no yarn as sold.
    pub together: Option<Together>,
}

impl YarnFacts {
    /// Length per mass: of the put-up where both are known, else of the count; of
    /// several yarns held together that of all.
    pub fn grist(&self) -> Option<Grist> {
        if let Some(together) = self.together {
            return Some(together.grist);
        }
        let put_up = self.length.as_ref().zip(self.mass.as_ref());
        put_up
            .and_then(|(length, mass)| Grist::of(length.value, mass.value).ok())
            .or_else(|| self.count.as_ref().map(|count| count.value.grist()))
    }

    /// Length of one skein: as printed, else mass x grist.
    pub fn skein_length(&self) -> Option<Length> {
        let printed = self.length.as_ref().map(|length| length.value);
        printed.or_else(|| self.mass.as_ref()?.value.length_at(self.grist()?).ok())
    }

    /// Mass of one skein: as printed, else length / grist.
    pub fn skein_mass(&self) -> Option<Mass> {
        let printed = self.mass.as_ref().map(|mass| mass.value);
        printed.or_else(|| self.length.as_ref()?.value.mass_at(self.grist()?).ok())
    }
}

/// What was printed or typed, kept to the letter, and what it means.
#[derive(Debug, Clone, PartialEq)]
pub struct Printed<T> {
    /// The text as it was given.
    pub text: String,
    /// Its meaning.
    pub value: T,
}

impl<T> Printed<T> {
    /// A value and the text it was read from.
    pub fn new(text: impl Into<String>, value: T) -> Self {
        Self {
            text: text.into(),
            value,
        }
    }
}

/// What one of a yarn is called in this text, where it says so.
pub fn counter_in(text: &str) -> Option<&'static str> {
    let text = text.to_lowercase();
    let known = ["ball", "hank", "cone", "cake"].into_iter();
    let mut named = known.filter(|word| text.contains(word));
    named.next()
}

impl YarnFacts {
    /// What one of it is called: the word of its label, else a skein.
    pub fn counter(&self) -> &'static str {
        let texts = [
            self.length.as_ref().map(|printed| &printed.text),
            self.mass.as_ref().map(|printed| &printed.text),
        ];
        let mut said = texts.into_iter().flatten();
        said.find_map(|text| counter_in(text)).unwrap_or("skein")
    }
}

#[cfg(test)]
mod facts_tests {
    use super::*;
    use crate::measure::units::CountSystem;

    #[test]
    fn a_cone_with_a_count_and_a_mass_has_a_length() {
        let count = YarnCount::new(14.0, 2, CountSystem::Metric).unwrap();
        let facts = YarnFacts {
            count: Some(Printed::new("2/14 Nm", count)),
            mass: Some(Printed::new("150 g", Mass::grams(150.0).unwrap())),
            ..YarnFacts::default()
        };
        assert!((facts.skein_length().unwrap().as_metres() - 1050.0).abs() < 1e-9);
    }

    #[test]
    fn nothing_known_is_nothing_claimed() {
        let facts = YarnFacts::default();
        assert_eq!(
            (facts.grist(), facts.skein_length(), facts.skein_mass()),
            (None, None, None)
        );
    }
}
