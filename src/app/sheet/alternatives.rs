//! What could replace the yarn of each role: named, or the best of the records.

use crate::{
    app::{
        AppError, InputReader, Records, Source,
        candidate_search::{CandidateSource, LeftOut, held_together::Beside},
        question::{
            ResolvedQuestion, Role,
            answer::{CandidateAnswer, Remark, Working, best_plan, judged},
            candidate::Candidate,
            cover::Allotted,
            role_yarn::RoleYarn,
        },
    },
    matching::{Judgement, Verdict, rank},
    measure::{Length, Mass},
    record::Yarn,
    words::fold,
};

/// Where alternatives come from: those named, else so many of the best.
pub(super) struct AlternativeSource<'a> {
    pub(super) with: &'a [String],
    pub(super) from: Source,
    pub(super) top: usize,
}

/// One yarn in place of one of the pattern's.
#[derive(Debug, Clone)]
pub struct Alternative {
    /// Key of the role.
    pub key: String,
    /// Mass of one skein of the pattern's yarn.
    pub pattern_put_up: Option<Mass>,
    /// Its length at that mass.
    pub length_at_put_up: Option<Length>,
    /// What it comes to.
    pub answer: CandidateAnswer,
}

/// The alternatives of every role, in the order of roles, and how they were found.
#[derive(Default)]
pub(super) struct Alternatives {
    pub(super) alternatives: Vec<Alternative>,
    pub(super) working: Vec<Working>,
    pub(super) remarks: Vec<Remark>,
}

impl Alternatives {
    fn add(&mut self, role: &Role, answer: CandidateAnswer) -> Result<(), AppError> {
        let put_up = role.alone().wanted.facts.skein_mass();
        let at_put_up = put_up.zip(answer.candidate.facts.grist());
        let at_put_up = at_put_up.map(|(mass, grist)| mass.length_at(grist));
        self.alternatives.push(Alternative {
            key: role.key.clone(),
            pattern_put_up: put_up,
            length_at_put_up: at_put_up.transpose()?,
            answer,
        });
        Ok(())
    }
}

/// Those that are named, else the best.
pub(super) fn alternatives(
    records: &Records,
    reader: &mut InputReader,
    asked: &ResolvedQuestion,
    source: &AlternativeSource<'_>,
) -> Result<Alternatives, AppError> {
    if source.with.is_empty() {
        best(records, asked, source)
    } else {
        named(records, reader, asked, source.with)
    }
}

fn named(
    records: &Records,
    reader: &mut InputReader,
    asked: &ResolvedQuestion,
    with: &[String],
) -> Result<Alternatives, AppError> {
    let mut given: Vec<(Option<usize>, Candidate)> = Vec::new();
    for text in with {
        let named = RoleYarn::read(text, asked);
        given.push((named.role, records.candidate(named.yarn, false, reader)?));
    }
    let mut found = Alternatives::default();
    let records = records.store()?.reader()?;
    for (place, role) in asked.roles.iter().enumerate() {
        let beside = Beside::of((&records, false), role)?;
        let meant = |only: &Option<usize>| only.is_none_or(|only| only == place);
        for (_, candidate) in given.iter().filter(|(only, _)| meant(only)) {
            found.add(role, offered(asked, role, beside.as_ref(), candidate)?)?;
        }
    }
    Ok(found)
}

/// What a yarn comes to, of one that is held together with others with those.
fn offered(
    asked: &ResolvedQuestion,
    role: &Role,
    beside: Option<&Beside>,
    candidate: &Candidate,
) -> Result<CandidateAnswer, AppError> {
    let (role, strand) = match beside {
        Some(beside) => (role, beside.strand(candidate.clone())),
        None => (role.alone(), candidate.clone()),
    };
    let judgement = judged(asked, role, &strand, 1);
    let plan = best_plan(&judgement, 1);
    let none = Allotted::default();
    let answer = CandidateAnswer::new(asked, role, strand, (judgement, plan), &none)?;
    Ok(match beside {
        Some(beside) => beside.own(answer),
        None => answer,
    })
}

fn best(
    records: &Records,
    asked: &ResolvedQuestion,
    source: &AlternativeSource<'_>,
) -> Result<Alternatives, AppError> {
    let reader = records.store()?.reader()?;
    let mut found = Alternatives::default();
    for role in &asked.roles {
        let own = role.alone().called.as_deref().map(fold);
        let meant = |yarn: &Yarn| {
            let is_own = own.as_ref().is_some_and(|own| *own == fold(&yarn.title()));
            let counts = yarn.facts.skein_length().is_some();
            !is_own && counts && (source.from == Source::Stash || !yarn.discontinued)
        };
        let among = CandidateSource {
            reader: &reader,
            from: source.from,
            with_reserved: false,
            top: source.top,
            meant: &meant,
        };
        let best = ranked(&among, asked, role, &mut found)?;
        let nothing = best
            .is_empty()
            .then(|| Remark::NothingFor(role.key.clone()));
        found.remarks.extend(nothing);
        for answer in best {
            found.add(role, answer)?;
        }
    }
    let left_out = reader.count_discontinued()?;
    if source.from == Source::Catalogue && left_out > 0 {
        found.working.push(Working::DiscontinuedLeftOut(left_out));
    }
    Ok(found)
}

/// The best that should or could work, with and without a length per mass in
/// one order; how many were left out is in `found`.
fn ranked(
    among: &CandidateSource<'_>,
    asked: &ResolvedQuestion,
    role: &Role,
    found: &mut Alternatives,
) -> Result<Vec<CandidateAnswer>, AppError> {
    let mut tell = |left_out: LeftOut| {
        let left_out = left_out.working();
        let news = left_out.filter(|told| !found.working.contains(told));
        found.working.extend(news);
    };
    if Beside::of((among.reader, false), role)?.is_some() {
        let (answers, left_out) = among.best_usable(asked, role)?;
        tell(left_out);
        return Ok(answers);
    }
    let role = role.alone();
    let best = among.best(asked, role, &Allotted::default())?;
    tell(best.left_out);
    let works = |judgement: &Judgement| {
        matches!(judgement.verdict, Verdict::ShouldWork | Verdict::CouldWork)
    };
    let mut both = Vec::new();
    for (id, judgement) in best.with_grist.into_iter().chain(best.without_grist) {
        if works(&judgement) {
            let candidate = among.candidate(asked, id)?;
            let order = (candidate.discontinued, among.reader.name_keys(id)?);
            both.push(((order, candidate), judgement));
        }
    }
    let ranked = rank(both, |(order, _): &(_, Candidate)| order.clone(), among.top).into_iter();
    let none = Allotted::default();
    let answers = ranked.map(|((_, candidate), judgement)| {
        let plan = best_plan(&judgement, 1);
        CandidateAnswer::new(asked, role, candidate, (judgement, plan), &none)
    });
    answers.collect()
}
