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
    /// What it measures with the pattern's counts.
    pub counts_kept: FinishedSize,
    /// The size whose counts come nearest in width, and what that one measures.
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
    /// At the pattern's gauge.
    pub at_pattern_gauge: Purchase,
    /// With the pattern's counts at the own gauge.
    pub counts_kept: Purchase,
    /// With reworked counts.
    pub size_kept: Purchase,
    /// With the counts of the size to knit instead.
    pub instead: Option<Purchase>,
}

/// The sizes of a pattern, its gauge and the own one.
pub(super) struct Sizes<'a> {
    pub(super) sizes: &'a [Size],
    pub(super) pattern: &'a Gauge,
    pub(super) own: &'a Gauge,
    pub(super) ratio: GaugeRatio,
    pub(super) multiple: Multiple,
    pub(super) growth: Option<WashGrowth>,
}

impl Sizes<'_> {
    /// What each of `places` comes out at.
    pub(super) fn at_own_gauge(&self, places: &[usize]) -> Result<Vec<SizeAtGauge>, AppError> {
        let kept = self.kept()?;
        let asked = places.iter().filter_map(|place| self.sizes.get(*place));
        asked.map(|size| self.size(size, &kept)).collect()
    }

    fn kept(&self) -> Result<Vec<FinishedSize>, AppError> {
        let kept = |size: &Size| IntendedSize::new(size, self.pattern)?.kept(self.own, self.ratio);
        Ok(self.sizes.iter().map(kept).collect::<Result<_, _>>()?)
    }

    fn size(&self, size: &Size, kept: &[FinishedSize]) -> Result<SizeAtGauge, AppError> {
        let intended = IntendedSize::new(size, self.pattern)?;
        let reworked = intended.reworked(self.own, self.ratio, self.multiple);
        let instead = nearest(&intended, kept);
        let instead = instead.and_then(|place| self.sizes.get(place).zip(kept.get(place)));
        let growth = self.growth.as_ref();
        Ok(SizeAtGauge {
            name: size.name.to_string(),
            intended,
            counts_kept: intended.kept(self.own, self.ratio)?,
            instead: instead.map(|(other, comes_out)| (other.name.to_string(), *comes_out)),
            reworked,
            size_kept: reworked.at(self.own)?,
            before_washing: growth
                .map(|growth| growth.unwashed(intended.size))
                .transpose()?,
        })
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
            for place in asked.places() {
                needs.extend(self.need(asked, role, &yarn, place)?);
            }
        }
        Ok(needs)
    }

    fn need(
        &self,
        asked: &ResolvedQuestion,
        role: &Role,
        yarn: &Candidate,
        place: usize,
    ) -> Result<Option<NeedAtGauge>, AppError> {
        let strands = role.wanted.strands;
        let buy = |place: usize, factor: f64| {
            bought(asked, role, yarn, place, KnittingPlan { strands, factor })
        };
        let keep = |keep: Keep| keep.need_factor(self.ratio);
        let instead = match self.instead(place)? {
            Some(instead) => buy(instead, keep(Keep::Counts))?,
            None => None,
        };
        let as_written = buy(place, 1.0)?;
        let kept = buy(place, keep(Keep::Counts))?;
        let kept = as_written.zip(kept).zip(buy(place, keep(Keep::Size))?);
        let size = asked.sizes.get(place);
        Ok(kept.zip(size).map(
            |(((at_pattern_gauge, counts_kept), size_kept), size)| NeedAtGauge {
                size: size.clone(),
                yarn: role.key.clone(),
                at_pattern_gauge,
                counts_kept,
                size_kept,
                instead,
            },
        ))
    }

    /// Place of the size whose counts come nearest to the width of the one at
    /// `place`.
    fn instead(&self, place: usize) -> Result<Option<usize>, AppError> {
        let Some(size) = self.sizes.get(place) else {
            return Ok(None);
        };
        Ok(nearest(
            &IntendedSize::new(size, self.pattern)?,
            &self.kept()?,
        ))
    }
}

fn nearest(intended: &IntendedSize, kept: &[FinishedSize]) -> Option<usize> {
    let widths: Vec<Option<Length>> = kept.iter().map(|size| size.width).collect();
    nearest_width(intended.size.width?, &widths)
}

/// The pattern's own yarn, where no other is named.
fn own_yarn(role: &Role) -> Candidate {
    Candidate {
        facts: role.wanted.facts.clone(),
        ..Candidate::default()
    }
}
