//! Each size at the own gauge: counts kept, counts reworked, the size to knit
//! instead, and what each takes.

use crate::{
    app::{
        AppError,
        question::{
            ResolvedQuestion, Role,
            amounts::{KnittingPlan, bought},
            candidate::Candidate,
        },
    },
    measure::{Gauge, Length},
    quantity::{
        Counts, FinishedSize, GaugeRatio, IntendedSize, Keep, Purchase, WashGrowth, nearest_width,
    },
    record::{Multiple, Size},
};

/// One size at the own gauge.
#[derive(Debug, Clone)]
pub struct SizeAtGauge {
    /// The size.
    pub name: String,
    /// Counts of the pattern, and what they are meant to measure.
    pub intended: IntendedSize,
    /// What it measures with all of the pattern's counts.
    pub counts_kept: FinishedSize,
    /// What it measures with its stitch counts, lengths worked until they measure.
    pub stitches_kept: FinishedSize,
    /// The size whose counts come nearest in width, and what comes out where it is
    /// knitted for this one.
    pub instead: Option<(String, FinishedSize)>,
    /// Counts that keep the size, rounded to the multiple.
    pub reworked: Counts,
    /// What those measure.
    pub size_kept: FinishedSize,
    /// What to measure before washing, so that the intended size comes out.
    pub before_washing: Option<FinishedSize>,
}

/// What one size takes of one yarn.
#[derive(Debug, Clone)]
pub struct NeedAtGauge {
    /// The size.
    pub size: String,
    /// Key of the role.
    pub yarn: String,
    /// Which of the yarns held together, where several are.
    pub held: Option<HeldYarn>,
    /// At the pattern's gauge.
    pub at_pattern_gauge: Purchase,
    /// With all of the pattern's counts at the own gauge.
    pub counts_kept: Purchase,
    /// With the stitch counts, lengths worked until they measure.
    pub stitches_kept: Purchase,
    /// With reworked counts.
    pub size_kept: Purchase,
    /// With the counts of the size to knit instead.
    pub instead: Option<Purchase>,
}

/// One of several yarns held together.
#[derive(Debug, Clone, PartialEq)]
pub struct HeldYarn {
    /// As people call it.
    pub title: String,
    /// What one of it is called, as its label says, else a skein.
    pub counted_in: &'static str,
}

impl NeedAtGauge {
    /// What it takes where so much is kept.
    pub fn kept(&self, keep: Keep) -> &Purchase {
        match keep {
            Keep::Counts => &self.counts_kept,
            Keep::Stitches => &self.stitches_kept,
            Keep::Size => &self.size_kept,
        }
    }
}

/// The sizes of a pattern, its gauge and the own one.
pub(super) struct Sizes<'a> {
    pub(super) sizes: &'a [Size],
    pub(super) pattern: &'a Gauge,
    pub(super) own: &'a Gauge,
    pub(super) ratio: GaugeRatio,
    pub(super) keep: Keep,
    pub(super) multiple: Multiple,
    pub(super) growth: Option<WashGrowth>,
}

impl Sizes<'_> {
    /// What each of `places` comes out at.
    pub(super) fn at_own_gauge(&self, places: &[usize]) -> Result<Vec<SizeAtGauge>, AppError> {
        let intended = self.intended()?;
        let asked = places.iter();
        let asked = asked.filter_map(|place| self.sizes.get(*place).zip(intended.get(*place)));
        asked
            .map(|(size, wanted)| self.size(size.name.as_str(), wanted, &intended))
            .collect()
    }

    /// What every size of the pattern is meant to measure.
    fn intended(&self) -> Result<Vec<IntendedSize>, AppError> {
        let intended = |size: &Size| IntendedSize::new(size, self.pattern);
        Ok(self.sizes.iter().map(intended).collect::<Result<_, _>>()?)
    }

    fn size(
        &self,
        name: &str,
        wanted: &IntendedSize,
        all: &[IntendedSize],
    ) -> Result<SizeAtGauge, AppError> {
        let at_own = (self.own, self.ratio);
        let reworked = wanted.reworked(self.own, self.ratio, self.multiple);
        let instead = self.nearest(wanted, all)?;
        let instead = instead.and_then(|place| self.sizes.get(place).zip(all.get(place)));
        let knitted = |(size, worked): (&Size, &IntendedSize)| {
            let comes_out = worked.knitted_for(wanted, at_own, self.keep)?;
            Ok::<_, AppError>((size.name.to_string(), comes_out))
        };
        let growth = self.growth.as_ref();
        Ok(SizeAtGauge {
            name: name.to_owned(),
            intended: *wanted,
            counts_kept: wanted.knitted_for(wanted, at_own, Keep::Counts)?,
            stitches_kept: wanted.knitted_for(wanted, at_own, Keep::Stitches)?,
            instead: instead.map(knitted).transpose()?,
            reworked,
            size_kept: reworked.at(self.own)?,
            before_washing: growth
                .map(|growth| growth.unwashed(wanted.size))
                .transpose()?,
        })
    }

    /// Place of the size whose counts come nearest to the width of `wanted`.
    fn nearest(
        &self,
        wanted: &IntendedSize,
        all: &[IntendedSize],
    ) -> Result<Option<usize>, AppError> {
        let kept = all.iter().map(|size| size.kept(self.own, self.ratio));
        let kept = kept.collect::<Result<Vec<FinishedSize>, _>>()?;
        let widths: Vec<Option<Length>> = kept.iter().map(|size| size.width).collect();
        let width = wanted.size.width;
        Ok(width.and_then(|width| nearest_width(width, &widths)))
    }

    /// What each size and role takes; nothing where the need is not known in metres.
    pub(super) fn needs(
        &self,
        asked: &ResolvedQuestion,
        candidate: Option<&Candidate>,
    ) -> Result<Vec<NeedAtGauge>, AppError> {
        let mut needs = Vec::new();
        for role in &asked.roles {
            let yarn = candidate.cloned().unwrap_or_else(|| own_yarn(role));
            let strands = strands_of(role, &yarn);
            if yarn.ends.is_empty() {
                needs.extend(self.needs_of(asked, role, (&yarn, strands))?);
            }
            for end in &yarn.ends {
                let held = HeldYarn {
                    title: end.title.clone(),
                    counted_in: end.facts.counter(),
                };
                let of_end = self.needs_of(asked, role, (end, strands))?.into_iter();
                needs.extend(of_end.map(|need| NeedAtGauge {
                    held: Some(held.clone()),
                    ..need
                }));
            }
        }
        Ok(needs)
    }

    /// What each size takes of one yarn.
    fn needs_of(
        &self,
        asked: &ResolvedQuestion,
        role: &Role,
        yarn: (&Candidate, u8),
    ) -> Result<Vec<NeedAtGauge>, AppError> {
        let needs = asked.places().into_iter();
        let needs = needs.map(|place| self.need(asked, role, yarn, place).transpose());
        needs.flatten().collect()
    }

    fn need(
        &self,
        asked: &ResolvedQuestion,
        role: &Role,
        (yarn, strands): (&Candidate, u8),
        place: usize,
    ) -> Result<Option<NeedAtGauge>, AppError> {
        let buy = |place: usize, factor: f64| {
            let plan = KnittingPlan { strands, factor }.of_end(yarn);
            bought(asked, role, yarn, place, plan)
        };
        let keep = |keep: Keep| buy(place, keep.need_factor(self.ratio));
        let (Some(size), Some(at_pattern_gauge)) = (asked.sizes.get(place), buy(place, 1.0)?)
        else {
            return Ok(None);
        };
        let instead = self.instead(place)?;
        let instead = instead.map(|(place, factor)| buy(place, factor));
        let kept = keep(Keep::Counts)?.zip(keep(Keep::Stitches)?);
        let kept = kept.zip(keep(Keep::Size)?);
        let instead = instead.transpose()?.flatten();
        Ok(
            kept.map(|((counts_kept, stitches_kept), size_kept)| NeedAtGauge {
                size: size.clone(),
                yarn: role.key.clone(),
                held: None,
                at_pattern_gauge,
                counts_kept,
                stitches_kept,
                size_kept,
                instead,
            }),
        )
    }

    /// Place of the size to knit for the one at `place`, and what its need is
    /// multiplied by then.
    fn instead(&self, place: usize) -> Result<Option<(usize, f64)>, AppError> {
        let all = self.intended()?;
        let Some(wanted) = all.get(place) else {
            return Ok(None);
        };
        let found = self.nearest(wanted, &all)?;
        let found = found.and_then(|place| Some((place, all.get(place)?)));
        let factor = |worked: &IntendedSize| worked.need_factor_for(wanted, self.ratio, self.keep);
        Ok(found.map(|(place, worked)| (place, factor(worked))))
    }
}

/// How many strands of a yarn are held for a role: as many as the pattern holds, but of
/// several yarns held together one strand of all, which stands for all that it holds.
pub(super) fn strands_of(role: &Role, candidate: &Candidate) -> u8 {
    match candidate.ends.is_empty() {
        true => role.wanted.strands,
        false => 1,
    }
}

/// The pattern's own yarn, where no other is named.
pub(super) fn own_yarn(role: &Role) -> Candidate {
    Candidate {
        facts: role.wanted.facts.clone(),
        ..Candidate::default()
    }
}
