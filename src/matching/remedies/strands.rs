//! Holding several strands together.

use super::{StrandsPlan, for_gauge};
use crate::matching::{
    Candidate, Criterion, Remedy, Requirement, Settings,
    assess::{Assessment, assess},
    criterion::{Outcome, SEVERAL_STRANDS, is_within},
    grist::{effective, grist},
};

/// Two to four strands with which length per mass is within its tolerance and
/// nearer than now, and gauge is within, can be mended, or is not known. Only
/// where grist, gauge or class lies outside now. Nearest length per mass first. Several
/// yarns that are held together are one strand as it is: others would be another pair.
pub(super) fn plans(
    wanted: &Requirement,
    offered: &Candidate,
    settings: &Settings,
    now: &Assessment,
) -> Vec<StrandsPlan> {
    let thickness = [Criterion::Grist, Criterion::Gauge, Criterion::WeightClass];
    let Some(departure_now) = now.departure(Criterion::Grist) else {
        return Vec::new();
    };
    if offered.facts.together.is_some() {
        return Vec::new();
    }
    if !thickness
        .into_iter()
        .any(|criterion| now.is_beyond(criterion))
    {
        return Vec::new();
    }
    let mut plans: Vec<(f64, StrandsPlan)> = SEVERAL_STRANDS
        .filter(|strands| *strands != offered.strands)
        .filter_map(|strands| plan(wanted, offered, settings, (strands, departure_now)))
        .collect();
    plans.sort_by(|(a, _), (b, _)| a.total_cmp(b));
    plans.into_iter().map(|(_, plan)| plan).collect()
}

fn plan(
    wanted: &Requirement,
    offered: &Candidate,
    settings: &Settings,
    (strands, departure_now): (u8, f64),
) -> Option<(f64, StrandsPlan)> {
    let held = Candidate {
        strands,
        ..offered.clone()
    };
    // Length per mass alone rules nearly all out; the rest costs ten times as much.
    let departure = match grist(wanted, &held, settings) {
        Outcome::Judged(found) => found.departure,
        Outcome::NotJudged(_) | Outcome::NotAsked => return None,
    };
    if !is_within(departure) || departure >= departure_now {
        return None;
    }
    let assessed = assess(wanted, &held, settings);
    let for_gauge = for_gauge(wanted, &held, &assessed);
    if assessed.is_beyond(Criterion::Gauge) && for_gauge.is_empty() {
        return None;
    }
    let remedy = Remedy::HoldStrands {
        strands,
        grist: effective(&offered.facts, strands)?,
        departure,
    };
    let plan = StrandsPlan {
        remedy,
        assessed,
        for_gauge,
    };
    Some((departure, plan))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::matching::samples::{Build, offered, settings, wanted};

    fn strands(wanted: &Requirement, offered: &Candidate) -> Vec<u8> {
        let now = assess(wanted, offered, &settings());
        plans(wanted, offered, &settings(), &now)
            .into_iter()
            .map(|plan| match plan.remedy {
                Remedy::HoldStrands { strands, .. } => strands,
                other => panic!("{other:?}"),
            })
            .collect()
    }

    /// Common practice, worked example: 600 m/100 g in 2 and 3 strands gives 300
    /// and 200 m/100 g.
    #[test]
    fn a_fine_yarn_replaces_a_thick_one_in_strands() {
        let fine = offered().put_up(600.0, 100.0);
        assert_eq!(strands(&wanted().put_up(300.0, 100.0), &fine), [2]);
        assert_eq!(strands(&wanted().put_up(200.0, 100.0), &fine), [3]);
        assert_eq!(
            strands(&wanted().put_up(250.0, 100.0), &fine),
            Vec::<u8>::new()
        );
    }

    #[test]
    fn strands_whose_gauge_nothing_mends_are_no_remedy() {
        let wanted = wanted().put_up(300.0, 100.0).label_gauge(22.0);
        let fine = || offered().put_up(600.0, 100.0);
        assert_eq!(strands(&wanted, &fine().label_gauge(31.0)), [2]);
        assert!(strands(&wanted, &fine().label_gauge(80.0)).is_empty());
    }

    #[test]
    fn a_yarn_that_fits_as_it_is_needs_no_strands() {
        let wanted = wanted().put_up(300.0, 100.0);
        assert!(strands(&wanted, &offered().put_up(310.0, 100.0)).is_empty());
    }
}
