//! One yarn for one pattern, several held together, or one for each colour.

mod offers;
mod remarks;
mod request;
mod shopping;

pub use request::CheckRequest;
pub use shopping::ShoppingLine;

use super::{
    AppError, FaultKind, FieldNote, GaugeChange, GaugeReading, InputReader, Records, Source,
    candidate_search::CandidateSource,
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
    label::cells,
    matching::{Requirement, Verdict},
    measure::Ratio,
    record::StatedGauge,
};
use offers::offers;
use remarks::{remarks, unmet};
use shopping::shopping;

/// Answer to [`check`]: one yarn for one or more yarn roles of a pattern, or one for each.
#[derive(Debug, Clone)]
pub struct CheckAnswer {
    /// The pattern, as people call it.
    pub pattern: String,
    /// The yarn; of one for each role all of them, each once.
    pub yarns: Vec<Candidate>,
    /// How many strands of it were asked about.
    pub strands: u8,
    /// A gauge measured of it.
    pub own_gauge: Option<StatedGauge>,
    /// What that gauge does to the need.
    pub gauge_change: Option<GaugeChange>,
    /// What each role gets.
    pub roles: Vec<RoleAnswer>,
    /// What to buy, where each role has a yarn of its own.
    pub shopping: Vec<ShoppingLine>,
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
    /// Keys of the yarns of the pattern that are held together, of those.
    pub strand: Vec<String>,
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

impl RoleAnswer {
    /// Key of the yarn of the pattern that one yarn stands for: of one of several that
    /// are held together, its own where that is known.
    pub fn key_of(&self, yarn: &CandidateAnswer) -> &str {
        let place = yarn.candidate.stands_for;
        let own = place.and_then(|place| self.strand.get(place));
        own.unwrap_or(&self.key)
    }
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
    let mut asked = resolve(&mut reader, &request.question, pattern.as_ref())?;
    let measured = reader.optional("own-gauge", request.own_gauge.as_deref(), cells::gauge);
    let reading = reading(request, &mut reader);
    let have = TypedAmount::read(&mut reader, request.have.as_deref());
    let offers = offers(records, request, asked.as_mut(), &mut reader)?;
    let (mut asked, mut offers) = reader.checked(asked.zip(offers))?;
    let other_lots = keep_lots(&asked, &mut offers.yarns);
    asked.own_gauge = measured.map(|measured| own_gauge(measured, &asked.roles));
    asked.reading = reading;
    let strands = strands.unwrap_or(1);
    let mut roles = roles(&asked, &offers.yarns, strands)?;
    add_instead(records, request, &asked, &mut roles)?;
    let yarns = each_once(&offers.yarns);
    let in_hand = have.zip(yarns.first());
    let in_hand = in_hand.map(|(have, yarn)| makes(have, &asked, yarn, &roles));
    let shopping = match request.with.is_empty() {
        true => Vec::new(),
        false => shopping(&roles)?,
    };
    let unnamed = (!offers.unnamed.is_empty()).then_some(Remark::NoYarnFor(offers.unnamed));
    Ok(CheckAnswer {
        in_hand: in_hand.transpose()?,
        remarks: unnamed
            .into_iter()
            .chain(remarks(&asked, &yarns, &roles))
            .chain(unmet(&asked, &roles, &other_lots))
            .collect(),
        working: working(&asked, &yarns, &roles),
        pattern: asked.title,
        shopping,
        yarns,
        strands,
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

/// The yarns that are offered, each once.
fn each_once(offered: &[Candidate]) -> Vec<Candidate> {
    let mut yarns: Vec<Candidate> = Vec::new();
    for yarn in offered {
        if yarns.iter().all(|known| known.title != yarn.title) {
            yarns.push(yarn.clone());
        }
    }
    yarns
}

/// Leaves each yarn the lots that are meant; the yarns of which none is, with the reason.
fn keep_lots(asked: &ResolvedQuestion, offered: &mut [Candidate]) -> Vec<(String, UnmetWish)> {
    let mut found = Vec::new();
    let mut keep = |yarn: &mut Candidate| {
        let why = asked.wishes.keep_lots(yarn);
        found.extend(why.map(|why| (yarn.title.clone(), why)));
    };
    for yarn in offered {
        match yarn.ends.as_mut_slice() {
            [] => keep(yarn),
            ends => ends.iter_mut().for_each(&mut keep),
        }
    }
    found
}

/// The roles in order, each with the yarn that it is offered: what of the stash one is
/// given is not there for the next. A role of which the shade is named comes first.
pub(in crate::app) fn roles(
    asked: &ResolvedQuestion,
    offered: &[Candidate],
    strands: u8,
) -> Result<Vec<RoleAnswer>, AppError> {
    let (mut answers, mut allotted) = (Vec::new(), Allotted::default());
    let mut order: Vec<_> = asked.roles.iter().zip(offered).enumerate().collect();
    order.sort_by_key(|(_, (_, yarn))| !has_shade(yarn));
    for (place, (role, yarn)) in order {
        let answer = role_answer(asked, role, yarn, strands, &allotted)?;
        for yarn in answer.offered.each_yarn() {
            allotted.give(&role.key, &yarn.candidate.title, &yarn.cover);
        }
        answers.push((place, answer));
    }
    answers.sort_by_key(|(place, _)| *place);
    Ok(answers.into_iter().map(|(_, answer)| answer).collect())
}

fn has_shade(yarn: &Candidate) -> bool {
    yarn.shade.is_some() || yarn.ends.iter().any(has_shade)
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
        strand: role.strand.clone(),
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
    let given = given(roles);
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
            meant: &|yarn| !given.contains(&yarn.title()) && !role.holds(&yarn.title()),
        };
        (answer.instead, _) = among.best_usable(asked, role)?;
    }
    Ok(())
}

/// The names of all yarns that roles are given.
fn given(roles: &[RoleAnswer]) -> Vec<String> {
    let yarns = roles.iter().flat_map(|role| role.offered.each_yarn());
    yarns.map(|yarn| yarn.candidate.title.clone()).collect()
}

/// How the answer was reached; with the chance, what was counted as uncertain.
fn working(asked: &ResolvedQuestion, yarns: &[Candidate], roles: &[RoleAnswer]) -> Vec<Working> {
    let last = roles.iter().last().map(|role| role.offered.each_yarn());
    let bought = last
        .unwrap_or_default()
        .iter()
        .flat_map(|yarn| &yarn.skeins);
    let is_range = bought.into_iter().any(SizePurchase::is_range);
    let basis = asked.confidence.map(|sure| match yarns {
        [yarn] => sure.basis(&yarn.facts, is_range),
        _ => sure.basis_of_all(is_range),
    });
    let working = asked.working.iter().cloned();
    let at_gauge = gauge_change(roles).map(Working::AtAnotherGauge);
    let working = working.chain(at_gauge);
    working.chain(basis.map(Working::Chance)).collect()
}

/// Of a strand of which only one yarn is asked about, that yarn and what it takes.
fn asked_about<'a>(
    role: &'a Role,
    strand: &'a Candidate,
    plan: KnittingPlan,
) -> (&'a Role, &'a Candidate, KnittingPlan) {
    let mut ends = strand.ends.iter();
    let own = role.only_end.and_then(|place| {
        let end = ends.find(|end| end.stands_for == Some(place))?;
        Some((role.of_end(Some(place)), end, plan.of_end(end)))
    });
    own.unwrap_or((role, strand, plan))
}

/// Which sizes what is in hand makes, for each yarn of the pattern by itself.
fn makes(
    have: TypedAmount,
    asked: &ResolvedQuestion,
    candidate: &Candidate,
    roles: &[RoleAnswer],
) -> Result<InHand, AppError> {
    let mut needs = Vec::new();
    let mut in_hand = candidate;
    for (role, answer) in asked.roles.iter().zip(roles) {
        let (role, yarn, plan) = asked_about(role, candidate, answer.offered.plan);
        needs.extend(needs_of(asked, role, plan)?);
        in_hand = yarn;
    }
    have.makes(in_hand, asked.margin, needs)
}
