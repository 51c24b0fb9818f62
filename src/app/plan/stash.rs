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
            wishes::{LeftOutReason, Wishes},
        },
    },
    matching::{FibreLimits, Judgement, Verdict},
    measure::Length,
    planning::{Choice, Made, Supply, Taker, share_lots},
    record::{Blend, Id, StockAmount, Yarn},
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
    /// The same in metres, with the parts of shades that someone will have.
    pub(super) supply: Supply,
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

    fn lots_m(&self) -> Vec<f64> {
        self.lots.iter().map(|(_, holds)| *holds).collect()
    }

    /// The places of the lots that someone will have.
    fn lots_meant(&self, wishes: &Wishes) -> Vec<usize> {
        let lots = self.lots.iter().enumerate();
        let meant = lots.filter(|(_, (held, _))| wishes.is_lot_meant(held));
        meant.map(|(place, _)| place).collect()
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
        stash.supply = Supply::of_lots(stash.shades.iter().map(Shade::lots_m).collect());
        Ok(stash)
    }

    pub(super) fn candidate(&self, yarn: usize) -> Option<&Candidate> {
        self.yarns.get(yarn).map(|(_, candidate)| candidate)
    }

    pub(super) fn shade(&self, place: usize) -> Option<&Shade> {
        self.shades.get(place)
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

    /// What is left of each lot of each shade, m.
    pub(super) fn rest_m(&self, taken: &LotsTaken) -> Vec<Vec<f64>> {
        let rest = |(lot, holds): &(StockLot, f64)| {
            let takes = taken.values().flatten();
            let takes = takes.filter(|(other, _)| other.id == lot.id);
            let taken: f64 = takes.map(|(_, length)| length.as_metres()).sum();
            (holds - taken).max(0.0)
        };
        let shades = self.shades.iter();
        shades
            .map(|shade| shade.lots.iter().map(rest).collect())
            .collect()
    }

    /// The lots of each shade, shared out among all that take of it.
    pub(super) fn lots_taken(&self, made: &Made) -> Result<LotsTaken, AppError> {
        let mut taken = LotsTaken::new();
        for (place, shade) in self.shades.iter().enumerate() {
            let (places, takers): (Vec<_>, Vec<Taker>) =
                self.takers(made, place).into_iter().unzip();
            let shares = share_lots(&takers, self.supply.lots_m(place))?;
            for (taker, shares) in places.into_iter().zip(shares) {
                let lots = shares.iter().filter_map(|share| {
                    let (lot, _) = shade.lots.get(share.lot)?;
                    Some((lot.clone(), Length::metres(share.takes_m).ok()?))
                });
                taken.insert(taker, lots.collect());
            }
        }
        Ok(taken)
    }

    /// The places of project and role that take of a shade, and what of which lots.
    fn takers(&self, made: &Made, shade: usize) -> Vec<((usize, usize), Taker)> {
        let made = made.iter().enumerate();
        let chosen = made.flat_map(|(project, chosen)| {
            let chosen = chosen.iter().flatten().enumerate();
            chosen.map(move |(role, choice)| ((project, role), choice))
        });
        let of_shade = chosen.filter(|(_, choice)| choice.shade == shade);
        let takers = of_shade.filter_map(|(place, choice)| {
            let (_, lots) = self.supply.lots_of(choice.part)?;
            let takes_m = choice.takes_m;
            Some((place, Taker { takes_m, lots }))
        });
        takers.collect()
    }

    /// The parts of a yarn's shades that someone will have, each lot by itself where one
    /// must be enough, with the places of their shades.
    fn parts(
        &mut self,
        yarn: usize,
        wishes: &Wishes,
        pin: Option<&PinnedYarn>,
    ) -> Vec<(usize, usize)> {
        let mut parts = Vec::new();
        for (place, shade) in self.shades.iter().enumerate() {
            if shade.yarn != yarn || pin.is_some_and(|pin| !pin.is_shade(&shade.name)) {
                continue;
            }
            let lots = shade.lots_meant(wishes);
            let sets = match wishes.is_one_lot {
                true => lots.chunks(1).map(<[usize]>::to_vec).collect(),
                false => vec![lots],
            };
            let sets = sets.into_iter().filter(|lots| !lots.is_empty());
            let supply = &mut self.supply;
            parts.extend(sets.filter_map(|lots| Some((place, supply.part(place, &lots)?))));
        }
        parts
    }
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
    /// Each shade, or part of one, of each yarn that should or could work and is as
    /// wished, enough or not.
    pub(super) choices: Vec<Choice>,
    /// Yarns that would work and are not as wished, by reason.
    pub(super) left_out: Vec<(LeftOutReason, u64)>,
    /// Those yarns by their places.
    offered: HashMap<usize, (Judgement, KnittingPlan)>,
}

impl RoleChoices {
    pub(super) fn of(
        asked: &ResolvedQuestion,
        role: &Role,
        stash: &mut Stash,
        pins: &[PinnedYarn],
    ) -> Result<Self, AppError> {
        let pin = pins.iter().find(|pin| pin.role == role.key);
        let will_work = |pin: &PinnedYarn| usable(asked, role, &pin.candidate).is_some();
        let mut found = Self {
            key: role.key.clone(),
            options: Vec::new(),
            pin: pin.map(|pin| (pin.into(), will_work(pin))),
            choices: Vec::new(),
            left_out: Vec::new(),
            offered: HashMap::new(),
        };
        let wishes = wishes_beside(&asked.wishes, pin);
        let unlimited = without_limits(asked);
        for yarn in 0..stash.yarns.len() {
            let Some((id, candidate)) = stash.yarns.get(yarn) else {
                continue;
            };
            let Some((judgement, plan)) = usable(asked, role, candidate) else {
                found.leave_out_for_fibre((asked, &unlimited), role, candidate);
                continue;
            };
            let Some(takes) = takes(asked, role, candidate, plan)? else {
                continue;
            };
            let shades = stash.shades.iter().filter(|shade| shade.yarn == yarn);
            let options = shades.map(|shade| shade.option(*id, candidate));
            found.options.extend(options);
            if pin.is_none_or(|pin| pin.yarn == *id) {
                let unmet = wishes.none_meant(&candidate.lots);
                found.leave_out(unmet.map(LeftOutReason::Wish));
                let parts = stash.parts(yarn, &wishes, pin);
                let choice = |(shade, part)| Choice {
                    shade,
                    part,
                    takes_m: takes.as_metres(),
                    departure: judgement.for_ranking,
                };
                found.choices.extend(parts.into_iter().map(choice));
            }
            found.offered.insert(yarn, (judgement, plan));
        }
        Ok(found)
    }

    fn leave_out(&mut self, why: Option<LeftOutReason>) {
        let Some(why) = why else {
            return;
        };
        match self.left_out.iter_mut().find(|(known, _)| *known == why) {
            Some((_, count)) => *count += 1,
            None => self.left_out.push((why, 1)),
        }
    }

    /// Counts a yarn that would work but for its fibres.
    fn leave_out_for_fibre(
        &mut self,
        (asked, unlimited): (&ResolvedQuestion, &ResolvedQuestion),
        role: &Role,
        candidate: &Candidate,
    ) {
        let excluded = asked.settings.limits.exclusion(blend_of(candidate));
        let why = excluded.filter(|_| usable(unlimited, role, candidate).is_some());
        self.leave_out(why.map(LeftOutReason::Fibre));
    }

    pub(super) fn offered(&self, yarn: usize) -> Option<&(Judgement, KnittingPlan)> {
        self.offered.get(&yarn)
    }
}

/// What is wished for where a yarn was chosen by hand: a shade that was chosen counts
/// more than words of shades.
fn wishes_beside(wishes: &Wishes, pin: Option<&PinnedYarn>) -> Wishes {
    let has_shade = pin.is_some_and(|pin| pin.shade.is_some());
    Wishes {
        shade: wishes.shade.clone().filter(|_| !has_shade),
        ..wishes.clone()
    }
}

/// The same question by one who keeps away from nothing.
fn without_limits(asked: &ResolvedQuestion) -> ResolvedQuestion {
    let mut free = asked.clone();
    free.settings.limits = FibreLimits::default();
    free
}

fn blend_of(candidate: &Candidate) -> Option<&Blend> {
    candidate.facts.blend.as_ref().map(|blend| &blend.value)
}

/// How a yarn was judged and would be knitted, where it should or could work and the
/// asker does not keep away from its fibres.
pub(super) fn usable(
    asked: &ResolvedQuestion,
    role: &Role,
    candidate: &Candidate,
) -> Option<(Judgement, KnittingPlan)> {
    let limits = &asked.settings.limits;
    if limits.exclusion(blend_of(candidate)).is_some() {
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
