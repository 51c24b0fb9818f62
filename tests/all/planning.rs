//! Several projects from one stash, as people ask for them.

use crate::desk::{Desk, as_number};
use serde_json::Value;
use std::collections::HashMap;

fn list(value: &Value) -> &Vec<Value> {
    value.as_array().unwrap()
}

/// What a plan takes of each lot, m.
fn taken(plan: &Value) -> HashMap<(String, String), f64> {
    let yarns = list(&plan["made"])
        .iter()
        .flat_map(|made| list(&made["yarns"]));
    let mut taken = HashMap::new();
    for yarn in yarns {
        for lot in list(&yarn["lots"]) {
            let key = (yarn["yarn"].to_string(), lot["lot"].to_string());
            *taken.entry(key).or_default() += as_number(&lot["take_m"]);
        }
    }
    taken
}

#[test]
fn everything_that_the_stash_is_enough_for_is_made() {
    let desk = Desk::with_sample();
    let plan = desk.json(&[
        "plan",
        "Skerrablet:M",
        "Jotterhelm:adult",
        "Mirrowhist",
        "Hobplate",
    ]);
    assert_eq!(list(&plan["made"]).len(), 4);
    assert!(list(&plan["left_out"]).is_empty());
    assert_eq!(plan["optimal"], true);
    for made in list(&plan["made"]) {
        for yarn in list(&made["yarns"]) {
            let lots = list(&yarn["lots"]).iter();
            let sum: f64 = lots.map(|lot| as_number(&lot["take_m"])).sum();
            assert!((sum - as_number(&yarn["need_m"])).abs() < 1e-3, "{yarn}");
        }
    }
}

#[test]
fn nothing_is_given_twice_however_often_a_pattern_is_asked_for() {
    let desk = Desk::with_sample();
    let plan = desk.json(&[&["plan"], ["Skerrablet:M"; 9].as_slice()].concat());
    let (made, left_out) = (list(&plan["made"]), list(&plan["left_out"]));
    assert!(!made.is_empty() && !left_out.is_empty());
    assert_eq!(made.len() + left_out.len(), 9);
    let lots = desk.json(&["stock", "list"]);
    for ((yarn, lot), taken) in taken(&plan) {
        let held = list(&lots["rows"]).iter().filter(|line| {
            [&line["yarn"], &line["lot"]].map(Value::to_string) == [yarn.clone(), lot.clone()]
        });
        let held: f64 = held.map(|line| as_number(&line["held_m"])).sum();
        assert!(
            taken <= held + 0.01,
            "{taken} m of {held} m: {yarn}, lot {lot}"
        );
    }
    for left in left_out {
        assert!(!list(&left["buy"]).is_empty(), "{left}");
    }
}

#[test]
fn what_the_asker_keeps_away_from_is_never_planned() {
    let desk = Desk::with_sample();
    let plan = desk.json(&["plan", "Skerrablet:M", "Mirrowhist", "--without", "wool"]);
    let blends = desk.text(&["export", "yarns"]);
    let yarns = list(&plan["made"])
        .iter()
        .flat_map(|made| list(&made["yarns"]));
    let bought = list(&plan["left_out"])
        .iter()
        .flat_map(|left| list(&left["buy"]));
    for yarn in yarns.chain(bought) {
        let name = yarn["yarn"].as_str().unwrap().split(", ").last().unwrap();
        let row = blends.lines().find(|row| row.contains(name)).unwrap();
        assert!(!row.contains("wool"), "{row}");
    }
}

#[test]
fn a_size_is_asked_for_where_there_are_several() {
    let desk = Desk::with_sample();
    let refused = desk.run(&["plan", "Skerrablet"]).code(2);
    assert!(
        refused.err.contains("as in `Skerrablet:XS`"),
        "{}",
        refused.err
    );
    let refused = desk.run(&["plan", "Skerrablet:12"]).code(1);
    assert!(
        refused.err.contains("there is no size `12`"),
        "{}",
        refused.err
    );
}

#[test]
fn what_is_reserved_counts_only_where_it_is_asked_for() {
    let desk = Desk::with_sample();
    let all = desk.json(&["plan", "Mirrowhist", "--with-reserved"]);
    let free = desk.json(&["plan", "Mirrowhist"]);
    let made = |plan: &Value| list(&plan["made"]).len();
    assert!(made(&all) >= made(&free));
}

#[test]
fn without_the_stash_everything_is_to_be_bought() {
    let desk = Desk::with_sample();
    let plan = desk.json(&["plan", "Skerrablet:M", "--from", "catalogue"]);
    assert!(list(&plan["made"]).is_empty());
    let buy = list(&plan["left_out"][0]["buy"]);
    assert!(as_number(&buy[0]["skeins"]) > 1.0);
    assert_eq!(as_number(&buy[0]["from_stash_m"]), 0.0);
}

/// What is to be bought could work only if something is met: that is said too, and that
/// nothing costs less.
#[test]
fn what_is_to_be_bought_says_its_conditions_and_that_nothing_costs_less() {
    let desk = Desk::with_sample();
    let asked = ["plan", "Skerrablet:M", "--from", "catalogue"];
    let left = &desk.json(&asked)["left_out"][0];
    assert_eq!(left["buy_is_least"], true);
    assert_eq!(left["buy"][0]["verdict"], "could work, if ...");
    let said = desk.text(&asked);
    for part in ["could work if", ": the cheapest choice."] {
        assert!(said.contains(part), "{part}: {said}");
    }
}

/// What does not hold for all projects is said with the names of those that it holds for.
#[test]
fn the_working_of_a_plan_names_the_projects() {
    let desk = Desk::with_sample();
    desk.run(&[
        "project",
        "add",
        "Hobplate",
        "--name",
        "For Ada",
        "--max-cost",
        "20 EUR",
    ]);
    desk.run(&["project", "add", "Mirrowhist"]);
    let said = desk.json(&["plan"])["working"].to_string();
    assert!(said.contains("For Ada (Hobplate): at most 20"), "{said}");
    let alone = desk.json(&["plan", "Hobplate", "--max-cost", "20 EUR"]);
    assert!(
        alone["working"].to_string().contains("\"At most 20"),
        "{alone}"
    );
}

#[test]
fn what_is_bought_is_enough_for_the_stitch_counts_that_have_to_be_reworked() {
    let desk = Desk::with_sample();
    let mut reworked = 0;
    for yarn in list(&desk.json(&["yarn", "list"])["rows"]) {
        let [maker, name] = ["maker", "name"].map(|key| yarn[key].as_str().unwrap());
        let name = &format!("{maker}, {name}");
        for pattern in ["Skerrablet", "Jotterhelm"] {
            let found = desk.json(&["check", "--pattern", pattern, "--yarn", name]);
            for role in list(&found["roles"]) {
                let of_role = |line: &&Value| line["yarn"] == role["yarn"];
                let mut remedies = list(&found["remedies"]).iter().filter(of_role);
                let Some(first) = remedies.find(|it| it["kind"] != "hold strands") else {
                    continue;
                };
                if first["kind"] != "rework stitches" || role["verdict"] != "could work, if ..." {
                    continue;
                }
                let bought = list(&found["skeins"]).iter().filter(of_role);
                let bought: Vec<&Value> = bought.map(|line| &line["skeins"]).collect();
                let then = list(&first["skeins"]).iter().map(|line| &line["skeins"]);
                let then: Vec<&Value> = then.collect();
                if as_number(&first["need_factor"]) < 1.0 {
                    let mut both = bought.iter().zip(&then);
                    let is_enough = both.all(|(buy, then)| as_number(buy) >= as_number(then));
                    assert!(is_enough, "{name} for {pattern}");
                    continue;
                }
                assert_eq!(bought, then, "{name} for {pattern}");
                reworked += 1;
            }
        }
    }
    assert!(reworked > 2, "only {reworked} yarns are reworked");
}
