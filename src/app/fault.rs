//! What is wrong with a request: each fault with its field, all at once. How it
//! is said, and what the field is called, is left to `report`.

use super::LastFault;
use crate::{files::CellFault, label::reading::ReadError, measure::NeedleSize};

/// What is wrong with one field.
#[derive(Debug, Clone, PartialEq)]
pub struct Fault {
    /// The field, as the request names it; empty where the whole is at fault.
    pub field: String,
    /// What is wrong.
    pub kind: FaultKind,
}

/// The kinds of fault. Other fields are named as the request names them.
#[derive(Debug, Clone, PartialEq)]
pub enum FaultKind {
    /// A text that is not read.
    Unread(ReadError),
    /// A text that is not read, of a field of a record.
    Cell(CellFault),
    /// A band that says nothing of a yarn.
    SaysNothing(String),
    /// Nothing is written where something must be.
    Missing,
    /// The same, with what may be written.
    MissingAs(String),
    /// None of the words that may stand here.
    NotOneOf {
        /// What was given.
        given: String,
        /// What may be given.
        allowed: Vec<String>,
    },
    /// A number outside of what is possible.
    OutOfRange {
        /// What was given.
        given: String,
        /// The least.
        low: f64,
        /// The most.
        high: f64,
    },
    /// No whole number within a range.
    NotWhole {
        /// What was given.
        given: String,
        /// The least.
        low: u16,
        /// The most.
        high: u16,
    },
    /// Stands more often than one question may ask for.
    TooMany {
        /// How often it stands.
        given: usize,
        /// How often it may.
        most: usize,
    },
    /// More pieces than there are of their kind in a size, or none.
    TooManyPieces {
        /// What was given.
        given: String,
        /// How many there are.
        most: u32,
    },
    /// What only questions about a yarn for a pattern may lack.
    Question(QuestionFault),
    /// One of these fields, or several, must be filled.
    OneNeeded(&'static [&'static str]),
    /// The fields of one of these groups, or of several, must be filled.
    OneGroupNeeded(&'static [&'static [&'static str]]),
    /// As much as another field, or more, so that nothing is left.
    NothingLeft(&'static str),
    /// Says nothing without another field.
    OnlyWith(&'static str),
    /// Says nothing unless another field holds one of these.
    OnlyWithChoice {
        /// The other field.
        field: &'static str,
        /// What it must hold.
        values: Vec<&'static str>,
    },
    /// Nothing is written where another field is filled.
    NeededWith(&'static str),
    /// Nothing is written where another field holds this.
    NeededFor {
        /// The other field.
        field: &'static str,
        /// What it holds.
        value: &'static str,
    },
    /// Every piece is done, or nothing is left of the yarn that is to knit.
    NothingToKnit,
    /// A count without a line.
    NothingCounted,
    /// A line of a count that names no lot or no amount.
    CountedLine {
        /// Its number, from 1.
        line: u64,
        /// What stands there.
        typed: String,
        /// What is wrong.
        why: String,
    },
    /// A lot is at this place already.
    SamePlace(String),
    /// Cannot stand beside another field.
    NotWith(&'static str),
    /// A put-up that gives no length per mass.
    NoLengthPerMass,
    /// One of the projects in the records.
    Project(ProjectFault),
    /// One that only `last` has.
    Last(LastFault),
    /// One of a text or a file.
    Text(TextFault),
    /// What only questions about gauges may lack.
    Gauge(GaugeFault),
    /// A put-up without the length of a skein.
    NoSkeinLength,
    /// Nothing tells the length of a need that is given as a mass.
    MassWithoutGrist {
        /// The field in which a weight class would allow an estimate.
        class: &'static str,
    },
    /// A form that the program did not make.
    Form(String),
}

/// What is wrong with a question about a yarn for a pattern.
#[derive(Debug, Clone, PartialEq)]
pub enum QuestionFault {
    /// Exactly one of these two fields must be filled.
    OneOfTwo([&'static str; 2]),
    /// A share that is not sure, or too sure.
    NotSure(f64),
    /// An own use that lies too far from stated needs.
    OwnUseTooFar,
    /// A weight that is not read; the criteria.
    Weight {
        /// What was given.
        given: String,
        /// What may be weighed.
        criteria: Vec<&'static str>,
    },
    /// An amount in hand of which nobody can say how long it is.
    HaveWithoutLength(String),
    /// An amount in hand where several yarns are held together.
    HaveOfSeveral,
    /// A yarn that the pattern does not have.
    NoSuchRole {
        /// The pattern.
        pattern: String,
        /// What was given.
        given: String,
        /// The keys that it has.
        keys: Vec<String>,
    },
    /// A yarn for one of several yarns of a pattern, without the key of one.
    YarnForNoRole {
        /// The pattern.
        pattern: String,
        /// What was given.
        given: String,
        /// The keys that it has.
        keys: Vec<String>,
    },
    /// A pattern of several yarns without the key of one.
    RoleNeeded {
        /// The pattern.
        pattern: String,
        /// The keys that it has.
        keys: Vec<String>,
    },
    /// A pattern of several sizes without one; the sizes.
    SizeNeeded {
        /// The pattern.
        pattern: String,
        /// Its sizes.
        sizes: Vec<String>,
    },
    /// A text that says nothing of a yarn.
    NoYarn(String),
    /// Three yarns of the whole catalogue: threes are looked for in the stash alone.
    ThreesOfStash,
    /// Yarns held together for a pattern of which nobody knows the length per mass, or
    /// where that does not count.
    TogetherNeedsLength,
}

impl From<QuestionFault> for FaultKind {
    fn from(fault: QuestionFault) -> Self {
        Self::Question(fault)
    }
}

/// What is wrong with the projects in the records.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ProjectFault {
    /// There are none, and no pattern is named.
    None,
    /// There are as many as there may be.
    TooMany(usize),
}

impl From<ProjectFault> for FaultKind {
    fn from(fault: ProjectFault) -> Self {
        Self::Project(fault)
    }
}

/// What is wrong with a text, its lines, or the file that follows from it.
#[derive(Debug, Clone, PartialEq)]
pub enum TextFault {
    /// A name that stands twice where each stands once.
    RepeatedName(String),
    /// Neither one line for all sizes nor a line for each.
    LinesForSizes {
        /// The lines.
        lines: usize,
        /// The sizes.
        sizes: usize,
    },
    /// What the file that follows from the fields refuses.
    InFile(CellFault),
    /// Neither a text nor a kept record to look at.
    NothingToRead,
    /// A pattern file where a sheet belongs.
    PatternFile(String),
}

/// What is wrong with a gauge.
#[derive(Debug, Clone, PartialEq)]
pub enum GaugeFault {
    /// A gauge that does not say over what length.
    OverNoLength(String),
    /// A gauge without rows, where rows are asked about.
    WithoutRows(String),
    /// No own gauge is known.
    Unknown {
        /// The field of a yarn whose swatch is enough.
        swatch_of: &'static str,
    },
    /// No swatch of the yarn is kept.
    NoSwatch {
        /// The yarn.
        yarn: String,
        /// Whether that is several held together, which have no label.
        is_strand: bool,
        /// The needle that was asked for.
        needle: Option<NeedleSize>,
    },
    /// A pattern that states no gauge.
    NotInPattern(String),
}

impl From<GaugeFault> for FaultKind {
    fn from(fault: GaugeFault) -> Self {
        Self::Gauge(fault)
    }
}

impl From<LastFault> for FaultKind {
    fn from(fault: LastFault) -> Self {
        Self::Last(fault)
    }
}

impl From<TextFault> for FaultKind {
    fn from(fault: TextFault) -> Self {
        Self::Text(fault)
    }
}

impl Fault {
    /// A fault of a field.
    pub fn new(field: &str, kind: impl Into<FaultKind>) -> Self {
        Self {
            field: field.to_owned(),
            kind: kind.into(),
        }
    }
}
