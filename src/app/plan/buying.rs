//! The least to buy for a project that the stash alone does not make, and why not.

use super::{
    LeftOutProject, NotBought, Project, WhyLeftOut,
    kept::PinnedYarn,
    left_out::{LeastOf, PlannedPurchase, ShoppingList, total},
    stash::{LotsTaken, RoleChoices, Stash, takes, usable},
};
use crate::{
    app::{
        AppError, Source as Place,
        candidate_search::CandidateSource,
        question::{
            ResolvedQuestion, Role, answer::CandidateAnswer, candidate::Candidate, cover::Allotted,
            wishes::Wishes,
        },
    },
    measure::{Length, Money},
    planning::{Bought, Choice, Purchases, Roles, SkeinOnSale, Source, least_to_buy},
    quantity::cost,
    store::Reader,
};
use iso_currency::Currency;
use rust_decimal::prelude::ToPrimitive;
use std::time::{Duration, Instant};

/// How many yarns of the records are looked at for each role.
pub const MOST_NEW: usize = 20;

/// One purchase is looked for at least so long.
const LEAST_TIME: Duration = Duration::from_millis(200);

/// Goes shopping for one project after the other: what one takes of the stash, the next
/// does not count on.
pub(super) struct Shopping<'a> {
    reader: &'a Reader<'a>,
    stash: &'a Stash,
    /// What is left of each lot of each shade, m.
    rest_m: Vec<Vec<f64>>,
    time_left: &'a dyn Fn() -> Duration,
}

/// Something that can be taken or bought.
struct Offer {
    candidate: Candidate,
    shade: Option<String>,
    there_m: f64,
    /// Whether skeins of it can be bought.
    is_sold: bool,
}

impl<'a> Shopping<'a> {
    pub(super) fn new(
        reader: &'a Reader<'a>,
        stash: &'a Stash,
        taken: &LotsTaken,
        time_left: &'a dyn Fn() -> Duration,
    ) -> Self {
        Self {
            reader,
            stash,
            rest_m: stash.rest_m(taken),
            time_left,
        }
    }

    pub(super) fn left_out(&mut self, project: &Project) -> Result<LeftOutProject, AppError> {
        let why = self.why(project)?;
        let (buy, not_bought) = match self.wished(project)? {
            Ok(list) => (list, None),
            Err(not_bought) => (None, Some(not_bought)),
        };
        Ok(LeftOutProject {
            pattern: project.question.title.clone(),
            size: project.size.clone(),
            kept: project.kept.clone(),
            is_of_one_yarn: project.roles.len() == 1,
            why,
            buy,
            not_bought,
        })
    }

    /// The least to buy, as far as it is as wished; the next project counts on what is
    /// not taken of the stash.
    fn wished(
        &mut self,
        project: &Project,
    ) -> Result<Result<Option<ShoppingList>, NotBought>, AppError> {
        let wishes = &project.question.wishes;
        if wishes.is_enough {
            return Ok(Err(NotBought::StashOnly));
        }
        let (list, found) = match self.list(project)? {
            Ok(found) => found,
            Err(nothing) => return Ok(nothing.map_or(Ok(None), Err)),
        };
        if let Some((least, most)) = list.cost.zip(wishes.max_cost)
            && least.amount > most.amount
        {
            let is_least = list.is_least;
            return Ok(Err(NotBought::CostsMore {
                least,
                most,
                is_least,
            }));
        }
        self.take(&found);
        Ok(Ok(Some(list)))
    }

    /// The first role that nothing is there for decides.
    fn why(&self, project: &Project) -> Result<WhyLeftOut, AppError> {
        if !self.stash.is_counted {
            return Ok(WhyLeftOut::StashNotCounted);
        }
        for (role, found) in project.question.roles.iter().zip(&project.roles) {
            let key = found.key.clone();
            if role.needs.is_empty() {
                return Ok(WhyLeftOut::NeedNotKnown(key));
            }
            let lacks = |choice: &&Choice| choice.takes_m - self.holds_m(choice);
            let choices = found.choices.iter();
            let nearest = choices.min_by(|a, b| lacks(a).total_cmp(&lacks(b)));
            let Some(nearest) = nearest else {
                return Ok(nothing_for(key, found));
            };
            if lacks(&nearest) > 0.0 {
                return self.not_enough(&project.question.wishes, found, nearest);
            }
        }
        let left_out = project.roles.iter().flat_map(|role| role.left_out.clone());
        Ok(WhyLeftOut::OthersFirst(left_out.collect()))
    }

    fn holds_m(&self, choice: &Choice) -> f64 {
        self.stash.supply.holds_m(choice.part)
    }

    fn not_enough(
        &self,
        wishes: &Wishes,
        found: &RoleChoices,
        nearest: &Choice,
    ) -> Result<WhyLeftOut, AppError> {
        let shade = self.stash.shade(nearest.shade);
        let yarn = shade.and_then(|shade| self.stash.candidate(shade.yarn));
        Ok(WhyLeftOut::NotEnough {
            role: found.key.clone(),
            yarn: yarn.map_or_else(String::new, |yarn| yarn.title.clone()),
            shade: shade.map_or_else(String::new, |shade| shade.name.clone()),
            holds: Length::metres(self.holds_m(nearest))?,
            takes: Length::metres(nearest.takes_m)?,
            is_one_lot: wishes.is_one_lot,
            place: wishes.place.clone(),
            left_out: found.left_out.clone(),
        })
    }

    /// The least to buy for a project, or why nothing was found.
    fn list(
        &self,
        project: &Project,
    ) -> Result<Result<(ShoppingList, Purchases), Option<NotBought>>, AppError> {
        let wishes = &project.question.wishes;
        let asked = ResolvedQuestion {
            wishes: wishes.of_purchase(),
            ..project.question.clone()
        };
        // What is bought now is of another lot.
        let mut offers = self.parts(!wishes.is_one_lot);
        let mut roles: Roles = Vec::new();
        for (role, found) in project.question.roles.iter().zip(&project.roles) {
            let mut choices = found.choices.clone();
            let pin = project.pins.iter().find(|pin| pin.role == role.key);
            self.add_new((&asked, role, pin), &mut offers, &mut choices)?;
            roles.push(choices);
        }
        let currency = match wishes.max_cost {
            Some(most) => Some(most.currency),
            None => common_currency(&offers, &roles),
        };
        let sources = sources(&offers, currency);
        let end = Instant::now() + (self.time_left)().max(LEAST_TIME);
        let time_left = || end.saturating_duration_since(Instant::now());
        let found = match least_to_buy(&roles, &sources, &time_left)? {
            Bought::All(found) => found,
            Bought::OutOfTime => return Ok(Err(Some(NotBought::OutOfTime))),
            Bought::Nothing => {
                let currency = wishes.max_cost.map(|most| most.currency);
                return Ok(Err(currency.map(NotBought::NoPrice)));
            }
        };
        let list = list((&asked, project), (&offers, currency), &found)?;
        Ok(Ok((list, found)))
    }

    /// Every shade of the stash and every part of one, with what is left of it.
    fn parts(&self, is_sold: bool) -> Vec<Offer> {
        let parts = (0..).map_while(|part| self.stash.supply.lots_of(part));
        let offers = parts.filter_map(|(place, lots)| {
            let shade = self.stash.shade(place)?;
            let rest = self.rest_m.get(place)?;
            Some(Offer {
                candidate: self.stash.candidate(shade.yarn)?.clone(),
                shade: Some(shade.name.clone()),
                there_m: lots.iter().filter_map(|lot| rest.get(*lot)).sum(),
                is_sold,
            })
        });
        offers.collect()
    }

    /// Adds what could be bought anew for a role: what was chosen by hand, else the best of
    /// all yarns that are still made.
    fn add_new(
        &self,
        (asked, role, pin): (&ResolvedQuestion, &Role, Option<&PinnedYarn>),
        offers: &mut Vec<Offer>,
        choices: &mut Vec<Choice>,
    ) -> Result<(), AppError> {
        if let Some(pin) = pin {
            if pin.shade.is_some() && !choices.is_empty() {
                return Ok(());
            }
            return offer_new((asked, role), pin.candidate.clone(), offers, choices);
        }
        let among = CandidateSource {
            reader: self.reader,
            from: Place::Catalogue,
            with_reserved: false,
            top: MOST_NEW,
            meant: &|yarn| !yarn.discontinued,
        };
        let found = among.best(asked, role, &Allotted::default())?;
        for (id, _) in found.with_grist.into_iter().chain(found.without_grist) {
            offer_new((asked, role), among.candidate(asked, id)?, offers, choices)?;
        }
        Ok(())
    }

    /// What a purchase takes of the stash is gone for the next.
    fn take(&mut self, found: &Purchases) {
        for choice in &found.chosen {
            let Some((shade, lots)) = self.stash.supply.lots_of(choice.part) else {
                continue;
            };
            let Some(rest) = self.rest_m.get_mut(shade) else {
                continue;
            };
            let mut open = choice.takes_m;
            for lot in lots {
                if let Some(left) = rest.get_mut(lot) {
                    let takes = left.min(open);
                    *left -= takes;
                    open -= takes;
                }
            }
        }
    }
}

/// Why nothing of the stash is there for a role.
fn nothing_for(key: String, found: &RoleChoices) -> WhyLeftOut {
    match (&found.pin, found.left_out.is_empty()) {
        (Some((pin, true)), _) => WhyLeftOut::PinNotInStash(key, pin.clone()),
        (Some((pin, false)), _) => WhyLeftOut::PinWillNotWork(key, pin.clone()),
        (None, true) => WhyLeftOut::NothingFor(key),
        (None, false) => WhyLeftOut::NothingAsWished(key, found.left_out.clone()),
    }
}

/// Adds a yarn that could be bought anew, where it should or could work.
fn offer_new(
    (asked, role): (&ResolvedQuestion, &Role),
    candidate: Candidate,
    offers: &mut Vec<Offer>,
    choices: &mut Vec<Choice>,
) -> Result<(), AppError> {
    let Some((judgement, plan)) = usable(asked, role, &candidate) else {
        return Ok(());
    };
    let Some(takes) = takes(asked, role, &candidate, plan)? else {
        return Ok(());
    };
    choices.push(Choice {
        shade: offers.len(),
        part: offers.len(),
        takes_m: takes.as_metres(),
        departure: judgement.for_ranking,
    });
    offers.push(Offer {
        candidate,
        shade: None,
        there_m: 0.0,
        is_sold: true,
    });
    Ok(())
}

/// What each offer counts: money in a currency (and then only what has a price in it),
/// else metres.
fn sources(offers: &[Offer], currency: Option<Currency>) -> Vec<Source> {
    let source = |offer: &Offer| Source {
        there_m: offer.there_m,
        skein: offer.on_sale(currency),
    };
    offers.iter().map(source).collect()
}

/// The currency in which every role has something with a price.
fn common_currency(offers: &[Offer], roles: &Roles) -> Option<Currency> {
    let of_role = |role: &Vec<Choice>| -> Vec<Currency> {
        let offered = role.iter().filter_map(|choice| offers.get(choice.part));
        let prices = offered.filter_map(|offer| offer.price(1));
        prices.map(|price| price.currency).collect()
    };
    let of_roles: Vec<Vec<Currency>> = roles.iter().map(of_role).collect();
    let first = of_roles.first()?.iter();
    let mut common = first.filter(|currency| of_roles.iter().all(|all| all.contains(currency)));
    common.next().copied()
}

impl Offer {
    fn price(&self, skeins: u32) -> Option<Money> {
        let facts = &self.candidate.facts;
        let price = self.candidate.price()?;
        cost(price, skeins, facts.skein_length(), facts.skein_mass())
    }

    /// A skein that can be bought; none of what is discontinued, or has no price where
    /// prices count.
    fn on_sale(&self, currency: Option<Currency>) -> Option<SkeinOnSale> {
        if self.candidate.discontinued || !self.is_sold {
            return None;
        }
        let metres = self.candidate.facts.skein_length()?.as_metres();
        let price = match currency {
            None => metres,
            Some(currency) => {
                let price = self.price(1).filter(|price| price.currency == currency)?;
                price.amount.to_f64()?
            }
        };
        Some(SkeinOnSale { metres, price })
    }
}

/// What was found for each role.
fn list(
    (asked, project): (&ResolvedQuestion, &Project),
    (offers, currency): (&[Offer], Option<Currency>),
    found: &Purchases,
) -> Result<ShoppingList, AppError> {
    let roles = project.question.roles.iter().zip(&found.chosen);
    let offered = roles.filter_map(|(role, choice)| {
        let offer = offers.get(choice.part)?;
        let judged = usable(asked, role, &offer.candidate)?;
        Some((role, choice, (offer, judged)))
    });
    let yarns = offered.map(|(role, choice, (offer, judged))| {
        let bought = found.skeins.iter().find(|(place, _)| *place == choice.part);
        let skeins = bought.map_or(0, |(_, skeins)| *skeins);
        Ok(PlannedPurchase {
            role: role.key.clone(),
            offered: CandidateAnswer::new(
                asked,
                role,
                offer.candidate.clone(),
                judged,
                &Allotted::default(),
            )?,
            shade: offer.shade.clone().filter(|_| offer.there_m > 0.0),
            takes: Length::metres(choice.takes_m)?,
            from_stash: Length::metres(offer.there_m.min(choice.takes_m))?,
            skeins,
            cost: offer.price(skeins),
        })
    });
    let yarns: Vec<PlannedPurchase> = yarns.collect::<Result<_, AppError>>()?;
    Ok(ShoppingList {
        cost: total(&yarns),
        yarns,
        counts: match currency {
            Some(_) => LeastOf::Money,
            None => LeastOf::Length,
        },
        is_least: found.is_least,
    })
}
