//! A pattern file or a materials sheet, looked through for what contradicts
//! itself, its pattern or the records.

mod of_line;
mod of_pattern;
mod of_sheet;
mod request;

pub use request::LintRequest;

use super::{AppError, Fault, FaultKind, Records, SourceFile, TextFault};
use crate::{
    files::{
        CellFault, FileError,
        pattern_file::{read_pattern, write_pattern},
        sheet_text::{UnitPair, read_sheet},
    },
    measure::{Gauge, Length},
    quantity::Misfit,
    record::{Name, Pattern},
    words::fold,
};
use std::{
    collections::{BTreeSet, HashMap, HashSet},
    iter,
};

/// Answer to [`lint`].
#[derive(Debug, Clone)]
pub struct LintAnswer {
    /// What was looked through.
    pub subject: LintSubject,
    /// What was found, in the order of the lines.
    pub findings: Vec<Finding>,
    /// Findings beyond those that are told.
    pub more: usize,
}

/// What was looked through.
#[derive(Debug, Clone)]
pub enum LintSubject {
    /// A kept pattern.
    KeptPattern(Box<Pattern>),
    /// A pattern file.
    PatternFile {
        /// Its name.
        file: String,
        /// What it holds, where it can be read.
        pattern: Option<Box<Pattern>>,
    },
    /// A sheet.
    Sheet {
        /// Its name.
        file: String,
        /// The pattern that it was held against.
        against: Option<Name>,
    },
}

/// One thing that does not agree.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// The line of the file, from 1.
    pub line: Option<u64>,
    /// What disagrees, with its figures.
    pub kind: FindingKind,
}

/// The kinds of finding.
#[derive(Debug, Clone, PartialEq)]
pub enum FindingKind {
    /// A key of a pattern file that is not read.
    Unreadable(CellFault),
    /// Two units that state one thing in two ways.
    UnitsDisagree {
        /// The key of a pattern file; empty in a sheet.
        key: String,
        /// The two.
        pair: UnitPair,
    },
    /// Figures of the pattern that contradict each other.
    Misfit(Misfit),
    /// A yarn of the pattern that is discontinued.
    CalledNoLongerMade {
        /// Key of the yarn.
        yarn: Name,
        /// What the pattern calls it.
        called: String,
        /// The kept yarn.
        title: String,
    },
    /// A list of a sheet with more or fewer values than there are sizes.
    SizeMissing {
        /// The list, as written.
        stated: String,
        /// Values in it.
        values: usize,
        /// Sizes that there are, where that is known.
        sizes: Option<usize>,
    },
    /// Sizes of the pattern that a line of sizes leaves out.
    SizeNotNamed {
        /// Their names.
        missing: Vec<String>,
    },
    /// Shares of fibres that make no whole.
    Shares {
        /// The fibres, as written.
        given: String,
        /// What the shares sum to, %.
        sum: f64,
    },
    /// A number and millimetres that name different needles.
    NeedlesDisagree {
        /// Both, as written.
        given: String,
        /// What they mean.
        why: String,
    },
    /// A gauge that is not the pattern's.
    OtherGauge {
        /// As written.
        given: String,
        /// That of the pattern.
        pattern: Gauge,
    },
    /// Lengths of yarn that are not the needs of the pattern.
    OtherNeed {
        /// As written.
        given: String,
        /// Key of the yarn.
        yarn: Name,
        /// What each size of the pattern needs, m.
        needs: Vec<f64>,
    },
    /// A list of a sheet in which a larger size takes no more.
    NotGrowing {
        /// The list, as written.
        stated: String,
    },
    /// Skeins of a sheet that hold less than a size takes.
    NotCovered {
        /// The size, from 1.
        size: usize,
        /// Skeins that are stated.
        skeins: f64,
        /// Length of one.
        skein: Length,
        /// What they hold.
        held: Length,
        /// What the size takes.
        need: Length,
    },
    /// A line of a sheet that names a yarn that is discontinued.
    NamedNoLongerMade {
        /// The kept yarn.
        title: String,
    },
}

/// The most findings of a sheet that are told; the rest is counted.
const MOST_FINDINGS: usize = 200;

/// Everything that was found, in the order of the lines.
pub fn lint(records: &Records, request: &LintRequest) -> Result<LintAnswer, AppError> {
    let named = request.pattern.as_deref();
    let pattern = named.map(|name| records.pattern_named(name)).transpose()?;
    let pattern = pattern.map(|kept| kept.record);
    let discontinued = no_longer_made(records)?;
    let Some(file) = &request.file else {
        let pattern =
            pattern.ok_or_else(|| refused("text", FaultKind::Text(TextFault::NothingToRead)))?;
        return Ok(LintAnswer {
            findings: of_kept(&pattern, &discontinued),
            more: 0,
            subject: LintSubject::KeptPattern(Box::new(pattern)),
        });
    };
    let called = || is_called_pattern(&file.name);
    if request.is_pattern.unwrap_or_else(called) {
        if pattern.is_some() {
            let kind = FaultKind::Text(TextFault::PatternFile(file.name.clone()));
            return Err(refused("pattern", kind));
        }
        return of_file(file, &discontinued);
    }
    let lines = read_sheet(&file.name, &file.bytes)?;
    let mut findings = of_sheet::findings(&lines, pattern.as_ref(), &discontinued);
    let more = findings.len().saturating_sub(MOST_FINDINGS);
    findings.truncate(MOST_FINDINGS);
    Ok(LintAnswer {
        findings,
        more,
        subject: LintSubject::Sheet {
            file: file.name.clone(),
            against: pattern.map(|pattern| pattern.name),
        },
    })
}

fn refused(field: &str, kind: FaultKind) -> AppError {
    AppError::Faults(vec![Fault::new(field, kind)])
}

fn is_called_pattern(file: &str) -> bool {
    std::path::Path::new(file)
        .extension()
        .is_some_and(|end| end.eq_ignore_ascii_case("toml"))
}

/// A pattern file; one that is refused is all that is wrong with it.
fn of_file(file: &SourceFile, discontinued: &DiscontinuedYarns) -> Result<LintAnswer, AppError> {
    let (pattern, findings, more) = match read_pattern(&file.name, &file.bytes) {
        Ok(reading) => {
            let text = String::from_utf8_lossy(&file.bytes);
            let findings = of_pattern::findings(&reading.pattern, &text, discontinued);
            (Some(Box::new(reading.pattern)), findings, 0)
        }
        Err(FileError::Faults { faults, more, .. }) => {
            let unreadable = |fault: CellFault| Finding {
                line: fault.place.map(|place| place.line),
                kind: FindingKind::Unreadable(fault),
            };
            (None, faults.into_iter().map(unreadable).collect(), more)
        }
        Err(other) => return Err(other.into()),
    };
    let file = file.name.clone();
    Ok(LintAnswer {
        subject: LintSubject::PatternFile { file, pattern },
        findings,
        more,
    })
}

/// A kept pattern, as its file would be; lines are left out, since there is none.
fn of_kept(pattern: &Pattern, discontinued: &DiscontinuedYarns) -> Vec<Finding> {
    let text = write_pattern(pattern);
    let mut findings = of_pattern::findings(pattern, &text, discontinued);
    for finding in &mut findings {
        finding.line = None;
    }
    findings
}

/// The kept yarns that are discontinued, by their folded titles, maker and name: a
/// text is looked through once, however many there are.
#[derive(Default)]
pub(super) struct DiscontinuedYarns {
    titles: HashMap<String, String>,
    /// How many words a title has.
    lengths: BTreeSet<usize>,
}

impl DiscontinuedYarns {
    fn insert(&mut self, title: String) {
        let folded = fold(&title);
        self.lengths.insert(folded.split(' ').count());
        self.titles.insert(folded, title);
    }

    /// The titles that a text names, in the order of the text, each once.
    pub(super) fn named_in(&self, text: &str) -> Vec<&str> {
        let mut named = Vec::new();
        if self.titles.is_empty() {
            return named;
        }
        let folded = fold(text);
        let ends = || folded.match_indices(' ').map(|(byte, _)| byte);
        let starts: Vec<usize> = iter::once(0).chain(ends().map(|end| end + 1)).collect();
        let ends: Vec<usize> = ends().chain([folded.len()]).collect();
        for (word, start) in starts.iter().enumerate() {
            let last = self
                .lengths
                .iter()
                .filter_map(|words| ends.get(word + words - 1));
            let found = last.filter_map(|end| self.titles.get(folded.get(*start..*end)?));
            named.extend(found.map(String::as_str));
        }
        let mut told = HashSet::new();
        named.retain(|title| told.insert(*title));
        named
    }
}

fn no_longer_made(records: &Records) -> Result<DiscontinuedYarns, AppError> {
    let mut discontinued = DiscontinuedYarns::default();
    let Some(store) = records.maybe() else {
        return Ok(discontinued);
    };
    store.reader()?.yarns(|yarn| {
        if yarn.record.discontinued {
            discontinued.insert(yarn.record.title());
        }
        Ok::<(), AppError>(())
    })?;
    Ok(discontinued)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn yarns_are_found_by_their_whole_titles_wherever_they_stand() {
        let mut yarns = DiscontinuedYarns::default();
        assert!(yarns.named_in("anything").is_empty());
        for title in ["Quenby, Moor", "Quenby, Moor DK", "Orrin, Férn"] {
            yarns.insert(title.to_owned());
        }
        let named = yarns.named_in("use Quenby Moor (Quenby moor!) or ORRIN fern");
        assert_eq!(named, ["Quenby, Moor", "Orrin, Férn"]);
        assert_eq!(yarns.named_in("Quenby Moorland, Fern"), Vec::<&str>::new());
        assert_eq!(
            yarns.named_in("Quenby Moor DK"),
            ["Quenby, Moor", "Quenby, Moor DK"]
        );
    }
}
