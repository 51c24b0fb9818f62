//! What one candidate comes to for one role: its judgement, and what it takes.

use super::{
    ResolvedQuestion, Role,
    amounts::{KnittingPlan, SizePurchase, purchases},
    candidate::Candidate,
    chance::{ChanceBasis, SizeChance},
    cover::{Allotted, SizeCover, size_covers},
    wishes::{LeftOutReason, UnmetWish, Wishes},
};
use crate::{
    app::{AppError, GaugeChange},
    label::contradiction::contradictions,
    matching::{self, Doubt, FibreLimits, Judgement, Remedy, Verdict, judge},
    measure::{Grist, Interval, Length, Ratio},
    quantity::{GaugeRatio, IntendedSize, Keep},
    record::{Fit, Purpose},
};

/// What one candidate comes to for one role.
#[derive(Debug, Clone)]
pub struct CandidateAnswer {
    /// The yarn.
    pub candidate: Candidate,
    /// How it was judged.
    pub judgement: Judgement,
    /// How it would be knitted.
    pub plan: KnittingPlan,
    /// What to buy for each size.
    pub skeins: Vec<SizePurchase>,
    /// The chance of running out, where it was asked for.
    pub chances: Vec<SizeChance>,
    /// What the lots in stock do for it.
    pub cover: Vec<SizeCover>,
    /// The same of each yarn, where several are held together: the judgement is of all,
    /// and only here are skeins counted.
    pub ends: Vec<Self>,
}

impl CandidateAnswer {
    /// Counts what a judged candidate takes; what of the stash is `allotted` to
    /// other roles does not count.
    pub(in crate::app) fn new(
        asked: &ResolvedQuestion,
        role: &Role,
        candidate: Candidate,
        (judgement, plan): (Judgement, KnittingPlan),
        allotted: &Allotted,
    ) -> Result<Self, AppError> {
        let ends = candidate.ends.iter().map(|end| {
            let judged = (judgement.clone(), plan.of_end(end));
            let role = role.of_end(end.stands_for);
            Self::new(asked, role, end.clone(), judged, allotted)
        });
        let ends = ends.collect::<Result<_, _>>()?;
        let skeins = purchases(asked, role, &candidate, plan)?;
        let chances = asked.confidence.iter();
        Ok(Self {
            chances: chances
                .flat_map(|sure| sure.chances(&skeins, &candidate.facts))
                .collect(),
            cover: size_covers(&candidate, &skeins, allotted)?,
            candidate,
            judgement,
            plan,
            skeins,
            ends,
        })
    }

    /// Each yarn that is bought: of several held together all, else it alone.
    pub fn each_yarn(&self) -> &[Self] {
        match self.ends.as_slice() {
            [] => std::slice::from_ref(self),
            ends => ends,
        }
    }

    /// Whether skeins are counted and the stash has not enough for one of the sizes.
    pub fn is_short(&self) -> bool {
        if !self.ends.is_empty() {
            return self.ends.iter().any(Self::is_short);
        }
        let is_enough = self.cover.iter().all(|found| found.cover.covers());
        !self.skeins.is_empty() && (self.cover.is_empty() || !is_enough)
    }

    /// The sizes of which the stash has enough of each yarn.
    pub fn covered_sizes(&self) -> Vec<&str> {
        let yarns = self.each_yarn();
        let first = yarns.first().map_or(&[][..], |yarn| &yarn.cover);
        let is_covered = |size: &&str| {
            let mut covers = yarns.iter().map(|yarn| {
                let mut of_size = yarn.cover.iter().filter(|it| it.size == **size);
                of_size.any(|it| it.cover.covers())
            });
            covers.all(|covers| covers)
        };
        first
            .iter()
            .map(|it| it.size.as_str())
            .filter(is_covered)
            .collect()
    }

    /// Whether it should or could work.
    pub fn is_usable(&self) -> bool {
        self.judgement.verdict <= Verdict::CouldWork
    }

    /// What to do first, where something must be done.
    pub fn first_remedy(&self) -> Option<&Remedy> {
        let remedy = self.judgement.remedies.first();
        remedy.filter(|_| self.judgement.verdict == Verdict::CouldWork)
    }
}

/// A remedy, what it multiplies the need by, and what to buy then.
#[derive(Debug, Clone)]
pub struct RemedyAnswer {
    /// What to do.
    pub remedy: Remedy,
    /// What the need is multiplied by.
    pub need_factor: f64,
    /// What to buy for each size.
    pub skeins: Vec<SizePurchase>,
}

impl RemedyAnswer {
    /// Counts what a candidate takes with the remedy.
    pub(in crate::app) fn new(
        asked: &ResolvedQuestion,
        role: &Role,
        candidate: &Candidate,
        (remedy, plan): (&Remedy, KnittingPlan),
    ) -> Result<Self, AppError> {
        let skeins = match remedy {
            Remedy::AnotherSize { index, .. } => {
                purchases(&asked.of_size(*index), role, candidate, plan)?
            }
            _ => purchases(asked, role, candidate, plan)?,
        };
        Ok(Self {
            remedy: remedy.clone(),
            need_factor: plan.factor,
            skeins,
        })
    }
}

/// How an answer was reached.
#[derive(Debug, Clone, PartialEq)]
pub enum Working {
    /// The pattern states the tolerance, as printed.
    ToleranceOfPattern(String),
    /// No tolerance is stated: the usual one.
    UsualTolerance(Ratio),
    /// The pattern's needs hold a margin.
    MarginIncluded,
    /// The pattern's needs hold no margin: so much is added.
    MarginNotIncluded(Ratio),
    /// How close it sits is not stated: taken from what it is for.
    UsualFit(Fit, Option<Purpose>),
    /// Whether the needs hold a margin is not stated: so much is added.
    MarginNotStated(Ratio),
    /// The need of a role is counted in skeins of this length.
    NeedInSkeins(String, Length),
    /// Keys of yarns that the pattern holds together: its gauge is that of all.
    HeldTogether(Vec<String>),
    /// Each yarn is judged together with these, as the pattern holds it.
    Beside(Vec<String>),
    /// The need was changed for another gauge than the pattern's.
    AtAnotherGauge(GaugeChange),
    /// What was counted as uncertain.
    Chance(ChanceBasis),
    /// How the skeins of a sheet are counted.
    SkeinsOfSheet,
    /// So many yarns that are discontinued were left out.
    DiscontinuedLeftOut(u64),
    /// The asker keeps away from some fibres.
    FibreLimits(FibreLimits),
    /// What else the asker will have.
    Wishes(Wishes),
    /// What else the asker will have of each project of a plan.
    ProjectWishes(Wishes),
    /// So many yarns were left out, by reason.
    LeftOut(Vec<(LeftOutReason, u64)>),
}

/// Notes beside an answer.
#[derive(Debug, Clone, PartialEq)]
pub enum Remark {
    /// The yarn is discontinued.
    Discontinued,
    /// The yarn has no label: its length per mass was measured, and may be any of these.
    AsMeasured(Interval<Grist>),
    /// None of the yarn is in stock.
    NotInStock,
    /// No skeins are counted: the need is not stated.
    NeedNotStated,
    /// No skeins are counted: the length of a skein is not known.
    SkeinNotKnown,
    /// No skeins are counted: of a need in mass no length can be known.
    NeedInMass,
    /// The yarn is not as wished.
    Unmet(UnmetWish),
    /// Nothing in the records should or could work for this role.
    NothingFor(String),
    /// No yarn is named for these roles: they are not counted.
    NoYarnFor(Vec<String>),
    /// One of these of one of several yarns, or of one of several roles.
    Of(String, Box<Self>),
}

/// Judges a candidate for one role.
pub(in crate::app) fn judged(
    asked: &ResolvedQuestion,
    role: &Role,
    candidate: &Candidate,
    strands: u8,
) -> Judgement {
    let offered = matching::Candidate {
        facts: candidate.facts.clone(),
        swatches: candidate.swatches.clone(),
        measured: asked.own_gauge.clone(),
        strands,
        doubts: doubts(candidate),
    };
    judge(&role.wanted, &offered, &asked.settings)
}

/// What of its label is in doubt: what was found when it was read, and what of its
/// values disagrees.
pub(super) fn doubts(candidate: &Candidate) -> Vec<Doubt> {
    let found = contradictions(&candidate.facts).into_iter();
    let found = found.map(Doubt::Contradiction);
    candidate.doubts.iter().cloned().chain(found).collect()
}

/// How a candidate is knitted with the remedy.
pub(in crate::app) fn plan_with(
    asked: &ResolvedQuestion,
    role: &Role,
    judgement: &Judgement,
    (remedy, strands): (&Remedy, u8),
) -> Result<KnittingPlan, AppError> {
    let ratio = asked.gauge_ratio(role, judgement);
    let ratio = ratio.unwrap_or(GaugeRatio::of_stitches(1.0));
    Ok(match remedy {
        Remedy::HoldStrands { strands, .. } => KnittingPlan {
            strands: *strands,
            factor: 1.0,
        },
        Remedy::ChangeNeedle { .. } => KnittingPlan {
            strands,
            factor: 1.0,
        },
        Remedy::ReworkStitches { .. } => KnittingPlan {
            strands,
            factor: Keep::Size.need_factor(ratio),
        },
        Remedy::AnotherSize { index, .. } => KnittingPlan {
            strands,
            factor: of_another_size(role, *index, ratio, asked.reading.keep)?,
        },
    })
}

/// What the need of the size at `index` is multiplied by where it is knitted to get
/// the one that is wanted.
fn of_another_size(
    role: &Role,
    index: usize,
    ratio: GaugeRatio,
    keep: Keep,
) -> Result<f64, AppError> {
    let wanted = &role.wanted;
    let chosen = wanted.size.and_then(|place| wanted.sizes.get(place));
    let sizes = chosen
        .zip(wanted.sizes.get(index))
        .zip(wanted.gauge.as_ref());
    let Some(((wanted, worked), gauge)) = sizes else {
        return Ok(keep.need_factor(ratio));
    };
    let worked = IntendedSize::new(worked, &gauge.gauge)?;
    let wanted = IntendedSize::new(wanted, &gauge.gauge)?;
    Ok(worked.need_factor_for(&wanted, ratio, keep))
}

/// How a candidate would be knitted: where only that makes it work, with as many strands
/// as its first remedy says, and with stitch counts reworked, which takes its gauge over
/// the pattern's times the yarn. So what is bought is enough for what has to be met; that
/// a looser gauge takes less yarn is not counted on before a swatch shows it.
pub(in crate::app) fn best_plan(judgement: &Judgement, strands: u8) -> KnittingPlan {
    let mut plan = KnittingPlan {
        strands,
        factor: 1.0,
    };
    if judgement.verdict != Verdict::CouldWork {
        return plan;
    }
    let mut remedies = judgement.remedies.iter();
    let held = remedies.find_map(|remedy| match remedy {
        Remedy::HoldStrands { strands, .. } => Some(*strands),
        _ => None,
    });
    plan.strands = held.unwrap_or(strands);
    let mut remedies = judgement.remedies.iter();
    let for_gauge = remedies.find(|remedy| !matches!(remedy, Remedy::HoldStrands { .. }));
    if let Some(Remedy::ReworkStitches { factor, .. }) = for_gauge {
        plan.factor = factor.max(1.0);
    }
    plan
}
