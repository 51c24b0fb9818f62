//! The one unit table: parser, printer, help, README and pages read it.
//!
//! Factors are exact definitions built from each other: 1 yd = 0.9144 m and
//! 1 lb = 453.59237 g (international yard and pound, 1959).

use crate::words::by_word;
use iso_currency::Currency;
use rust_decimal::Decimal;
use std::{collections::HashMap, sync::LazyLock};

/// Metres in a yard, exact.
pub const YARD_M: f64 = 0.9144;
/// Metres in an inch, exact.
pub const INCH_M: f64 = YARD_M / 36.0;
/// Grams in a pound avoirdupois, exact.
pub const POUND_G: f64 = 453.592_37;
/// Grams in an ounce avoirdupois, exact.
pub const OUNCE_G: f64 = POUND_G / 16.0;

/// What a unit measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dimension {
    /// Canonical unit: metre.
    Length,
    /// Canonical unit: gram.
    Mass,
}

/// Which number habits a unit comes with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Habit {
    /// Metric.
    Metric,
    /// Imperial and US customary: a comma parts thousands, a dot decimals.
    Imperial,
}

/// One unit of length or mass.
#[derive(Debug, PartialEq)]
pub struct Unit {
    /// How it is printed.
    pub symbol: &'static str,
    /// What it measures.
    pub dimension: Dimension,
    /// How many canonical units it holds.
    pub factor: f64,
    /// Metric or imperial.
    pub habit: Habit,
    /// Every way it is written, folded to lower case, without a closing dot.
    pub written: &'static [&'static str],
}

/// Every unit of length and mass that is read.
pub const UNITS: &[Unit] = &[
    length(
        "m",
        1.0,
        Habit::Metric,
        &[
            "m",
            "mt",
            "mts",
            "mtr",
            "mtrs",
            "metre",
            "metres",
            "meter",
            "meters",
            "metro",
            "metros",
            "metri",
            "metria",
            "mètre",
            "mètres",
            "metrow",
            "metry",
            "metru",
            "м",
            "метр",
            "метров",
            "метра",
            "メートル",
        ],
    ),
    length(
        "cm",
        0.01,
        Habit::Metric,
        &[
            "cm",
            "cms",
            "centimetre",
            "centimetres",
            "centimeter",
            "centimeters",
            "см",
        ],
    ),
    length(
        "mm",
        0.001,
        Habit::Metric,
        &[
            "mm",
            "millimetre",
            "millimetres",
            "millimeter",
            "millimeters",
            "мм",
        ],
    ),
    length(
        "km",
        1000.0,
        Habit::Metric,
        &["km", "kilometre", "kilometres", "kilometer", "kilometers"],
    ),
    length(
        "yd",
        YARD_M,
        Habit::Imperial,
        &["yd", "yds", "yard", "yards"],
    ),
    length("ft", YARD_M / 3.0, Habit::Imperial, &["ft", "foot", "feet"]),
    length(
        "in",
        INCH_M,
        Habit::Imperial,
        &["in", "ins", "inch", "inches", "\"", "″", "”"],
    ),
    mass(
        "g",
        1.0,
        Habit::Metric,
        &[
            "g",
            "gr",
            "grs",
            "gm",
            "gms",
            "gram",
            "grams",
            "gramme",
            "grammes",
            "gramm",
            "gramo",
            "gramos",
            "grama",
            "gramas",
            "grammo",
            "grammi",
            "grammaa",
            "grm",
            "grms",
            "gramow",
            "gramu",
            "г",
            "гр",
            "грамм",
            "クラム",
        ],
    ),
    mass(
        "kg",
        1000.0,
        Habit::Metric,
        &["kg", "kgs", "kilo", "kilos", "kilogram", "kilograms", "кг"],
    ),
    mass(
        "oz",
        OUNCE_G,
        Habit::Imperial,
        &["oz", "ozs", "ounce", "ounces"],
    ),
    mass(
        "lb",
        POUND_G,
        Habit::Imperial,
        &["lb", "lbs", "pound", "pounds"],
    ),
];

const fn length(
    symbol: &'static str,
    factor: f64,
    habit: Habit,
    written: &'static [&'static str],
) -> Unit {
    Unit {
        symbol,
        dimension: Dimension::Length,
        factor,
        habit,
        written,
    }
}

const fn mass(
    symbol: &'static str,
    factor: f64,
    habit: Habit,
    written: &'static [&'static str],
) -> Unit {
    Unit {
        symbol,
        dimension: Dimension::Mass,
        factor,
        habit,
        written,
    }
}

/// The unit written as `word`, whatever its case.
pub fn unit(word: &str) -> Option<&'static Unit> {
    static BY_WORD: LazyLock<HashMap<&str, &Unit>> = LazyLock::new(|| {
        let written = |unit: &'static Unit| unit.written.iter().map(move |word| (*word, unit));
        by_word(UNITS.iter().flat_map(written))
    });
    let found = BY_WORD.get(word);
    found
        .or_else(|| BY_WORD.get(word.to_lowercase().as_str()))
        .copied()
}

/// How a count system counts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Counts {
    /// Indirect: metres per gram of count 1; a finer yarn has a larger number.
    MetresPerGram(f64),
    /// Direct: grams per metre of count 1; a finer yarn has a smaller number.
    GramsPerMetre(f64),
}

/// A yarn numbering system of [`COUNT_SYSTEMS`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum CountSystem {
    /// g per 1000 m (ISO 1144).
    Tex,
    /// g per 10 000 m.
    Decitex,
    /// g per 9000 m.
    Denier,
    /// Nm, m per g.
    Metric,
    /// Ne, hanks of 840 yd per lb.
    Cotton,
    /// NeK, hanks of 560 yd per lb.
    Worsted,
    /// Runs of 1600 yd per lb (US).
    WoollenRun,
    /// Cuts of 300 yd per lb (US).
    WoollenCut,
    /// Leas of 300 yd per lb.
    Linen,
    /// Skeins of 256 yd per lb (Yorkshire).
    YorkshireSkein,
}

/// One row of [`COUNT_SYSTEMS`].
#[derive(Debug, PartialEq)]
pub struct CountUnit {
    /// The system.
    pub system: CountSystem,
    /// How it is printed.
    pub symbol: &'static str,
    /// What one count is, for people.
    pub meaning: &'static str,
    /// Every way it is written, folded to lower case.
    pub written: &'static [&'static str],
}

/// Metres per gram of a count of `yards` yards per pound.
const fn yards_per_pound(yards: f64) -> Counts {
    Counts::MetresPerGram(yards * YARD_M / POUND_G)
}

/// Numbering systems. Definitions: ISO 1144:2016 and ASTM D861 (tex), ASTM
/// D2260-03(2013) table 1 (the rest); the Yorkshire skein is common practice.
pub const COUNT_SYSTEMS: &[CountUnit] = &[
    CountUnit {
        system: CountSystem::Tex,
        symbol: "tex",
        meaning: "grams in 1000 m",
        written: &["tex"],
    },
    CountUnit {
        system: CountSystem::Decitex,
        symbol: "dtex",
        meaning: "grams in 10 000 m",
        written: &["dtex", "decitex"],
    },
    CountUnit {
        system: CountSystem::Denier,
        symbol: "den",
        meaning: "grams in 9000 m",
        written: &["den", "denier"],
    },
    CountUnit {
        system: CountSystem::Metric,
        symbol: "Nm",
        meaning: "metres in 1 g",
        written: &["nm"],
    },
    CountUnit {
        system: CountSystem::Cotton,
        symbol: "Ne",
        meaning: "hanks of 840 yd in 1 lb",
        written: &["ne", "nec", "cc"],
    },
    CountUnit {
        system: CountSystem::Worsted,
        symbol: "NeK",
        meaning: "hanks of 560 yd in 1 lb",
        written: &["nek", "new", "wc"],
    },
    CountUnit {
        system: CountSystem::WoollenRun,
        symbol: "run",
        meaning: "runs of 1600 yd in 1 lb",
        written: &["run", "runs"],
    },
    CountUnit {
        system: CountSystem::WoollenCut,
        symbol: "cut",
        meaning: "cuts of 300 yd in 1 lb",
        written: &["cut", "cuts"],
    },
    CountUnit {
        system: CountSystem::Linen,
        symbol: "lea",
        meaning: "leas of 300 yd in 1 lb",
        written: &["lea", "leas", "nel"],
    },
    CountUnit {
        system: CountSystem::YorkshireSkein,
        symbol: "YSW",
        meaning: "skeins of 256 yd in 1 lb",
        written: &["ysw"],
    },
];

impl CountSystem {
    /// How it is printed, as in [`COUNT_SYSTEMS`].
    pub fn symbol(self) -> &'static str {
        let mut rows = COUNT_SYSTEMS.iter();
        rows.find(|unit| unit.system == self)
            .map_or("", |unit| unit.symbol)
    }

    /// The definition of count 1.
    pub fn counts(self) -> Counts {
        match self {
            Self::Tex => Counts::GramsPerMetre(1e-3),
            Self::Decitex => Counts::GramsPerMetre(1e-4),
            Self::Denier => Counts::GramsPerMetre(1.0 / 9000.0),
            Self::Metric => Counts::MetresPerGram(1.0),
            Self::Cotton => yards_per_pound(840.0),
            Self::Worsted => yards_per_pound(560.0),
            Self::WoollenRun => yards_per_pound(1600.0),
            Self::WoollenCut | Self::Linen => yards_per_pound(300.0),
            Self::YorkshireSkein => yards_per_pound(256.0),
        }
    }
}

/// An amount of money. Exact: never a float.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Money {
    /// The amount in units of the currency.
    pub amount: Decimal,
    /// ISO 4217 currency.
    pub currency: Currency,
}

impl std::fmt::Display for Money {
    /// `12.95 EUR`, with at least the currency's own decimals. Three decimals get a
    /// fourth where the currency has fewer, since one mark before three digits may
    /// part thousands.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let places = u32::from(self.currency.exponent().unwrap_or(2));
        let mut amount = self.amount.normalize();
        if amount.scale() < places {
            amount.rescale(places);
        } else if amount.scale() == 3 && places < 3 {
            amount.rescale(4);
        }
        write!(f, "{amount} {}", self.currency.code())
    }
}
