//! The stash as shades: what each holds, and which roles it should or could work for.

use super::{LotUse, YarnOption, kept::PinnedYarn};
use crate::{
    app::{
        AppError,
        projects::reservations::Reservations,
        question::{
            ResolvedQuestion, Role,
            amounts::{KnittingPlan, bought},
            answer::{best_plan, judged},
            candidate::{Candidate, StockLot},
            cover::with_margin,
            lookup::candidate_with,
        },
    },
    matching::{Judgement, Verdict},
    measure::Length,
    planning::{Choice, Made, share_lots},
    record::{Id, StockAmount, Yarn},
    store::{LotInStock, Reader},
};
use std::collections::HashMap;

/// Yarns of which something may be used, and their shades.
#[derive(Default)]
pub(super) struct Stash {
    /// Whether it counts at all.
    pub(super) is_counted: bool,
    yarns: Vec<(Id<Yarn>, Candidate)>,
    shades: Vec<Shade>,
}

/// What of the stash counts.
pub(super) enum Counted<'a> {
    /// What is not reserved.
    Free,
    /// All of it.
    All,
    /// What is not reserved, and what is reserved for these projects.
    FreeAndOf(&'a Reservations, Vec<String>),
}

impl Counted<'_> {
    fn of(&self, stock: &LotInStock) -> Result<StockAmount, AppError> {
        match self {
            Self::Free => Ok(stock.balance.free(stock.skein_mass)?),
            Self::All => Ok(stock.balance.held),
            Self::FreeAndOf(reservations, names) => reservations.usable(stock, names),
        }
    }
}

/// A shade of one yarn, and its lots with what each holds, m.
pub(super) struct Shade {
    /// Place of the yarn.
    pub(super) yarn: usize,
    pub(super) name: String,
    lots: Vec<(StockLot, f64)>,
}

impl Shade {
    fn option(&self, yarn: Id<Yarn>, candidate: &Candidate) -> YarnOption {
        let colour = self
            .lots
            .first()
            .and_then(|(held, _)| held.lot.colour.clone());
        YarnOption {
            number: yarn.number(),
            yarn: candidate.title.clone(),
            shade: Some(self.name.clone()),
            colour,
        }
    }

    fn holds_m(&self) -> f64 {
        self.lots.iter().map(|(_, holds)| holds).sum()
    }
}

/// How much of each lot a role uses: by the places of project and role.
pub(super) type LotsTaken = HashMap<(usize, usize), Vec<(StockLot, Length)>>;

impl Stash {
    pub(super) fn of(reader: &Reader<'_>, counted: &Counted<'_>) -> Result<Self, AppError> {
        let mut stash = Self {
            is_counted: true,
            ..Self::default()
        };
        for id in reader.yarns_in_stock()? {
            let usable = |stock: &LotInStock| counted.of(stock);
            let candidate = candidate_with(reader, reader.yarn(id)?, &usable)?;
            let yarn = stash.yarns.len();
            stash.shades.extend(shades(yarn, &candidate));
            stash.yarns.push((id, candidate));
        }
        Ok(stash)
    }

    pub(super) fn candidate(&self, yarn: usize) -> Option<&Candidate> {
        self.yarns.get(yarn).map(|(_, candidate)| candidate)
    }

    pub(super) fn shade(&self, place: usize) -> Option<&Shade> {
        self.shades.get(place)
    }

    /// The shades of a yarn, each with its place.
    fn of_yarn(&self, yarn: usize) -> impl Iterator<Item = (usize, &Shade)> {
        let shades = self.shades.iter().enumerate();
        shades.filter(move |(_, shade)| shade.yarn == yarn)
    }

    /// What there is of each shade, m.
    pub(super) fn holds_m(&self) -> Vec<f64> {
        self.shades.iter().map(Shade::holds_m).collect()
    }

    /// What there is of each lot of which these take something, and what they take, m.
    pub(super) fn use_of(&self, taken: &LotsTaken) -> Vec<LotUse> {
        let mut used = Vec::new();
        for shade in &self.shades {
            let Some((_, yarn)) = self.yarns.get(shade.yarn) else {
                continue;
            };
            for (lot, holds) in &shade.lots {
                let takes = taken
                    .values()
                    .flatten()
                    .filter(|(other, _)| other.id == lot.id);
                let used_m: f64 = takes.map(|(_, length)| length.as_metres()).sum();
                if used_m > 0.0 {
                    used.push(LotUse {
                        yarn: yarn.title.clone(),
                        lot: lot.clone(),
                        used_m,
                        left_m: (holds - used_m).max(0.0),
                    });
                }
            }
        }
        used
    }

    /// What is left of each shade once all of this is made, m.
    pub(super) fn rest_m(&self, made: &Made) -> Vec<f64> {
        let mut rest = self.holds_m();
        for choice in made.iter().flatten().flatten() {
            if let Some(rest) = rest.get_mut(choice.shade) {
                *rest = (*rest - choice.takes_m).max(0.0);
            }
        }
        rest
    }

    /// The lots of each shade, shared out among all that take of it.
    pub(super) fn lots_taken(&self, made: &Made) -> Result<LotsTaken, AppError> {
        let mut taken = LotsTaken::new();
        for (place, shade) in self.shades.iter().enumerate() {
            let takers = takers(made, place);
            let takes: Vec<f64> = takers.iter().map(|(_, takes)| *takes).collect();
            let holds: Vec<f64> = shade.lots.iter().map(|(_, holds)| *holds).collect();
            let shares = share_lots(&takes, &holds)?;
            for ((taker, _), shares) in takers.iter().zip(shares) {
                let lots = shares.iter().filter_map(|share| {
                    let (lot, _) = shade.lots.get(share.lot)?;
                    Some((lot.clone(), Length::metres(share.takes_m).ok()?))
                });
                taken.insert(*taker, lots.collect());
            }
        }
        Ok(taken)
    }
}

/// The places of project and role that take of a shade, and what, m.
fn takers(made: &Made, shade: usize) -> Vec<((usize, usize), f64)> {
    let made = made.iter().enumerate();
    let chosen = made.flat_map(|(project, chosen)| {
        let chosen = chosen.iter().flatten().enumerate();
        chosen.map(move |(role, choice)| ((project, role), choice))
    });
    let of_shade = chosen.filter(|(_, choice)| choice.shade == shade);
    of_shade
        .map(|(taker, choice)| (taker, choice.takes_m))
        .collect()
}

/// The shades of a yarn in the order of their lots; a lot whose length is not known
/// counts as nothing.
fn shades(yarn: usize, candidate: &Candidate) -> Vec<Shade> {
    let mut shades: Vec<Shade> = Vec::new();
    for lot in &candidate.lots {
        let Some(holds) = lot.length(&candidate.facts) else {
            continue;
        };
        let lot = (lot.clone(), holds.as_metres());
        let name = &lot.0.lot.shade;
        match shades.iter_mut().find(|shade| shade.name == *name) {
            Some(shade) => shade.lots.push(lot),
            None => shades.push(Shade {
                yarn,
                name: name.clone(),
                lots: vec![lot],
            }),
        }
    }
    shades
}

/// What may be used for a role of a project.
pub(super) struct RoleChoices {
    pub(super) key: String,
    /// What should or could work, whatever was chosen by hand.
    pub(super) options: Vec<YarnOption>,
    /// What was chosen by hand, and whether it should or could work.
    pub(super) pin: Option<(YarnOption, bool)>,
    /// Each shade of each yarn that should or could work, enough or not.
    pub(super) choices: Vec<Choice>,
    /// Those yarns by their places.
    offered: HashMap<usize, (Judgement, KnittingPlan)>,
}

impl RoleChoices {
    pub(super) fn of(
        asked: &ResolvedQuestion,
        role: &Role,
        stash: &Stash,
        pins: &[PinnedYarn],
    ) -> Result<Self, AppError> {
        let (mut choices, mut offered) = (Vec::new(), HashMap::new());
        let mut options = Vec::new();
        let pin = pins.iter().find(|pin| pin.role == role.key);
        for (yarn, (id, candidate)) in stash.yarns.iter().enumerate() {
            let Some((judgement, plan)) = usable(asked, role, candidate) else {
                continue;
            };
            let Some(takes) = takes(asked, role, candidate, plan)? else {
                continue;
            };
            for (place, shade) in stash.of_yarn(yarn) {
                let option = shade.option(*id, candidate);
                if pin.is_none_or(|pin| pin.yarn == *id && pin.is_shade(&shade.name)) {
                    choices.push(Choice {
                        shade: place,
                        takes_m: takes.as_metres(),
                        departure: judgement.for_ranking,
                    });
                }
                options.push(option);
            }
            offered.insert(yarn, (judgement, plan));
        }
        let key = role.key.clone();
        Ok(Self {
            key,
            options,
            pin: pin.map(|pin| {
                let will_work = usable(asked, role, &pin.candidate).is_some();
                (pin.into(), will_work)
            }),
            choices,
            offered,
        })
    }

    pub(super) fn offered(&self, yarn: usize) -> Option<&(Judgement, KnittingPlan)> {
        self.offered.get(&yarn)
    }
}

/// How a yarn was judged and would be knitted, where it should or could work and the
/// asker does not keep away from its fibres.
pub(super) fn usable(
    asked: &ResolvedQuestion,
    role: &Role,
    candidate: &Candidate,
) -> Option<(Judgement, KnittingPlan)> {
    let blend = candidate.facts.blend.as_ref().map(|blend| &blend.value);
    if asked.settings.limits.exclusion(blend).is_some() {
        return None;
    }
    let judgement = judged(asked, role, candidate, 1);
    let plan = best_plan(&judgement, 1);
    (judgement.verdict <= Verdict::CouldWork).then_some((judgement, plan))
}

/// Strand metres of the size with the margin; `None` where they are not known.
pub(super) fn takes(
    asked: &ResolvedQuestion,
    role: &Role,
    candidate: &Candidate,
    plan: KnittingPlan,
) -> Result<Option<Length>, AppError> {
    let place = asked.size.unwrap_or(0);
    let bought = bought(asked, role, candidate, place, plan)?;
    bought.map(|bought| with_margin(&bought)).transpose()
}
