//! Yarns of the records that a ball without a label could be: each with what agrees and
//! what differs. Nothing is counted together, since only the eye and a swatch decide.

use super::{Method, MethodResult};
use crate::{
    app::{AppError, Records},
    label::measured::measured_range,
    measure::{Grist, Interval},
    record::{Id, Stored, Yarn, YarnFacts},
    store::Reader,
    trade::WeightClass,
};

/// So many are told.
const TOLD: usize = 10;

/// Yarns that a ball could be.
#[derive(Debug, Clone)]
pub struct CouldBe {
    /// Those that are told: first those in the stash, then by name.
    pub yarns: Vec<PossibleYarn>,
    /// How many more there are.
    pub more: usize,
}

/// A yarn that a ball could be.
#[derive(Debug, Clone)]
pub struct PossibleYarn {
    /// The yarn.
    pub yarn: Stored<Yarn>,
    /// Whether some of it is, or was, in the stash.
    pub has_lots: bool,
    /// What agrees with what was measured, or is known of the ball.
    pub agrees: Vec<BallTrait>,
    /// What does not.
    pub differs: Vec<BallTrait>,
}

/// What a ball is compared by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BallTrait {
    /// Length per mass, by one way of measuring.
    Grist(Method),
    /// Length per mass, as it was measured once.
    Measured,
    /// Weight class.
    Class,
    /// Fibres.
    Fibre,
    /// Build.
    Construction,
}

/// What is known of a ball.
struct Ball<'f> {
    /// Lengths per mass that it may have, m/g, the most trusted first.
    ranges: Vec<(BallTrait, Interval<f64>)>,
    facts: Option<&'f YarnFacts>,
    /// The yarn that it is kept as.
    kept: Option<Id<Yarn>>,
}

/// What a ball of these measures could be; nothing where no length per mass is known.
pub(super) fn by_measures(
    records: &Records,
    results: &[MethodResult],
) -> Result<Option<CouldBe>, AppError> {
    let Some(store) = records.maybe() else {
        return Ok(None);
    };
    let ranges = results.iter().filter_map(|result| {
        let grist = result.metres_per_gram?;
        let range = Interval::between(grist.low, grist.high).ok()?;
        Some((BallTrait::Grist(result.method), range))
    });
    let ball = Ball {
        ranges: ranges.collect(),
        facts: None,
        kept: None,
    };
    ball.could_be(&store.reader()?)
}

/// What a ball without a label in the records could be; nothing of any other yarn.
pub(in crate::app) fn of_kept(
    reader: &Reader<'_>,
    yarn: &Stored<Yarn>,
) -> Result<Option<CouldBe>, AppError> {
    let facts = &yarn.record.facts;
    let range = measured_range(facts).map(|range| range.map(Grist::as_metres_per_gram));
    let ball = Ball {
        ranges: range
            .map(|range| (BallTrait::Measured, range))
            .into_iter()
            .collect(),
        facts: Some(facts),
        kept: Some(yarn.id),
    };
    ball.could_be(reader)
}

impl Ball<'_> {
    fn could_be(&self, reader: &Reader<'_>) -> Result<Option<CouldBe>, AppError> {
        let Some((_, range)) = self.ranges.first() else {
            return Ok(None);
        };
        let ids = reader.yarns_of_grist(*range, self.kept, TOLD)?;
        let all = reader.count_yarns_of_grist(*range, self.kept)?;
        let yarns = ids.into_iter().map(|(id, has_lots)| {
            let yarn = reader.yarn(id)?;
            let (agrees, differs) = self.compared(&yarn.record.facts);
            Ok(PossibleYarn {
                yarn,
                has_lots,
                agrees,
                differs,
            })
        });
        let yarns = yarns.collect::<Result<Vec<_>, AppError>>()?;
        let more = all.saturating_sub(yarns.len());
        Ok(Some(CouldBe { yarns, more }))
    }

    /// What agrees and what differs.
    fn compared(&self, other: &YarnFacts) -> (Vec<BallTrait>, Vec<BallTrait>) {
        let grist = other.grist().map(Grist::as_metres_per_gram);
        let by_range = self.ranges.iter().filter_map(|(what, range)| {
            let grist = grist?;
            Some((*what, range.nearest(grist) == grist))
        });
        let by_facts = self.facts.map(|facts| known(facts, other));
        let all = by_range.chain(by_facts.into_iter().flatten());
        let (agrees, differs): (Vec<_>, Vec<_>) = all.partition(|(_, is_same)| *is_same);
        let names = |all: Vec<(BallTrait, bool)>| all.into_iter().map(|(what, _)| what).collect();
        (names(agrees), names(differs))
    }
}

/// What is known of both, and whether it is the same.
fn known(facts: &YarnFacts, other: &YarnFacts) -> Vec<(BallTrait, bool)> {
    let both = facts.class.as_ref().zip(other.class.as_ref());
    let class = both.and_then(|(one, other)| {
        WeightClass::nearest(one.value.as_slice(), other.value.as_slice())
    });
    let fibre = facts.blend.as_ref().zip(other.blend.as_ref());
    let built = facts.construction.as_ref().zip(other.construction.as_ref());
    [
        class.map(|(_, _, steps)| (BallTrait::Class, steps == 0)),
        fibre.map(|(one, other)| (BallTrait::Fibre, one.value == other.value)),
        built.map(|(one, other)| (BallTrait::Construction, one.value == other.value)),
    ]
    .into_iter()
    .flatten()
    .collect()
}
