//! One yarn for one pattern.

mod request;

pub use request::CheckRequest;

use super::{
    AppError, FaultKind, FieldNote, FormData, GaugeChange, GaugeReading, InputReader,
    QuestionFault, Records, Source,
    candidate_search::CandidateSource,
    corrected::offered,
    input::filled,
    question::{
        ResolvedQuestion, Role,
        amounts::{KnittingPlan, SizeEstimate, SizePurchase, role_estimates},
        answer::{CandidateAnswer, Remark, RemedyAnswer, Working, best_plan, judged, plan_with},
        candidate::Candidate,
        cover::Allotted,
        in_hand::{InHand, TypedAmount, needs_of},
        own_gauge, resolve,
        wishes::UnmetWish,
    },
};
use crate::{
    label::{cells, measured::measured_range},
    matching::{Requirement, Verdict},
    measure::Ratio,
    record::StatedGauge,
};

/// Answer to [`check`]: one yarn for one or more yarn roles of a pattern.
#[derive(Debug, Clone)]
pub struct CheckAnswer {
    /// The pattern, as people call it.
    pub pattern: String,
    /// The yarn.
    pub candidate: Candidate,
    /// A gauge measured of it.
    pub own_gauge: Option<StatedGauge>,
    /// What that gauge does to the need.
    pub gauge_change: Option<GaugeChange>,
    /// What each role gets.
    pub roles: Vec<RoleAnswer>,
    /// Which sizes an amount in hand makes, where one was given.
    pub in_hand: Option<InHand>,
    /// Margin bought beyond the need.
    pub margin: Ratio,
    /// How the answer was reached.
    pub working: Vec<Working>,
    /// What was noticed in what was typed.
    pub notes: Vec<FieldNote>,
    /// Notes beside it.
    pub remarks: Vec<Remark>,
}

/// What one role asks and gets.
#[derive(Debug, Clone)]
pub struct RoleAnswer {
    /// Key of the role.
    pub key: String,
    /// What the pattern wants.
    pub wanted: Requirement,
    /// What the yarn comes to.
    pub offered: CandidateAnswer,
    /// What the measured gauge does to the need.
    pub gauge_change: Option<GaugeChange>,
    /// What would bring it within.
    pub remedies: Vec<RemedyAnswer>,
    /// What needs stated as a mass alone may come to.
    pub estimates: Vec<SizeEstimate>,
    /// The best of the stash that should or could work, where this yarn should not, or
    /// the stash has not enough of it.
    pub instead: Vec<CandidateAnswer>,
}

/// How many yarns of the stash are named instead.
const INSTEAD: usize = 3;

impl CheckAnswer {
    /// The weakest verdict of all roles.
    pub fn verdict(&self) -> Verdict {
        let verdicts = self.roles.iter().map(|role| role.offered.judgement.verdict);
        verdicts.max().unwrap_or(Verdict::CannotSay)
    }

    /// Whether it should or could work for every role.
    pub fn is_usable(&self) -> bool {
        self.verdict() <= Verdict::CouldWork
    }

    /// The largest overall departure of all roles.
    pub fn overall(&self) -> Option<f64> {
        let all = self.roles.iter();
        let all = all.filter_map(|role| role.offered.judgement.overall);
        all.max_by(f64::total_cmp)
    }
}

/// Judges a yarn (a name in the records, or the text of its band) for what the
/// question wants. Records are needed only for names.
pub fn check(records: &Records, request: &CheckRequest) -> Result<CheckAnswer, AppError> {
    let mut reader = InputReader::default();
    let strands = reader.whole("strands", request.strands.as_deref(), 1..=9);
    let pattern = records.pattern_asked(&mut reader, &request.question)?;
    let asked = resolve(&mut reader, &request.question, pattern.as_ref())?;
    let measured = reader.optional("own-gauge", request.own_gauge.as_deref(), cells::gauge);
    let reading = reading(request, &mut reader);
    let have = TypedAmount::read(&mut reader, request.have.as_deref());
    let candidate = candidate(records, request, &mut reader)?;
    let (mut asked, mut candidate) = reader.checked(asked.zip(candidate))?;
    let other_lots = asked.wishes.keep_lots(&mut candidate);
    asked.own_gauge = measured.map(|measured| own_gauge(measured, &asked.roles));
    asked.reading = reading;
    let mut roles = roles(&asked, &candidate, strands.unwrap_or(1))?;
    add_instead(records, request, &asked, &mut roles)?;
    let in_hand = have.map(|have| makes(have, &asked, &candidate, &roles));
    Ok(CheckAnswer {
        in_hand: in_hand.transpose()?,
        remarks: remarks(&asked, &candidate, &roles)
            .into_iter()
            .chain(unmet(&asked, &candidate, &roles, other_lots))
            .collect(),
        working: working(&asked, &candidate, &roles),
        pattern: asked.title,
        candidate,
        own_gauge: asked.own_gauge,
        gauge_change: gauge_change(&roles),
        roles,
        margin: asked.margin,
        notes: reader.notes,
    })
}

/// What is kept at the own gauge.
fn reading(request: &CheckRequest, reader: &mut InputReader) -> GaugeReading {
    let keep = request.keep.as_deref();
    if keep.is_some() && filled(request.own_gauge.as_deref()).is_none() {
        reader.fault("keep", FaultKind::OnlyWith("own-gauge"));
    }
    GaugeReading::new(keep)
}

/// What the own gauge does; one for all roles, since the pattern has one gauge.
fn gauge_change(roles: &[RoleAnswer]) -> Option<GaugeChange> {
    roles.iter().find_map(|role| role.gauge_change)
}

/// The most different yarns that are held together.
const MOST_ENDS: usize = 3;

/// The yarn that is asked about, or the strand that several are; nothing where a fault
/// was found in one.
fn candidate(
    records: &Records,
    request: &CheckRequest,
    reader: &mut InputReader,
) -> Result<Option<Candidate>, AppError> {
    let texts = request.yarn.iter().map(|text| text.trim());
    let texts: Vec<&str> = texts.filter(|text| !text.is_empty()).collect();
    if texts.is_empty() {
        reader.fault("yarn", FaultKind::Missing);
        return Ok(None);
    }
    if texts.len() > 1 && filled(request.have.as_deref()).is_some() {
        reader.fault("have", QuestionFault::HaveOfSeveral);
    }
    if texts.len() > MOST_ENDS {
        let (given, most) = (texts.len(), MOST_ENDS);
        reader.fault("yarn", FaultKind::TooMany { given, most });
        return Ok(None);
    }
    let mut ends: Vec<Candidate> = Vec::new();
    for (place, text) in texts.iter().enumerate() {
        let corrected = request.band_fields.as_ref().filter(|_| place == 0);
        let Some(end) = end(records, (request, text, corrected), reader)? else {
            return Ok(None);
        };
        if ends.iter().any(|known| known.title == end.title) {
            reader.fault("yarn", QuestionFault::SameYarnTwice(end.title));
            return Ok(None);
        }
        ends.push(end);
    }
    Ok(match ends.len() {
        1 => ends.pop(),
        _ => Some(Candidate::held_together(ends)),
    })
}

/// One yarn that is named, or what its label says.
fn end(
    records: &Records,
    (request, text, corrected): (&CheckRequest, &str, Option<&FormData>),
    reader: &mut InputReader,
) -> Result<Option<Candidate>, AppError> {
    if let Some(typed) = corrected {
        return Ok(offered(text, typed, reader));
    }
    let found = records.candidate(text, request.question.terms.with_reserved, reader);
    reader.keep(found)
}

/// The roles in order: what of the stash one is given is not there for the next.
pub(in crate::app) fn roles(
    asked: &ResolvedQuestion,
    candidate: &Candidate,
    strands: u8,
) -> Result<Vec<RoleAnswer>, AppError> {
    let (mut answers, mut allotted) = (Vec::new(), Allotted::default());
    for role in &asked.roles {
        let answer = role_answer(asked, role, candidate, strands, &allotted)?;
        for yarn in answer.offered.each_yarn() {
            allotted.give(&role.key, &yarn.candidate.title, &yarn.cover);
        }
        answers.push(answer);
    }
    Ok(answers)
}

fn role_answer(
    asked: &ResolvedQuestion,
    role: &Role,
    candidate: &Candidate,
    strands: u8,
    allotted: &Allotted,
) -> Result<RoleAnswer, AppError> {
    let judgement = judged(asked, role, candidate, strands);
    let gauge_change = asked.gauge_change(role, &judgement);
    let best = best_plan(&judgement, strands);
    let plan = KnittingPlan {
        factor: gauge_change.map_or(best.factor, |change| change.need_factor()),
        ..best
    };
    let remedies = judgement.remedies.iter();
    let remedies = remedies.map(|remedy| {
        let plan = plan_with(asked, role, &judgement, (remedy, plan.strands))?;
        RemedyAnswer::new(asked, role, candidate, (remedy, plan))
    });
    Ok(RoleAnswer {
        key: role.key.clone(),
        wanted: role.wanted.clone(),
        gauge_change,
        remedies: remedies.collect::<Result<_, _>>()?,
        estimates: role_estimates(asked, role, candidate),
        instead: Vec::new(),
        offered: CandidateAnswer::new(asked, role, candidate.clone(), (judgement, plan), allotted)?,
    })
}

/// Looks through the stash for each role that this yarn does not serve.
fn add_instead(
    records: &Records,
    request: &CheckRequest,
    asked: &ResolvedQuestion,
    roles: &mut [RoleAnswer],
) -> Result<(), AppError> {
    let Some(store) = records.maybe() else {
        return Ok(());
    };
    let reader = store.reader()?;
    for (role, answer) in asked.roles.iter().zip(roles) {
        let offered = &answer.offered;
        if offered.judgement.verdict == Verdict::ShouldWork && !offered.is_short() {
            continue;
        }
        let among = CandidateSource {
            reader: &reader,
            from: Source::Stash,
            with_reserved: request.question.terms.with_reserved,
            top: INSTEAD,
            meant: &|yarn| {
                let title = yarn.title();
                offered
                    .each_yarn()
                    .iter()
                    .all(|it| it.candidate.title != title)
            },
        };
        let allotted = Allotted::default();
        let found = among.best(asked, role, &allotted)?;
        let found = found.with_grist.into_iter().chain(found.without_grist);
        let works = found.filter(|(_, judgement)| {
            matches!(judgement.verdict, Verdict::ShouldWork | Verdict::CouldWork)
        });
        let answers = works.map(|(id, judgement)| {
            let plan = best_plan(&judgement, 1);
            let candidate = among.candidate(asked, id)?;
            CandidateAnswer::new(asked, role, candidate, (judgement, plan), &allotted)
        });
        answer.instead = answers.take(INSTEAD).collect::<Result<_, AppError>>()?;
    }
    Ok(())
}

/// How the answer was reached; with the chance, what was counted as uncertain.
fn working(asked: &ResolvedQuestion, candidate: &Candidate, roles: &[RoleAnswer]) -> Vec<Working> {
    let last = roles.iter().last().map(|role| role.offered.each_yarn());
    let bought = last
        .unwrap_or_default()
        .iter()
        .flat_map(|yarn| &yarn.skeins);
    let is_range = bought.into_iter().any(SizePurchase::is_range);
    let basis = asked
        .confidence
        .map(|sure| sure.basis(&candidate.facts, is_range));
    let working = asked.working.iter().cloned();
    let at_gauge = gauge_change(roles).map(Working::AtAnotherGauge);
    let working = working.chain(at_gauge);
    working.chain(basis.map(Working::Chance)).collect()
}

fn remarks(asked: &ResolvedQuestion, candidate: &Candidate, roles: &[RoleAnswer]) -> Vec<Remark> {
    let yarns = roles.iter().flat_map(|role| role.offered.each_yarn());
    let counted = yarns.into_iter().any(|yarn| !yarn.skeins.is_empty());
    let estimated = roles.iter().any(|role| !role.estimates.is_empty());
    let has_lots = |candidate: &Candidate| !candidate.lots.is_empty();
    let in_stock = has_lots(candidate) || candidate.ends.iter().any(has_lots);
    let not_in_stock = candidate.kept && !in_stock && counted;
    let discontinued = candidate.discontinued.then_some(Remark::Discontinued);
    let measured = measured_range(&candidate.facts).map(Remark::AsMeasured);
    let missing = (!counted && !estimated).then(|| missing_amount(asked, candidate));
    let stock = not_in_stock.then_some(Remark::NotInStock);
    discontinued
        .into_iter()
        .chain(measured)
        .chain(stock)
        .chain(missing)
        .collect()
}

/// Which sizes what is in hand makes, for each yarn of the pattern by itself.
fn makes(
    have: TypedAmount,
    asked: &ResolvedQuestion,
    candidate: &Candidate,
    roles: &[RoleAnswer],
) -> Result<InHand, AppError> {
    let mut needs = Vec::new();
    for (role, answer) in asked.roles.iter().zip(roles) {
        needs.extend(needs_of(asked, role, answer.offered.plan)?);
    }
    have.makes(candidate, asked.margin, needs)
}

/// What of the wishes the yarn does not meet: where no lot is as wished, nothing is said
/// of how much of it there is.
fn unmet(
    asked: &ResolvedQuestion,
    candidate: &Candidate,
    roles: &[RoleAnswer],
    other_lots: Option<UnmetWish>,
) -> Vec<Remark> {
    let by_all = asked.wishes.unmet_by_all(candidate, roles).into_iter();
    let is_news = |why: &UnmetWish| other_lots.is_none() || *why != UnmetWish::NotInStash;
    let by_all = by_all.filter(is_news);
    let all = other_lots.clone().into_iter().chain(by_all);
    all.map(Remark::Unmet).collect()
}

fn missing_amount(asked: &ResolvedQuestion, candidate: &Candidate) -> Remark {
    if asked.roles.iter().all(|role| role.needs.is_empty()) {
        Remark::NeedNotStated
    } else if candidate.ends.is_empty() && candidate.facts.skein_length().is_none() {
        Remark::SkeinNotKnown
    } else {
        Remark::NeedInMass
    }
}
