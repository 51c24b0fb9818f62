//! As many projects as possible from what is there, and nothing given twice.

use super::{
    programme::{Choice, Found, Made, PlanError, Programme, Roles, SCRAP_M, SLACK, Wish, whole},
    supply::{Limit, Supply},
};
use std::{collections::HashSet, time::Duration};

/// To choose among yarns for the same projects takes this part of the time at most: where
/// many shades are alike, to prove the last of it takes longer than all else, and says
/// nothing that is seen in the cloth.
const PART_FOR_YARNS: u32 = 5;

/// Which project gets what.
#[derive(Debug, Clone, PartialEq)]
pub struct Shares {
    /// What each role takes.
    pub made: Made,
    /// How many projects can be made at most, as far as is proved.
    pub at_most: usize,
    /// Whether nothing better is possible: neither in number, nor in order, departure
    /// and scraps.
    pub is_optimal: bool,
}

/// Gives yarn to as many projects as possible; among equals to those that come first;
/// then with the least sum of departures; then with the least left in scraps.
///
/// A project is made where each of its roles has a choice, and no two the same shade.
/// `time_left` bounds the search: where it runs out, the best so far is given.
pub fn share_out(
    projects: &[Roles],
    supply: &Supply,
    time_left: &dyn Fn() -> Duration,
) -> Result<Shares, PlanError> {
    let possible = projects.iter().map(|roles| possible(roles, supply));
    let projects: Vec<Roles> = possible.collect();
    let nearest = nearest(&projects);
    let limits = supply.limits();
    let mut search = Search {
        made: first_come(&projects, &limits),
        projects: &projects,
        nearest: &nearest,
        holds_m: &supply.shades_m(),
        limits: &limits,
        time_left,
        is_proved: true,
    };
    let at_most = search.make_most()?;
    search.prefer_earlier()?;
    if search.count() > 0 {
        search.depart_least()?;
        search.leave_least_scraps()?;
    }
    Ok(Shares {
        made: search.made,
        at_most,
        is_optimal: search.is_proved,
    })
}

/// The choices that there is enough for; no role at all where one has none.
fn possible(roles: &[Vec<Choice>], supply: &Supply) -> Roles {
    let is_enough = |choice: &&Choice| choice.takes_m <= supply.holds_m(choice.part) + SLACK;
    let roles = roles.iter();
    let roles: Roles = roles
        .map(|role| role.iter().filter(is_enough).copied().collect())
        .collect();
    if roles.iter().any(Vec::is_empty) {
        return Vec::new();
    }
    roles
}

/// The choices of each role of as many shades as there are roles, the nearest: one of
/// these is always left to it, since each other role takes one shade.
fn nearest(projects: &[Roles]) -> Vec<Roles> {
    let most = projects.iter().flatten().count();
    let nearest = |role: &Vec<Choice>| {
        let mut role = role.clone();
        role.sort_by(|a, b| a.departure.total_cmp(&b.departure));
        let mut shades = HashSet::new();
        role.retain(|choice| {
            shades.contains(&choice.shade) || shades.len() < most && shades.insert(choice.shade)
        });
        role
    };
    let projects = projects.iter();
    let projects = projects.map(|roles| roles.iter().map(nearest).collect());
    projects.collect()
}

fn least(role: &[Choice]) -> f64 {
    let departures = role.iter().map(|choice| choice.departure);
    departures.min_by(f64::total_cmp).unwrap_or(0.0)
}

/// Each project in order takes the least departure of what is still there.
fn first_come(projects: &[Roles], limits: &[Limit]) -> Made {
    let mut left = limits.to_vec();
    let projects = projects.iter();
    projects
        .map(|roles| {
            let mut after = left.clone();
            let chosen = take_nearest(roles, &mut after)?;
            left = after;
            Some(chosen)
        })
        .collect()
}

fn take_nearest(roles: &Roles, left: &mut [Limit]) -> Option<Vec<Choice>> {
    let mut chosen: Vec<Choice> = Vec::new();
    for role in roles {
        let there = role.iter().filter(|choice| {
            let is_new = chosen.iter().all(|other| other.shade != choice.shade);
            let mut bounds = left.iter().filter(|it| it.parts.contains(&choice.part));
            is_new && bounds.all(|limit| choice.takes_m <= limit.holds_m)
        });
        let nearest = *there.min_by(|a, b| a.departure.total_cmp(&b.departure))?;
        let bounds = left.iter_mut();
        let bounds = bounds.filter(|it| it.parts.contains(&nearest.part));
        bounds.for_each(|limit| limit.holds_m -= nearest.takes_m);
        chosen.push(nearest);
    }
    (!chosen.is_empty()).then_some(chosen)
}

/// The choices of a project that depart by as much as those that were made of it.
fn alike((roles, made): (&Roles, &Option<Vec<Choice>>)) -> Roles {
    let made = made.iter().flatten();
    let roles = roles.iter().zip(made).map(|(role, chosen)| {
        let is_alike = |choice: &&Choice| choice.departure <= chosen.departure;
        role.iter().filter(is_alike).copied().collect()
    });
    roles.collect()
}

struct Search<'a> {
    /// Without roles where it cannot be made.
    projects: &'a [Roles],
    /// The choices that decide which can be made.
    nearest: &'a [Roles],
    /// What there is of each shade, m.
    holds_m: &'a [f64],
    limits: &'a [Limit],
    time_left: &'a dyn Fn() -> Duration,
    /// The best so far.
    made: Made,
    /// Whether every step so far was proved.
    is_proved: bool,
}

impl<'a> Search<'a> {
    fn programme(&self, wishes: &[Wish]) -> Programme<'a> {
        Programme::new(self.nearest, wishes, true).with_limits(self.limits)
    }

    fn count(&self) -> usize {
        self.made.iter().flatten().count()
    }

    /// As many projects as possible; returns how many there can be at most.
    fn make_most(&mut self) -> Result<usize, PlanError> {
        let possible = self.projects.iter().filter(|roles| !roles.is_empty());
        let possible = possible.count();
        if self.count() == possible {
            return Ok(possible);
        }
        let either = vec![Wish::Either; self.projects.len()];
        let relaxed = Programme::new(self.nearest, &either, false).with_limits(self.limits);
        let count = relaxed.count();
        let bound = relaxed.most(count)?.min(possible);
        if self.count() == bound {
            return Ok(bound);
        }
        let programme = self.programme(&either);
        let count = programme.count();
        let is_proved = self.take(programme, -count)?;
        Ok(if is_proved { self.count() } else { bound })
    }

    /// Among as many projects those that come first: each that was left out is made
    /// where those before it, and as many in all, still are.
    fn prefer_earlier(&mut self) -> Result<(), PlanError> {
        let count = whole(self.count());
        for (place, roles) in self.projects.iter().enumerate() {
            let is_left_out = self.made.get(place).is_some_and(Option::is_none);
            let later = self.made.iter().skip(place).flatten().count();
            if !is_left_out || roles.is_empty() || later == 0 {
                continue;
            }
            let programme = self.programme(&self.wishes(place));
            let as_many = programme.count().geq(count);
            let this = programme.is_made(place);
            self.take(programme.with(as_many), -this)?;
        }
        Ok(())
    }

    fn depart_least(&mut self) -> Result<(), PlanError> {
        let in_reach = self.in_reach();
        if in_reach.iter().flatten().all(|role| role.len() < 2) {
            return Ok(());
        }
        let wishes = self.wishes(self.projects.len());
        let programme = Programme::new(&in_reach, &wishes, true).with_limits(self.limits);
        let departure = programme.departure();
        let time = (self.time_left)() / PART_FOR_YARNS;
        self.take_within(programme, departure, time)?;
        Ok(())
    }

    /// The choices with which the sum of departures may become less: with all others at
    /// their least, none may be farther from the least of its role than the sum is from
    /// that of all.
    fn in_reach(&self) -> Vec<Roles> {
        let chosen = |made: &Option<Vec<Choice>>| made.clone().unwrap_or_default();
        let made = || self.nearest.iter().zip(self.made.iter().map(chosen));
        let each = made().flat_map(|(roles, chosen)| roles.iter().zip(chosen));
        let excess: f64 = each
            .map(|(role, chosen)| chosen.departure - least(role))
            .sum();
        let is_in_reach = |role: &Vec<Choice>, chosen: &Choice| -> Vec<Choice> {
            let reach = least(role) + excess;
            let near = role.iter();
            near.filter(|it| it.departure <= reach && *it != chosen)
                .chain([chosen])
                .copied()
                .collect()
        };
        made()
            .map(|(roles, chosen)| {
                let each = roles.iter().zip(&chosen);
                each.map(|(role, chosen)| is_in_reach(role, chosen))
                    .collect()
            })
            .collect()
    }

    /// Among choices that depart as much, those that leave the least in scraps.
    fn leave_least_scraps(&mut self) -> Result<(), PlanError> {
        if !self.leaves_scraps() {
            return Ok(());
        }
        let alike: Vec<Roles> = self.projects.iter().zip(&self.made).map(alike).collect();
        let wishes = self.wishes(self.projects.len());
        let mut programme = Programme::new(&alike, &wishes, true).with_limits(self.limits);
        let scraps = programme.scraps(self.holds_m);
        let time = (self.time_left)() / PART_FOR_YARNS;
        self.take_within(programme, scraps, time)?;
        Ok(())
    }

    fn leaves_scraps(&self) -> bool {
        self.holds_m.iter().enumerate().any(|(shade, holds)| {
            let chosen = self.made.iter().flatten().flatten();
            let taken = chosen.filter(|choice| choice.shade == shade);
            let taken: f64 = taken.map(|choice| choice.takes_m).sum();
            (SLACK..SCRAP_M - SLACK).contains(&(holds - taken))
        })
    }

    /// The projects before `place` as they are, those from there on free.
    fn wishes(&self, place: usize) -> Vec<Wish> {
        let made = self.made.iter().enumerate();
        made.map(|(at, made)| match made {
            _ if at >= place => Wish::Either,
            Some(_) => Wish::Make,
            None => Wish::Leave,
        })
        .collect()
    }

    /// Takes what makes `goal` least, and tells whether that is proved.
    fn take(
        &mut self,
        programme: Programme<'_>,
        goal: good_lp::Expression,
    ) -> Result<bool, PlanError> {
        let left = (self.time_left)();
        self.take_within(programme, goal, left)
    }

    fn take_within(
        &mut self,
        programme: Programme<'_>,
        goal: good_lp::Expression,
        time: Duration,
    ) -> Result<bool, PlanError> {
        let found = match time.is_zero() {
            true => None,
            false => programme.least(goal, time, &self.made)?,
        };
        let is_proved = found.as_ref().is_some_and(|found| found.is_proved);
        self.is_proved &= is_proved;
        if let Some(Found { made, .. }) = found {
            self.made = made;
        }
        Ok(is_proved)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ordered_float::OrderedFloat;
    use proptest::prelude::*;

    fn plenty() -> Duration {
        Duration::from_secs(20)
    }

    fn choice(shade: usize, takes_m: f64, departure: f64) -> Choice {
        Choice {
            shade,
            part: shade,
            takes_m,
            departure,
        }
    }

    fn shades(made: &Made) -> Vec<Option<Vec<usize>>> {
        let of = |chosen: &Vec<Choice>| chosen.iter().map(|choice| choice.shade).collect();
        made.iter().map(|made| made.as_ref().map(of)).collect()
    }

    #[test]
    fn who_comes_first_does_not_take_what_another_alone_can_use() {
        let projects = [
            vec![vec![choice(0, 400.0, 0.1), choice(1, 400.0, 0.4)]],
            vec![vec![choice(0, 400.0, 0.2)]],
        ];
        let shares = share_out(&projects, &Supply::of_shades(&[450.0, 450.0]), &plenty).unwrap();
        assert_eq!(shades(&shares.made), [Some(vec![1]), Some(vec![0])]);
        assert!(shares.is_optimal && shares.at_most == 2);
    }

    #[test]
    fn two_later_projects_go_before_one_earlier_and_an_earlier_before_a_later() {
        let large = vec![vec![choice(0, 900.0, 0.0)]];
        let small = vec![vec![choice(0, 450.0, 0.9)]];
        let projects = [large.clone(), small.clone(), small];
        let shares = share_out(&projects, &Supply::of_shades(&[900.0]), &plenty).unwrap();
        assert_eq!(shades(&shares.made), [None, Some(vec![0]), Some(vec![0])]);
        let shares = share_out(
            &[large.clone(), large],
            &Supply::of_shades(&[900.0]),
            &plenty,
        )
        .unwrap();
        assert_eq!(shades(&shares.made), [Some(vec![0]), None]);
    }

    #[test]
    fn of_shades_alike_the_one_that_leaves_no_scrap_is_taken() {
        let project = vec![vec![choice(0, 95.0, 0.2), choice(1, 95.0, 0.2)]];
        let shares = share_out(
            std::slice::from_ref(&project),
            &Supply::of_shades(&[100.0, 250.0]),
            &plenty,
        )
        .unwrap();
        assert_eq!(shades(&shares.made), [Some(vec![1])]);
        let shares = share_out(&[project], &Supply::of_shades(&[95.0, 250.0]), &plenty).unwrap();
        assert_eq!(shades(&shares.made), [Some(vec![0])]);
    }

    #[test]
    fn without_time_what_comes_first_is_given_and_the_bound_is_told() {
        let wide = |departure| vec![vec![choice(0, 400.0, departure), choice(1, 400.0, 0.4)]];
        let projects = [wide(0.1), vec![vec![choice(0, 400.0, 0.2)]]];
        let shares = share_out(
            &projects,
            &Supply::of_shades(&[450.0, 450.0]),
            &Duration::default,
        )
        .unwrap();
        assert_eq!(shades(&shares.made), [Some(vec![0]), None]);
        assert_eq!((shares.at_most, shares.is_optimal), (2, false));
    }

    /// Of 100 m and 300 m of one shade, who needs 250 m from one lot gets the larger one,
    /// and who takes any lot what is left.
    #[test]
    fn who_must_have_one_lot_is_not_promised_what_two_hold_together() {
        let mut supply = Supply::of_lots(vec![vec![100.0, 300.0]]);
        let [small, large] = [0, 1].map(|lot| supply.part(0, &[lot]).unwrap());
        let of = |part, takes_m| Choice {
            part,
            ..choice(0, takes_m, 0.1)
        };
        let one_lot = |takes| vec![vec![of(small, takes), of(large, takes)]];
        let any = |takes| vec![vec![of(0, takes)]];
        let made = |projects: &[Roles]| {
            let shares = share_out(projects, &supply, &plenty).unwrap();
            assert!(shares.is_optimal);
            let parts = |chosen: &Vec<Choice>| chosen[0].part;
            let made = shares.made.iter();
            made.map(|made| made.as_ref().map(parts))
                .collect::<Vec<_>>()
        };
        assert_eq!(made(&[any(150.0), one_lot(250.0)]), [Some(0), Some(large)]);
        assert_eq!(made(&[one_lot(250.0), any(151.0)]), [Some(large), None]);
        assert_eq!(made(&[one_lot(350.0)]), [None]);
        let both = made(&[one_lot(90.0), one_lot(300.0)]);
        assert_eq!(both, [Some(small), Some(large)]);
    }

    #[test]
    fn a_project_with_a_role_that_nothing_is_there_for_is_left_out() {
        let projects = [vec![vec![choice(0, 10.0, 0.0)], Vec::new()]];
        let shares = share_out(&projects, &Supply::of_shades(&[100.0]), &plenty).unwrap();
        assert_eq!((shares.made, shares.at_most), (vec![None], 0));
    }

    /// What decides, least first: projects not made, which, departure, scraps.
    type Worth = (usize, Vec<bool>, OrderedFloat<f64>, OrderedFloat<f64>);

    fn worth(made: &Made, holds: &[f64]) -> Worth {
        let chosen = || made.iter().flatten().flatten();
        let whole = |x: f64| OrderedFloat((x * 1e3).round());
        let scraps = holds.iter().enumerate().map(|(shade, holds)| {
            let taken = chosen().filter(|choice| choice.shade == shade);
            let taken: f64 = taken.map(|choice| choice.takes_m).sum();
            let left = holds - taken;
            if left < super::super::SCRAP_M {
                left
            } else {
                0.0
            }
        });
        (
            made.iter().filter(|made| made.is_none()).count(),
            made.iter().map(Option::is_none).collect(),
            whole(chosen().map(|choice| choice.departure).sum()),
            whole(scraps.sum()),
        )
    }

    /// The best of all that can be made, each tried.
    fn best_of_all(projects: &[Roles], holds: &[f64]) -> Worth {
        let mut all: Vec<Made> = vec![Vec::new()];
        for roles in projects {
            let mut ways: Vec<Option<Vec<Choice>>> = vec![Some(Vec::new())];
            for role in roles {
                let longer = ways.iter().flatten().flat_map(|begun| {
                    role.iter()
                        .map(|choice| Some(begun.iter().copied().chain([*choice]).collect()))
                });
                ways = longer.collect();
            }
            ways.push(None);
            let longer = all.iter().flat_map(|begun| {
                let one = |way: &Option<Vec<Choice>>| begun.iter().cloned().chain([way.clone()]);
                ways.iter()
                    .map(|way| one(way).collect::<Made>())
                    .collect::<Vec<_>>()
            });
            all = longer.collect();
        }
        let of = |shade: usize| move |choice: &&Choice| choice.shade == shade;
        let is_enough = |made: &&Made| {
            (0..holds.len()).all(|shade| {
                let taken = made.iter().flatten().flatten().filter(of(shade));
                taken.map(|choice| choice.takes_m).sum::<f64>() <= holds[shade]
            })
        };
        let is_apart = |made: &&Made| {
            let mut chosen = made.iter().flatten();
            chosen.all(|chosen| (0..3).all(|shade| chosen.iter().filter(of(shade)).count() < 2))
        };
        let possible = all.iter().filter(is_enough).filter(is_apart);
        possible.map(|made| worth(made, holds)).min().unwrap()
    }

    fn projects() -> impl Strategy<Value = Vec<Roles>> {
        let role = prop::collection::btree_map(0..3usize, (5..60u32, 0..4u32), 1..3);
        let role = role.prop_map(|choices| {
            let one = |(shade, (tens, departure)): (usize, (u32, u32))| {
                choice(shade, f64::from(tens) * 10.0, f64::from(departure) / 4.0)
            };
            choices.into_iter().map(one).collect()
        });
        prop::collection::vec(prop::collection::vec(role, 1..3), 1..5)
    }

    proptest! {
        #[test]
        fn prop_nothing_is_better_of_all_that_can_be_made(
            projects in projects(),
            holds in prop::collection::vec(100..900u32, 3),
        ) {
            let holds: Vec<f64> = holds.into_iter().map(f64::from).collect();
            let shares = share_out(&projects, &Supply::of_shades(&holds), &plenty).unwrap();
            prop_assert!(shares.is_optimal);
            prop_assert_eq!(shares.made.iter().flatten().count(), shares.at_most);
            let (missing, which, departure, _) = worth(&shares.made, &holds);
            let best = best_of_all(&projects, &holds);
            prop_assert_eq!((missing, which, departure), (best.0, best.1, best.2));
        }
    }
}
