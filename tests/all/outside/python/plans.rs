//! Plans against HiGHS, through SciPy: the same projects, as near.

use super::answers;
use proptest::{
    prelude::*,
    strategy::ValueTree,
    test_runner::{Config, RngAlgorithm, TestRng, TestRunner},
};
use serde_json::{Value, json};
use std::time::Duration;
use understudy::planning::{Choice, Roles, Supply, share_out};

/// How many stashes are compared.
const STASHES: usize = 200;

fn stash() -> impl Strategy<Value = (Vec<Roles>, Vec<f64>)> {
    let choice = |(shade, tens, hundredths): (usize, u32, u32)| Choice {
        shade,
        part: shade,
        takes_m: f64::from(tens) * 10.0,
        departure: f64::from(hundredths) / 100.0,
    };
    (4..60_usize).prop_flat_map(move |shades| {
        let role =
            prop::collection::btree_map(0..shades, (10..120u32, 0..150u32), 1..shades.min(9));
        let role = role.prop_map(move |choices| {
            let choices = choices.into_iter();
            choices
                .map(|(shade, (tens, hundredths))| choice((shade, tens, hundredths)))
                .collect::<Vec<Choice>>()
        });
        let projects = prop::collection::vec(prop::collection::vec(role, 1..4), 1..12);
        let holds = prop::collection::vec(100..1500u32, shades);
        (
            projects,
            holds.prop_map(|holds| holds.into_iter().map(f64::from).collect()),
        )
    })
}

fn question((projects, holds): &(Vec<Roles>, Vec<f64>)) -> Value {
    let choice = |choice: &Choice| json!([choice.shade, choice.takes_m, choice.departure]);
    let role = |role: &Vec<Choice>| role.iter().map(choice).collect::<Vec<_>>();
    let project = |roles: &Roles| roles.iter().map(role).collect::<Vec<_>>();
    let projects: Vec<_> = projects.iter().map(project).collect();
    json!({"ask": "plan", "projects": projects, "holds": holds})
}

#[test]
fn the_same_projects_are_made_as_highs_makes_and_nothing_is_given_twice() {
    let rng = TestRng::deterministic_rng(RngAlgorithm::ChaCha);
    let mut runner = TestRunner::new_with_rng(Config::default(), rng);
    let stashes = stash();
    let stashes: Vec<_> = (0..STASHES)
        .map(|_| stashes.new_tree(&mut runner).unwrap().current())
        .collect();
    let questions: Vec<Value> = stashes.iter().map(question).collect();
    let Some(expected) = answers(&questions) else {
        return;
    };
    let time = || Duration::from_secs(60);
    for ((projects, holds), expected) in stashes.iter().zip(&expected) {
        let supply = Supply::of_lots(holds.iter().map(|holds| vec![*holds]).collect());
        let shares = share_out(projects, &supply, &time).unwrap();
        assert!(shares.is_optimal);
        let made = shares.made.iter().map(|made| u8::from(made.is_some()));
        let chosen = || shares.made.iter().flatten().flatten();
        let departure: f64 = chosen().map(|choice| choice.departure).sum();
        assert_eq!(json!(made.collect::<Vec<_>>()), expected[0]);
        assert!((departure - expected[1].as_f64().unwrap()).abs() < 1e-6);
        for (shade, holds) in holds.iter().enumerate() {
            let taken = chosen().filter(|choice| choice.shade == shade);
            assert!(taken.map(|choice| choice.takes_m).sum::<f64>() <= holds + 1e-6);
        }
    }
    let left_out = stashes.iter().zip(&expected);
    let left_out =
        left_out.filter(|(_, expected)| expected[0].as_array().unwrap().contains(&json!(0)));
    assert!(
        left_out.count() > STASHES / 4,
        "too few stashes are too small"
    );
}
