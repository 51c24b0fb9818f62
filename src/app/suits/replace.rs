//! What could replace a yarn in every pattern that calls for it.

use super::{ReplaceRequest, asked_of, keep_assumed};
use crate::{
    app::{
        AppError, FaultKind, FieldNote, InputReader, QuestionRequest, Records, Source,
        candidate_search::CandidateSource,
        input::filled,
        question::{
            ResolvedQuestion, Role,
            answer::{CandidateAnswer, Working},
            lookup::yarn_in,
            wishes::LeftOutReason,
        },
    },
    record::{Pattern, Yarn},
    store::Reader,
    words::{did_you_mean, fold, lower_name},
};

/// How many yarns were left out, by reason.
pub type LeftOutCounts = Vec<(LeftOutReason, u64)>;

/// Answer to [`replace`].
#[derive(Debug, Clone)]
pub struct ReplaceAnswer {
    /// The yarn that is to be replaced, as people call it.
    pub yarn: String,
    /// Each yarn of a pattern that is this one, patterns by name.
    pub replaced: Vec<Replacement>,
    /// What was assumed.
    pub working: Vec<Working>,
    /// What was noticed in what was typed.
    pub notes: Vec<FieldNote>,
}

/// What could replace it in one place.
#[derive(Debug, Clone)]
pub struct Replacement {
    /// The pattern.
    pub pattern: String,
    /// Key of its yarn.
    pub key: String,
    /// Whether the pattern has no other yarn.
    pub is_only: bool,
    /// The best of the stash that should or could work.
    pub from_stash: Vec<CandidateAnswer>,
    /// The best of the other yarns, none of them discontinued.
    pub others: Vec<CandidateAnswer>,
    /// How many yarns were left out, by reason.
    pub left_out: LeftOutCounts,
}

impl Replacement {
    /// All of them, the stash first.
    pub fn all(&self) -> impl Iterator<Item = &CandidateAnswer> {
        self.from_stash.iter().chain(&self.others)
    }
}

/// The best of the stash and of all yarns for each yarn of a pattern that is this one.
pub fn replace(records: &Records, request: &ReplaceRequest) -> Result<ReplaceAnswer, AppError> {
    let mut input = InputReader::default();
    let top = input.whole("top", request.top.as_deref(), 1..=100u16);
    let Some(text) = filled(request.yarn.as_deref()) else {
        input.fault("yarn", FaultKind::Missing);
        return input.checked(None);
    };
    input.check()?;
    let reader = records.store()?.reader()?;
    let patterns = reader.patterns()?;
    let named = Named::find(&reader, text, patterns.iter().map(|kept| &kept.record))?;
    let search = Search {
        reader: &reader,
        named: &named,
        with_reserved: request.terms.with_reserved,
        top: top.map_or(USUAL, usize::from),
    };
    let question = QuestionRequest {
        terms: request.terms.clone(),
        fibres: request.fibres.clone(),
        wishes: request.wishes.clone(),
        ..QuestionRequest::default()
    };
    let (mut replaced, mut working) = (Vec::new(), Vec::new());
    for pattern in &patterns {
        if !pattern
            .record
            .yarns
            .iter()
            .any(|yarn| named.is_called(yarn.called.as_deref()))
        {
            continue;
        }
        let asked = asked_of(pattern, &question)?;
        keep_assumed(&mut working, &asked);
        let is_it = |role: &Role| named.is_called(role.called.as_deref());
        for role in asked.roles.iter().flat_map(Role::each_alone) {
            if role.each_yarn().iter().any(is_it) {
                replaced.push(search.replacement(&asked, &role)?);
            }
        }
    }
    Ok(ReplaceAnswer {
        yarn: named.title,
        replaced,
        working,
        notes: input.notes,
    })
}

/// How many of the best are shown where nothing else is said.
const USUAL: usize = 3;

/// The yarn that is to be replaced.
struct Named {
    title: String,
    /// What patterns may call it, folded.
    names: Vec<String>,
}

impl Named {
    /// A yarn of the records, else one that a pattern calls for.
    fn find<'p>(
        reader: &Reader<'_>,
        text: &str,
        patterns: impl Iterator<Item = &'p Pattern>,
    ) -> Result<Self, AppError> {
        let unknown = match yarn_in(reader, text) {
            Ok(hit) => return Ok(Self::of(&hit.yarn.record)),
            Err(error @ AppError::Unknown { .. }) => error,
            Err(other) => return Err(other),
        };
        let yarns = patterns.flat_map(|pattern| &pattern.yarns);
        let called: Vec<&str> = yarns.filter_map(|yarn| yarn.called.as_deref()).collect();
        let is_it = |called: &&&str| names_of(called).contains(&fold(text));
        if let Some(called) = called.iter().find(is_it) {
            return Ok(Self {
                title: (*called).to_owned(),
                names: names_of(called),
            });
        }
        Err(with_near(unknown, text, called))
    }

    fn of(yarn: &Yarn) -> Self {
        let title = yarn.title();
        Self {
            names: vec![fold(&title), fold(yarn.name.as_str())],
            title,
        }
    }

    fn is_called(&self, called: Option<&str>) -> bool {
        called.is_some_and(|called| self.names.contains(&fold(called)))
    }

    /// Names that differ only in signs are those of two yarns.
    fn is(&self, yarn: &Yarn) -> bool {
        lower_name(&self.title) == lower_name(&yarn.title())
    }
}

/// The whole, and what stands behind its maker.
fn names_of(called: &str) -> Vec<String> {
    let name = called.split_once(", ").map(|(_, name)| fold(name));
    std::iter::once(fold(called)).chain(name).collect()
}

/// The refusal, with names that patterns call for where the records have none like it.
fn with_near(unknown: AppError, text: &str, called: Vec<&str>) -> AppError {
    match unknown {
        AppError::Unknown {
            what,
            name,
            near,
            all,
        } if near.is_empty() => {
            let mut near = did_you_mean(text, called);
            near.dedup();
            AppError::Unknown {
                what,
                name,
                near: near.into_iter().map(str::to_owned).collect(),
                all,
            }
        }
        other => other,
    }
}

struct Search<'a> {
    reader: &'a Reader<'a>,
    named: &'a Named,
    with_reserved: bool,
    top: usize,
}

impl Search<'_> {
    fn replacement(&self, asked: &ResolvedQuestion, role: &Role) -> Result<Replacement, AppError> {
        let (from_stash, _) = self.best(asked, role, Source::Stash, self.top)?;
        let wanted = self.top + from_stash.len();
        let (mut others, left_out) = self.best(asked, role, Source::Catalogue, wanted)?;
        others.retain(|found| {
            let is_same = |known: &CandidateAnswer| known.candidate.title == found.candidate.title;
            !from_stash.iter().any(is_same)
        });
        others.truncate(self.top);
        Ok(Replacement {
            pattern: asked.title.clone(),
            key: role.key.clone(),
            is_only: asked.roles.len() == 1 && role.ends.is_empty(),
            from_stash,
            others,
            left_out,
        })
    }

    /// The best that should or could work, and how many were left out by reason; of all
    /// yarns, those that can still be bought.
    fn best(
        &self,
        asked: &ResolvedQuestion,
        role: &Role,
        from: Source,
        top: usize,
    ) -> Result<(Vec<CandidateAnswer>, LeftOutCounts), AppError> {
        let among = CandidateSource {
            reader: self.reader,
            from,
            with_reserved: self.with_reserved,
            top,
            meant: &|yarn| !self.named.is(yarn) && (from == Source::Stash || !yarn.discontinued),
        };
        let (answers, left_out) = among.best_usable(asked, role)?;
        let left_out = match left_out.working() {
            Some(Working::LeftOut(counts)) => counts,
            _ => Vec::new(),
        };
        Ok((answers, left_out))
    }
}
