//! The best candidates of the catalogue or of the stash.

mod map;
mod request;

use map::MAPPED;
pub use map::{MapPlace, MapYarn, YarnMap};
pub use request::{BestRequest, FindRequest, Source};

use super::{
    AppError, FieldNote, InputReader, QuestionFault, QuestionRequest, Records,
    candidate_search::{
        CandidateSource, LeftOut,
        held_together::{Beside, StrandQuestion},
    },
    question::{
        ResolvedQuestion, Role,
        answer::{CandidateAnswer, Working, best_plan},
        cover::{Allotted, SizeCover},
        resolve,
    },
};
use crate::{
    matching::{Criterion, Judgement, Requirement},
    measure::{GristTolerance, Ratio},
    record::{Id, Yarn},
};

/// Answer to [`find`] for one role.
#[derive(Debug, Clone)]
pub struct FindAnswer {
    /// The pattern, as people call it.
    pub pattern: String,
    /// Key of the role that was asked about.
    pub role: String,
    /// What that role wants.
    pub wanted: Requirement,
    /// Where candidates come from.
    pub source: Source,
    /// Tolerance on grist.
    pub tolerance: GristTolerance,
    /// The size that the skeins are for; all sizes where it is `None`.
    pub size: Option<String>,
    /// How many sizes there are.
    pub sizes: usize,
    /// Margin bought beyond the need.
    pub margin: Ratio,
    /// How many yarns are held together as one strand.
    pub together: usize,
    /// How many yarns were judged in full; of strands how many yarns they may hold.
    pub judged: u64,
    /// How many more there are, which lie too far off for a place here.
    pub passed_over: u64,
    /// The best, in order.
    pub candidates: Vec<CandidateAnswer>,
    /// Yarns without a length per mass, judged by gauge alone.
    pub without_grist: Vec<CandidateAnswer>,
    /// Where these and others lie, where that was asked for and can be told.
    pub map: Option<YarnMap>,
    /// How the answer was reached.
    pub working: Vec<Working>,
    /// What was noticed in what was typed.
    pub notes: Vec<FieldNote>,
}

impl FindAnswer {
    /// For each size the best candidate that the stash has enough of is given its
    /// lots, so that the roles after it are not offered the same.
    fn allot(&self, allotted: &mut Allotted) {
        let mut given: Vec<&str> = Vec::new();
        for found in self.candidates.iter().chain(&self.without_grist) {
            let sizes = found.covered_sizes();
            for yarn in found.each_yarn() {
                let first = yarn.cover.iter().filter(|it| {
                    let size = it.size.as_str();
                    sizes.contains(&size) && !given.contains(&size)
                });
                let first: Vec<SizeCover> = first.cloned().collect();
                allotted.give(&self.role, &yarn.candidate.title, &first);
            }
            given.extend(sizes);
        }
    }
}

/// The best candidates for every role that the question asks about.
pub fn find(records: &Records, request: &FindRequest) -> Result<Vec<FindAnswer>, AppError> {
    found(records, request, 0)
}

/// The same, each with a map of these and of others.
pub fn find_with_map(
    records: &Records,
    request: &FindRequest,
) -> Result<Vec<FindAnswer>, AppError> {
    found(records, request, MAPPED)
}

/// The maps of all your yarns around what the pattern with this number wants: one for
/// the keys of all its yarns that want the same.
pub fn pattern_maps(
    records: &Records,
    number: i64,
) -> Result<Vec<(Vec<String>, YarnMap)>, AppError> {
    let pattern = records.store()?.reader()?.pattern(Id::new(number))?.record;
    let question = QuestionRequest::about(pattern.name.as_str());
    let best = BestRequest {
        top: Some("1".to_owned()),
        ..BestRequest::default()
    };
    let mut maps: Vec<(Vec<String>, YarnMap)> = Vec::new();
    for answer in find_with_map(
        records,
        &FindRequest {
            question,
            best,
            together: None,
        },
    )? {
        let Some(map) = answer.map else { continue };
        match maps.iter_mut().find(|(_, known)| *known == map) {
            Some((keys, _)) => keys.push(answer.role),
            None => maps.push((vec![answer.role], map)),
        }
    }
    Ok(maps)
}

/// With a map of `mapped` yarns, where that is not 0.
fn found(
    records: &Records,
    request: &FindRequest,
    mapped: usize,
) -> Result<Vec<FindAnswer>, AppError> {
    let mut input = InputReader::default();
    let (from, top) = request.best.read(&mut input, None);
    let together = request.strands(&mut input, from);
    let pattern = records.pattern_asked(&mut input, &request.question)?;
    let asked = resolve(&mut input, &request.question, pattern.as_ref())?;
    let can_compare = |asked: &ResolvedQuestion| {
        let is_known = |role: &Role| role.wanted.facts.grist().is_some();
        asked.roles.iter().all(is_known) && asked.settings.weights.of(Criterion::Grist) > 0.0
    };
    if together > 1 && !asked.as_ref().is_none_or(can_compare) {
        input.fault("together", QuestionFault::TogetherNeedsLength);
    }
    let asked = input.checked(asked)?;
    // Of yarns that are held together in its place, it is one by itself.
    let asked = match together {
        1 => asked,
        _ => asked.alone(),
    };
    let reader = records.store()?.reader()?;
    let among = CandidateSource {
        reader: &reader,
        from,
        with_reserved: request.question.terms.with_reserved,
        top: top.max(mapped),
        meant: &|yarn| together > 1 || !asked.roles.iter().any(|role| role.holds(&yarn.title())),
    };
    let search = Search {
        among,
        asked: &asked,
        listed: top,
        is_mapped: mapped > 0,
        together,
        notes: &input.notes,
    };
    let (mut answers, mut allotted) = (Vec::new(), Allotted::default());
    for role in &asked.roles {
        let answer = search.answer(role, &allotted)?;
        answer.allot(&mut allotted);
        answers.push(answer);
    }
    Ok(answers)
}

struct Search<'a> {
    among: CandidateSource<'a>,
    asked: &'a ResolvedQuestion,
    /// How many are listed of those that are found.
    listed: usize,
    is_mapped: bool,
    /// How many yarns are held together.
    together: usize,
    notes: &'a [FieldNote],
}

impl Search<'_> {
    fn answer(&self, role: &Role, allotted: &Allotted) -> Result<FindAnswer, AppError> {
        if self.together > 1 {
            return self.strands(role, allotted);
        }
        if let Some(beside) = Beside::of((self.among.reader, self.among.with_reserved), role)? {
            return self.beside(role, &beside, allotted);
        }
        let role = role.alone();
        let mut found = self.among.best(self.asked, role, allotted)?;
        let map = match self.is_mapped {
            true => self.map(&found.with_grist)?,
            false => None,
        };
        found.with_grist.truncate(self.listed);
        found.without_grist.truncate(self.listed);
        let all = self.among.reader.count_yarns()?;
        Ok(FindAnswer {
            judged: found.judged,
            passed_over: match self.among.from {
                Source::Catalogue => all.saturating_sub(found.judged + found.left_out.count()),
                Source::Stash => 0,
            },
            candidates: self.candidates(role, found.with_grist, allotted)?,
            without_grist: self.candidates(role, found.without_grist, allotted)?,
            map,
            ..self.without_yarns(role, found.left_out)
        })
    }

    /// The best in place of one of the yarns that the pattern holds together.
    fn beside(
        &self,
        role: &Role,
        beside: &Beside,
        allotted: &Allotted,
    ) -> Result<FindAnswer, AppError> {
        let question = StrandQuestion {
            asked: self.asked,
            role,
            allotted,
            count: 1,
        };
        let found = self.among.best_beside(question, beside)?;
        let best = found.with_grist.into_iter().take(self.listed);
        let answers = best.map(|found| self.among.answer_beside(question, beside, found));
        let mut answer = self.without_yarns(role, found.left_out);
        answer.working.push(Working::Beside(beside.titles()));
        Ok(FindAnswer {
            judged: found.judged,
            candidates: answers.collect::<Result<_, AppError>>()?,
            ..answer
        })
    }

    /// The best strands of several yarns.
    fn strands(&self, role: &Role, allotted: &Allotted) -> Result<FindAnswer, AppError> {
        let asked = self.asked;
        let mut found = self.among.best_strands(StrandQuestion {
            asked,
            role,
            allotted,
            count: self.together,
        })?;
        found.best.truncate(self.listed);
        let answers = found.best.into_iter().map(|(ids, judgement)| {
            let plan = best_plan(&judgement, 1);
            let strand = self.among.strand(asked, &ids)?;
            CandidateAnswer::new(asked, role, strand, (judgement, plan), allotted)
        });
        Ok(FindAnswer {
            judged: found.yarns,
            candidates: answers.collect::<Result<_, AppError>>()?,
            ..self.without_yarns(role, found.left_out)
        })
    }

    /// What the answer says whatever it finds.
    fn without_yarns(&self, role: &Role, left_out: LeftOut) -> FindAnswer {
        let asked = self.asked;
        let working = self.working(role).into_iter();
        FindAnswer {
            pattern: asked.title.clone(),
            role: role.key.clone(),
            wanted: role.wanted.clone(),
            source: self.among.from,
            tolerance: asked.settings.tolerance,
            size: asked.size.and_then(|place| asked.sizes.get(place).cloned()),
            sizes: asked.sizes.len(),
            margin: asked.margin,
            together: self.together,
            judged: 0,
            passed_over: 0,
            candidates: Vec::new(),
            without_grist: Vec::new(),
            map: None,
            working: working.chain(left_out.working()).collect(),
            notes: self.notes.to_vec(),
        }
    }

    /// How the answer was reached; with the chance, what was counted as uncertain.
    fn working(&self, role: &Role) -> Vec<Working> {
        let asked = self.asked;
        let needs = asked.chosen_sizes();
        let needs = needs.filter_map(|(place, _)| role.needs.get(place));
        let reference = role.wanted.facts.grist();
        let mut metres = needs.filter_map(|need| need.in_metres(reference)?.ok());
        let is_range = metres.any(|need| need.at_least < need.buy_for);
        let basis = asked.confidence.map(|sure| sure.basis_of_all(is_range));
        let working = asked.working.iter().cloned();
        working.chain(basis.map(Working::Chance)).collect()
    }

    fn candidates(
        &self,
        role: &Role,
        found: Vec<(Id<Yarn>, Judgement)>,
        allotted: &Allotted,
    ) -> Result<Vec<CandidateAnswer>, AppError> {
        let answer = |(id, judgement): (Id<Yarn>, Judgement)| {
            let plan = best_plan(&judgement, 1);
            let candidate = self.among.candidate(self.asked, id)?;
            CandidateAnswer::new(self.asked, role, candidate, (judgement, plan), allotted)
        };
        found.into_iter().map(answer).collect()
    }
}
