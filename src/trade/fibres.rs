//! Fibres: density, breaking extension, elastic recovery, moisture regain and
//! whether they melt, each value with its basis.
//!
//! Sources: Morton & Hearle, Physical Properties of Textile Fibres, 4th ed.
//! (2008), tables 5.1 (density at 65 % r.h.), 13.1 and 13.2 (breaking
//! extension); National Research Council (US), Carbon Management (2001), table
//! 11.1 (recovery from 5 % strain, regain, melting); reviews for bast fibres;
//! handbooks and one study for mohair, angora, alpaca, yak, camel and modal. The
//! regain of angora, 11.6, is 10.43 / (100 - 10.43), its moisture content on dry
//! mass. Values that no text confirmed are marked as proxy, practice or memory.

use std::fmt;

const MH_5_1: &str = "Morton & Hearle 2008, table 5.1";
const MH_13_1: &str = "Morton & Hearle 2008, table 13.1";
const MH_13_2: &str = "Morton & Hearle 2008, table 13.2";
const NRC_11_1: &str = "National Research Council 2001, table 11.1";
const REVIEW_DENSITY: &str = "npj Materials Degradation 2022, s41529-022-00277-7, table 3";
const REVIEW_REGAIN: &str = "Bioresources and Bioprocessing 2020, s40643-020-00339-1, table 10";
const PLA_MAKER: &str = "Technical Bulletin 180904 of a polylactide maker";
const COOK_MOHAIR: &str = "Cook 1984, Handbook of Textile Fibres I, cited by CAMEO (Museum of Fine Arts, Boston), page Mohair";
const COOK_MODAL: &str = "Cook 1984, Handbook of Textile Fibres, cited by CAMEO (Museum of Fine Arts, Boston), page Modal: the middle of its range";
const MURMU: &str = "Murmu, Debnath & Bhutia 2023, Journal of Natural Fibers 20(2), 2210323";
const MCGREGOR: &str = "McGregor, Handbook of Properties of Textile and Technical Fibres, ch. 4, p. 125: bundles, the middle of the range";

/// What a value rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// Read in this text.
    Published(&'static str),
    /// No figure found: that of the named fibre stands in.
    Proxy(&'static str),
    /// Common practice, no source.
    Practice,
    /// Remembered, not confirmed in a text.
    Memory,
}

impl fmt::Display for Basis {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Published(source) => write!(f, "{source}"),
            Self::Proxy(fibre) => write!(f, "value of {fibre} as a proxy"),
            Self::Practice => write!(f, "common practice, no source"),
            Self::Memory => write!(f, "from memory, not confirmed"),
        }
    }
}

/// A value and what it rests on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figure {
    /// The value, in the unit of the field that holds it.
    pub value: f64,
    /// What it rests on.
    pub basis: Basis,
}

/// The families the trade sorts fibres into.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Family {
    /// Hair and silk.
    Animal,
    /// Seed hair and bast.
    Plant,
    /// Regenerated from cellulose or protein.
    Regenerated,
    /// Made from oil or starch.
    Synthetic,
}

impl Family {
    /// The word used here.
    pub fn name(self) -> &'static str {
        match self {
            Self::Animal => "animal",
            Self::Plant => "plant",
            Self::Regenerated => "regenerated",
            Self::Synthetic => "synthetic",
        }
    }
}

/// One fibre, or all of a family.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FibreGroup {
    /// One fibre.
    Fibre(&'static Fibre),
    /// All fibres of a family.
    Family(Family),
}

impl FibreGroup {
    /// Whether a fibre belongs to it.
    pub fn holds(self, fibre: &Fibre) -> bool {
        match self {
            Self::Fibre(one) => one == fibre,
            Self::Family(family) => family == fibre.family,
        }
    }

    /// The word used here.
    pub fn name(self) -> &'static str {
        match self {
            Self::Fibre(fibre) => fibre.name,
            Self::Family(family) => family.name(),
        }
    }
}

/// One fibre of the table; two are the same when their names are.
#[derive(Debug)]
pub struct Fibre {
    /// The name used here.
    pub name: &'static str,
    /// Names that mean the same fibre here.
    pub other_names: &'static [&'static str],
    /// Its family.
    pub family: Family,
    /// Density at 65 % r.h., g/cm3.
    pub density: Figure,
    /// Breaking extension, %.
    pub extension: Option<Figure>,
    /// Recovery from 5 % strain, %.
    pub recovery: Option<Figure>,
    /// Moisture regain at 65 % r.h., %.
    pub regain: Option<Figure>,
    /// Whether it melts or softens and sticks.
    pub melts: bool,
    /// What that rests on.
    pub melts_basis: Basis,
}

impl PartialEq for Fibre {
    fn eq(&self, other: &Self) -> bool {
        self.name == other.name
    }
}

impl Eq for Fibre {}

/// The fibre of this name or other name, whatever its case.
pub fn fibre(name: &str) -> Option<&'static Fibre> {
    let name = name.trim().to_lowercase();
    FIBRES
        .iter()
        .find(|fibre| fibre.name == name || fibre.other_names.contains(&name.as_str()))
}

/// A figure that was read in this text.
const fn published(value: f64, source: &'static str) -> Figure {
    Figure {
        value,
        basis: Basis::Published(source),
    }
}

/// The figure of this fibre, for one of which none was found.
const fn proxy(value: f64, fibre: &'static str) -> Figure {
    Figure {
        value,
        basis: Basis::Proxy(fibre),
    }
}

/// A figure of common practice.
const fn practice(value: f64) -> Figure {
    Figure {
        value,
        basis: Basis::Practice,
    }
}

/// A figure from memory.
const fn memory(value: f64) -> Figure {
    Figure {
        value,
        basis: Basis::Memory,
    }
}

/// Every fibre that the program knows.
pub const FIBRES: &[Fibre] = &[
    Fibre {
        name: "wool",
        other_names: &[
            "merino",
            "lambswool",
            "virgin wool",
            "new wool",
            "shetland wool",
            "bluefaced leicester",
        ],
        family: Family::Animal,
        density: published(1.31, MH_5_1),
        extension: Some(published(42.5, MH_13_1)),
        recovery: Some(published(69.0, NRC_11_1)),
        regain: Some(published(16.0, NRC_11_1)),
        melts: false,
        melts_basis: Basis::Published(NRC_11_1),
    },
    Fibre {
        name: "mohair",
        other_names: &["kid mohair"],
        family: Family::Animal,
        density: published(1.32, COOK_MOHAIR),
        extension: Some(published(30.0, COOK_MOHAIR)),
        recovery: Some(practice(60.0)),
        regain: Some(published(13.0, COOK_MOHAIR)),
        melts: false,
        melts_basis: Basis::Proxy("wool"),
    },
    Fibre {
        name: "alpaca",
        other_names: &["baby alpaca", "suri alpaca"],
        family: Family::Animal,
        density: proxy(1.31, "wool"),
        extension: Some(published(41.5, MCGREGOR)),
        recovery: Some(practice(50.0)),
        regain: Some(proxy(16.0, "wool")),
        melts: false,
        melts_basis: Basis::Proxy("wool"),
    },
    Fibre {
        name: "cashmere",
        other_names: &["kashmir"],
        family: Family::Animal,
        density: proxy(1.31, "wool"),
        extension: Some(proxy(42.5, "wool")),
        recovery: Some(practice(55.0)),
        regain: Some(proxy(16.0, "wool")),
        melts: false,
        melts_basis: Basis::Proxy("wool"),
    },
    Fibre {
        name: "angora",
        other_names: &["angora rabbit"],
        family: Family::Animal,
        density: memory(1.15),
        extension: Some(published(28.8, MURMU)),
        recovery: Some(practice(45.0)),
        regain: Some(published(11.6, MURMU)),
        melts: false,
        melts_basis: Basis::Proxy("wool"),
    },
    Fibre {
        name: "yak",
        other_names: &[],
        family: Family::Animal,
        density: proxy(1.31, "wool"),
        extension: Some(published(42.7, MCGREGOR)),
        recovery: Some(practice(55.0)),
        regain: Some(proxy(16.0, "wool")),
        melts: false,
        melts_basis: Basis::Proxy("wool"),
    },
    Fibre {
        name: "camel",
        other_names: &["camel hair"],
        family: Family::Animal,
        density: proxy(1.31, "wool"),
        extension: Some(published(47.8, MCGREGOR)),
        recovery: Some(practice(55.0)),
        regain: Some(proxy(16.0, "wool")),
        melts: false,
        melts_basis: Basis::Proxy("wool"),
    },
    Fibre {
        name: "llama",
        other_names: &[],
        family: Family::Animal,
        density: proxy(1.31, "wool"),
        extension: Some(proxy(42.5, "wool")),
        recovery: Some(practice(50.0)),
        regain: Some(proxy(16.0, "wool")),
        melts: false,
        melts_basis: Basis::Proxy("wool"),
    },
    Fibre {
        name: "silk",
        other_names: &["mulberry silk", "tussah silk"],
        family: Family::Animal,
        density: published(1.34, MH_5_1),
        extension: Some(published(23.4, MH_13_1)),
        recovery: Some(published(52.0, NRC_11_1)),
        regain: Some(published(10.0, NRC_11_1)),
        melts: false,
        melts_basis: Basis::Published(NRC_11_1),
    },
    Fibre {
        name: "cotton",
        other_names: &["pima cotton", "mercerised cotton"],
        family: Family::Plant,
        density: published(1.52, MH_5_1),
        extension: Some(published(7.1, MH_13_1)),
        recovery: Some(published(52.0, NRC_11_1)),
        regain: Some(published(7.5, NRC_11_1)),
        melts: false,
        melts_basis: Basis::Published(NRC_11_1),
    },
    Fibre {
        name: "linen",
        other_names: &["flax"],
        family: Family::Plant,
        density: published(1.45, REVIEW_DENSITY),
        extension: Some(published(3.0, MH_13_1)),
        recovery: Some(practice(45.0)),
        regain: Some(published(7.0, REVIEW_REGAIN)),
        melts: false,
        melts_basis: Basis::Practice,
    },
    Fibre {
        name: "hemp",
        other_names: &[],
        family: Family::Plant,
        density: published(1.48, REVIEW_DENSITY),
        extension: Some(published(2.2, MH_13_1)),
        recovery: Some(practice(45.0)),
        regain: Some(published(8.0, REVIEW_REGAIN)),
        melts: false,
        melts_basis: Basis::Practice,
    },
    Fibre {
        name: "ramie",
        other_names: &[],
        family: Family::Plant,
        density: published(1.50, REVIEW_DENSITY),
        extension: Some(published(3.7, MH_13_1)),
        recovery: Some(practice(45.0)),
        regain: Some(memory(8.0)),
        melts: false,
        melts_basis: Basis::Practice,
    },
    Fibre {
        name: "jute",
        other_names: &[],
        family: Family::Plant,
        density: published(1.38, REVIEW_DENSITY),
        extension: Some(published(1.8, MH_13_1)),
        recovery: Some(practice(45.0)),
        regain: Some(published(12.0, REVIEW_REGAIN)),
        melts: false,
        melts_basis: Basis::Practice,
    },
    Fibre {
        name: "viscose",
        other_names: &[
            "rayon",
            "bamboo viscose",
            "rayon from bamboo",
            "viscose from bamboo",
        ],
        family: Family::Regenerated,
        density: published(1.49, MH_5_1),
        extension: Some(published(15.7, MH_13_1)),
        recovery: Some(published(32.0, NRC_11_1)),
        regain: Some(published(11.0, NRC_11_1)),
        melts: false,
        melts_basis: Basis::Published(NRC_11_1),
    },
    Fibre {
        name: "modal",
        other_names: &[],
        family: Family::Regenerated,
        density: published(1.53, COOK_MODAL),
        extension: Some(published(10.0, COOK_MODAL)),
        recovery: Some(practice(40.0)),
        regain: Some(memory(12.0)),
        melts: false,
        melts_basis: Basis::Practice,
    },
    Fibre {
        name: "lyocell",
        other_names: &[],
        family: Family::Regenerated,
        density: memory(1.51),
        extension: Some(memory(14.0)),
        recovery: Some(practice(40.0)),
        regain: Some(memory(11.0)),
        melts: false,
        melts_basis: Basis::Practice,
    },
    Fibre {
        name: "acetate",
        other_names: &[],
        family: Family::Regenerated,
        density: published(1.32, MH_5_1),
        extension: Some(published(23.7, MH_13_1)),
        recovery: None,
        regain: Some(memory(6.5)),
        melts: true,
        melts_basis: Basis::Practice,
    },
    Fibre {
        name: "protein",
        other_names: &["azlon", "milk protein", "soy protein", "casein"],
        family: Family::Regenerated,
        density: published(1.30, MH_5_1),
        extension: Some(published(63.0, MH_13_2)),
        recovery: None,
        regain: Some(memory(14.0)),
        melts: false,
        melts_basis: Basis::Memory,
    },
    Fibre {
        name: "acrylic",
        other_names: &[],
        family: Family::Synthetic,
        density: published(1.19, MH_5_1),
        extension: Some(published(25.0, MH_13_2)),
        recovery: Some(published(50.0, NRC_11_1)),
        regain: Some(published(1.5, NRC_11_1)),
        melts: true,
        melts_basis: Basis::Practice,
    },
    Fibre {
        name: "modacrylic",
        other_names: &[],
        family: Family::Synthetic,
        density: published(1.29, MH_5_1),
        extension: Some(published(34.0, MH_13_2)),
        recovery: None,
        regain: Some(memory(0.8)),
        melts: true,
        melts_basis: Basis::Practice,
    },
    Fibre {
        name: "nylon",
        other_names: &["polyamide"],
        family: Family::Synthetic,
        density: published(1.14, MH_5_1),
        extension: Some(published(43.0, MH_13_2)),
        recovery: Some(published(89.0, NRC_11_1)),
        regain: Some(published(4.1, NRC_11_1)),
        melts: true,
        melts_basis: Basis::Published(PLA_MAKER),
    },
    Fibre {
        name: "polyester",
        other_names: &[],
        family: Family::Synthetic,
        density: published(1.39, MH_5_1),
        extension: Some(published(37.0, MH_13_2)),
        recovery: Some(published(65.0, NRC_11_1)),
        regain: Some(published(0.4, NRC_11_1)),
        melts: true,
        melts_basis: Basis::Published(PLA_MAKER),
    },
    Fibre {
        name: "polypropylene",
        other_names: &["olefin"],
        family: Family::Synthetic,
        density: published(0.91, MH_5_1),
        extension: None,
        recovery: None,
        regain: Some(memory(0.0)),
        melts: true,
        melts_basis: Basis::Memory,
    },
    Fibre {
        name: "polylactide",
        other_names: &["pla"],
        family: Family::Synthetic,
        density: published(1.25, MH_5_1),
        extension: None,
        recovery: Some(published(93.0, PLA_MAKER)),
        regain: Some(published(0.5, NRC_11_1)),
        melts: true,
        melts_basis: Basis::Published(PLA_MAKER),
    },
    Fibre {
        name: "elastane",
        other_names: &["spandex"],
        family: Family::Synthetic,
        density: memory(1.20),
        extension: Some(memory(500.0)),
        recovery: Some(memory(99.0)),
        regain: Some(memory(1.0)),
        melts: true,
        melts_basis: Basis::Memory,
    },
    Fibre {
        name: "rubber",
        other_names: &["elastodiene", "natural rubber", "latex"],
        family: Family::Synthetic,
        density: memory(0.93),
        extension: Some(memory(700.0)),
        recovery: Some(memory(98.0)),
        regain: Some(memory(0.0)),
        melts: true,
        melts_basis: Basis::Memory,
    },
];
