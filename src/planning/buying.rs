//! The least to buy so that a project that is left out can be made too.

use super::programme::{Choice, PlanError, Programme, Roles, SLACK, Wish};
use crate::quantity::whole_up;
use std::time::Duration;

/// What there is of a part of a shade, and what can be bought of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Source {
    /// What is there and free, m; 0 where it would be new.
    pub there_m: f64,
    /// A skein that can be bought.
    pub skein: Option<SkeinOnSale>,
}

/// A skein that can be bought.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SkeinOnSale {
    /// Its length, m.
    pub metres: f64,
    /// What counts as its price: money, or metres where prices are not known.
    pub price: f64,
}

/// What to buy for a project.
#[derive(Debug, Clone, PartialEq)]
pub struct Purchases {
    /// The choice of each role.
    pub chosen: Vec<Choice>,
    /// Place of each source that is bought of, and how many skeins.
    pub skeins: Vec<(usize, u32)>,
    /// Whether nothing costs less.
    pub is_least: bool,
}

/// What was found to buy.
#[derive(Debug, Clone, PartialEq)]
pub enum Bought {
    /// This.
    All(Purchases),
    /// Some role has no choice that could be bought.
    Nothing,
    /// The time was over before anything was found.
    OutOfTime,
}

/// The choices that cost least; among equals those that depart least.
///
/// Skeins of a source: `ceil((taken - there) / length of a skein - 1e-9)`.
pub fn least_to_buy(
    roles: &Roles,
    sources: &[Source],
    time_left: &dyn Fn() -> Duration,
) -> Result<Bought, PlanError> {
    let parts: Vec<_> = sources.iter().map(Source::of_programme).collect();
    let project = std::slice::from_ref(roles);
    let mut programme = Programme::new(project, &[Wish::Make], true);
    let cost = programme.buy(&parts);
    let Some(cheapest) = programme.least(cost, time_left(), &vec![None])? else {
        return Ok(match time_left() > Duration::ZERO {
            true => Bought::Nothing,
            false => Bought::OutOfTime,
        });
    };
    let mut made = cheapest.made.into_iter().flatten();
    let Some(chosen) = made.next() else {
        return Ok(Bought::Nothing);
    };
    let least = cost_of(&chosen, sources);
    let mut programme = Programme::new(project, &[Wish::Make], true);
    let cost = programme.buy(&parts);
    let programme = programme.with(cost.leq(least + SLACK));
    let departure = programme.departure();
    let nearest = programme.least(departure, time_left(), &vec![Some(chosen.clone())])?;
    let nearest = nearest.and_then(|found| found.made.into_iter().flatten().next());
    let chosen = nearest.unwrap_or(chosen);
    Ok(Bought::All(Purchases {
        skeins: skeins(&chosen, sources),
        chosen,
        is_least: cheapest.is_proved,
    }))
}

impl Source {
    fn of_programme(&self) -> (f64, Option<(f64, f64)>) {
        (
            self.there_m,
            self.skein.map(|skein| (skein.metres, skein.price)),
        )
    }
}

fn cost_of(chosen: &[Choice], sources: &[Source]) -> f64 {
    let bought = skeins(chosen, sources).into_iter();
    bought
        .filter_map(|(place, skeins)| {
            let skein = sources.get(place)?.skein?;
            Some(f64::from(skeins) * skein.price)
        })
        .sum()
}

fn skeins(chosen: &[Choice], sources: &[Source]) -> Vec<(usize, u32)> {
    let places = sources.iter().enumerate();
    places
        .filter_map(|(place, source)| {
            let taken = chosen.iter().filter(|choice| choice.part == place);
            let taken: f64 = taken.map(|choice| choice.takes_m).sum();
            let lacks = (taken - source.there_m).max(0.0);
            let skeins = whole_up(lacks / source.skein?.metres)?;
            (skeins > 0).then_some((place, skeins))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const TIME: fn() -> Duration = || Duration::from_secs(20);

    fn choice(shade: usize, takes_m: f64) -> Choice {
        Choice {
            shade,
            part: shade,
            takes_m,
            departure: 0.5,
        }
    }

    fn source(there_m: f64, skein: Option<(f64, f64)>) -> Source {
        let skein = skein.map(|(metres, price)| SkeinOnSale { metres, price });
        Source { there_m, skein }
    }

    fn all_of(found: Result<Bought, PlanError>) -> Option<Purchases> {
        match found.unwrap() {
            Bought::All(found) => Some(found),
            Bought::Nothing => None,
            Bought::OutOfTime => panic!("out of time"),
        }
    }

    #[test]
    fn that_the_time_was_over_is_told_apart_from_nothing_to_buy() {
        let sources = [source(0.0, Some((100.0, 9.0)))];
        let found = least_to_buy(&vec![vec![choice(0, 200.0)]], &sources, &|| Duration::ZERO);
        assert_ne!(found.unwrap(), Bought::Nothing);
    }

    #[test]
    fn two_more_skeins_of_what_is_there_cost_less_than_all_of_another() {
        let sources = [
            source(300.0, Some((100.0, 9.0))),
            source(0.0, Some((250.0, 10.0))),
        ];
        let roles = vec![vec![choice(0, 500.0), choice(1, 500.0)]];
        let found = all_of(least_to_buy(&roles, &sources, &TIME)).unwrap();
        assert_eq!(found.skeins, [(0, 2)]);
        assert!(found.is_least);
    }

    #[test]
    fn two_roles_do_not_take_the_same_shade() {
        let sources = [source(500.0, None), source(0.0, Some((100.0, 9.0)))];
        let roles = vec![
            vec![choice(0, 200.0), choice(1, 200.0)],
            vec![choice(0, 250.0), choice(1, 250.0)],
        ];
        let found = all_of(least_to_buy(&roles, &sources, &TIME)).unwrap();
        assert_eq!(found.skeins, [(1, 2)]);
    }

    #[test]
    fn what_is_no_longer_sold_cannot_be_topped_up() {
        let roles = vec![vec![choice(0, 200.0)]];
        let found = least_to_buy(&roles, &[source(100.0, None)], &TIME);
        assert_eq!(found.unwrap(), Bought::Nothing);
    }

    /// The least that any choice costs, each tried; nothing where none is possible.
    fn least_of_all(roles: &Roles, sources: &[Source]) -> Option<f64> {
        let mut all = vec![Vec::new()];
        for role in roles {
            let longer = all.iter().flat_map(|begun: &Vec<Choice>| {
                let one = |choice: &Choice| begun.iter().copied().chain([*choice]).collect();
                role.iter().map(one).collect::<Vec<Vec<Choice>>>()
            });
            all = longer.collect();
        }
        let is_apart = |chosen: &&Vec<Choice>| {
            let mut shades: Vec<usize> = chosen.iter().map(|choice| choice.shade).collect();
            shades.sort_unstable();
            shades.windows(2).all(|pair| pair[0] != pair[1])
        };
        let possible = all.iter().filter(is_apart);
        let costs = possible.map(|chosen| cost_of(chosen, sources));
        costs.min_by(f64::total_cmp)
    }

    proptest! {
        #[test]
        fn prop_nothing_costs_less_of_all_that_could_be_bought(
            sources in prop::collection::vec((0..400u32, 50..200u32, 1..20u32), 2..5),
            roles in prop::collection::vec(
                prop::collection::vec((0..5usize, 20..600u32), 1..4), 1..4),
        ) {
            let sources: Vec<Source> = sources.into_iter()
                .map(|(there, metres, price)| {
                    source(f64::from(there), Some((f64::from(metres), f64::from(price))))
                })
                .collect();
            let roles: Roles = roles.into_iter()
                .map(|role| role.into_iter()
                    .map(|(shade, takes)| choice(shade % sources.len(), f64::from(takes)))
                    .collect())
                .collect();
            let found = all_of(least_to_buy(&roles, &sources, &TIME));
            let cost = found.map(|found| cost_of(&found.chosen, &sources));
            let least = least_of_all(&roles, &sources);
            prop_assert_eq!(cost.is_some(), least.is_some());
            prop_assert!((cost.unwrap_or(0.0) - least.unwrap_or(0.0)).abs() < 1e-6);
        }
    }
}
