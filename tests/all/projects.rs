//! Projects in the order in which they matter, and the yarn that is reserved for them.

use crate::desk::{Desk, as_number};
use proptest::prelude::*;
use serde_json::Value;
use std::thread;
use understudy::{
    app::{self, EntryKind, EntryRequest, PlanRequest, Records, Which},
    record::StockAmount,
};

const PATTERNS: [&str; 4] = ["Skerrablet:M", "Jotterhelm:adult", "Mirrowhist", "Hobplate"];

fn list(value: &Value) -> &Vec<Value> {
    value.as_array().unwrap()
}

/// The sample stash, with a project of each pattern.
fn desk() -> Desk {
    let desk = Desk::with_sample();
    for pattern in PATTERNS {
        desk.text(&["project", "add", pattern]);
    }
    desk
}

fn names(desk: &Desk) -> Vec<String> {
    let projects = desk.json(&["project", "list"]);
    let rows = list(&projects["rows"]).iter();
    rows.map(|row| row["name"].as_str().unwrap().to_owned())
        .collect()
}

/// The whole ledger of every lot.
fn ledgers(desk: &Desk) -> Vec<Value> {
    let lots = desk.json(&["stock", "list"]);
    let numbers = list(&lots["rows"])
        .iter()
        .map(|row| row["number"].to_string());
    numbers
        .map(|number| desk.json(&["stock", "ledger", &number]))
        .collect()
}

#[test]
fn projects_stand_in_the_order_that_is_given_and_are_named_by_name_or_place() {
    let desk = desk();
    let [skerrablet, jotterhelm, mirrowhist, hobplate] =
        ["Skerrablet M", "Jotterhelm adult", "Mirrowhist", "Hobplate"];
    assert_eq!(names(&desk), [skerrablet, jotterhelm, mirrowhist, hobplate]);
    desk.text(&["project", "move", "hobplate", "1"]);
    assert_eq!(names(&desk), [hobplate, skerrablet, jotterhelm, mirrowhist]);
    desk.text(&["project", "move", "2", "3"]);
    assert_eq!(names(&desk), [hobplate, jotterhelm, skerrablet, mirrowhist]);
    desk.text(&[
        "project",
        "add",
        "Skerrablet:S",
        "--rank",
        "2",
        "--name",
        "For Ada",
    ]);
    let five = [hobplate, "For Ada", jotterhelm, skerrablet, mirrowhist];
    assert_eq!(names(&desk), five);
    desk.text(&["undo"]);
    desk.text(&["undo"]);
    assert_eq!(names(&desk), [hobplate, skerrablet, jotterhelm, mirrowhist]);
    // A project of the same pattern and size has a name of its own.
    desk.text(&["project", "add", "Mirrowhist"]);
    assert_eq!(names(&desk).last().unwrap(), "Mirrowhist 2");
    desk.text(&["verify"]);
}

#[test]
fn what_cannot_be_is_told_with_what_to_type_instead() {
    let desk = desk();
    for (command, code, told) in [
        (&["move", "Hobplat", "1"][..], 1, "did you mean Hobplate"),
        (&["move", "1", "9"], 2, "1 to 4"),
        (&["add", "Skerrablet"], 2, "as in `Skerrablet:XS`"),
        (&["add", "Skerrablet:12"], 1, "there is no size `12`"),
        (
            &["add", "Hobplate", "--name", "hobplate"],
            1,
            "already a project",
        ),
        (&["add", "Hobplate", "--without", "tweedle"], 2, "tweedle"),
        (&["add", "Hobplate", "--care", "boil"], 2, "boil"),
        (&["pin", "1", "Nobody's Yarn"], 1, "there is no yarn"),
        (&["pin", "2", "Umberlin DK"], 2, "MC or CC"),
        (&["pin", "2", "Umberlin DK", "--for", "B"], 2, "MC or CC"),
    ] {
        let refused = desk.run(&[&["project"], command].concat()).code(code);
        assert!(refused.err.contains(told), "{command:?}: {}", refused.err);
    }
    let nothing = Desk::with_sample().run(&["plan"]).code(2);
    assert!(nothing.err.contains("project add"), "{}", nothing.err);
}

#[test]
fn without_patterns_the_projects_are_planned_in_their_order() {
    let desk = desk();
    let named = desk.json(&[&["plan"], &PATTERNS[..]].concat());
    let kept = desk.json(&["plan"]);
    let yarns = |plan: &Value| -> Vec<Value> {
        let made = list(&plan["made"]).iter();
        made.map(|made| made["yarns"].clone()).collect()
    };
    assert_eq!(yarns(&named), yarns(&kept));
    let ranks = list(&kept["made"]).iter().map(|made| &made["kept"]["rank"]);
    assert_eq!(ranks.collect::<Vec<_>>(), [1, 2, 3, 4]);
    // Wishes are those of each project.
    let wool_free = [
        "project",
        "add",
        "Skerrablet:M",
        "--without",
        "animal",
        "--rank",
        "1",
    ];
    desk.text(&wool_free);
    let plan = desk.json(&["plan"]);
    let blends = desk.text(&["export", "yarns"]);
    let both = [&plan["made"], &plan["left_out"]];
    let mut all = both.iter().flat_map(|projects| list(projects));
    let first = all.find(|project| project["kept"]["rank"] == 1).unwrap();
    let yarns = first["yarns"]
        .as_array()
        .or(first["buy"].as_array())
        .unwrap();
    assert!(!yarns.is_empty());
    for yarn in yarns {
        let name = yarn["yarn"].as_str().unwrap().split(", ").last().unwrap();
        let row = blends.lines().find(|row| row.contains(name)).unwrap();
        assert!(!row.contains("wool") && !row.contains("alpaca"), "{row}");
    }
}

#[test]
fn a_yarn_that_is_chosen_by_hand_is_taken_or_the_reason_is_told() {
    let desk = desk();
    let taken = |plan: &Value| plan["made"][0]["yarns"][0]["yarn"].clone();
    let usual = taken(&desk.json(&["plan"]));
    desk.text(&["project", "pin", "1", "Palvetta DK", "--shade", "ember"]);
    let plan = desk.json(&["plan"]);
    let chosen = &plan["made"][0]["yarns"][0];
    assert_eq!(chosen["yarn"], "Quandrow, Palvetta DK");
    assert_eq!(chosen["shade"], "ember");
    assert_ne!(taken(&plan), usual);
    desk.text(&["project", "unpin", "1"]);
    assert_eq!(taken(&desk.json(&["plan"])), usual);
    desk.text(&["project", "pin", "1", "Hawserine"]);
    let plan = desk.json(&["plan"]);
    let why = plan["left_out"][0]["why"].as_str().unwrap();
    assert!(
        why.contains("Hawserine") && why.contains("will not work"),
        "{why}"
    );
}

#[test]
fn what_is_reserved_is_the_projects_own_and_free_again_with_it() {
    let desk = desk();
    let first = desk.json(&["plan"]);
    let told = desk.text(&["plan", "--reserve"]);
    assert!(told.contains("Yarn reserved for Skerrablet M"), "{told}");
    let entered = ledgers(&desk);
    assert_eq!(
        desk.json(&["plan"])["lots"],
        first["lots"],
        "it is planned for them again"
    );
    desk.text(&["plan", "--reserve"]);
    assert_eq!(ledgers(&desk), entered, "nothing new is written");
    // For others it is gone.
    let taken = |plan: &Value| plan["made"][0]["yarns"][0]["lots"][0]["number"].clone();
    let other = desk.json(&["plan", "Skerrablet:M"]);
    assert_ne!(taken(&other), taken(&first));
    let stock = desk.text(&["stock", "list"]);
    assert!(stock.contains("for Skerrablet"), "{stock}");
    let lots = desk.json(&["stock", "list"]);
    let mut lots = list(&lots["rows"]).iter();
    let lot = lots.find(|lot| lot["number"] == taken(&first)).unwrap();
    assert_eq!(lot["reserved_for"][0], "Skerrablet M");
    let told = desk.text(&["project", "remove", "Skerrablet M"]);
    assert!(told.contains("released"), "{told}");
    assert_eq!(taken(&desk.json(&["plan", "Skerrablet:M"])), taken(&first));
    desk.text(&["undo"]);
    assert_eq!(names(&desk)[0], "Skerrablet M");
    assert_ne!(taken(&desk.json(&["plan", "Skerrablet:M"])), taken(&first));
    desk.text(&["verify"]);
}

#[test]
fn what_is_no_longer_planned_is_released_by_the_next_plan() {
    let desk = desk();
    desk.text(&["plan", "--reserve"]);
    desk.text(&["project", "pin", "1", "Palvetta DK"]);
    let told = desk.text(&["plan", "--reserve"]);
    let words: Vec<&str> = told.split_whitespace().collect();
    assert!(words.join(" ").contains("was for Skerrablet M"), "{told}");
    let projects = desk.json(&["project", "list"]);
    let reserved = list(&projects["rows"][0]["reserved"]);
    assert!(!reserved.is_empty());
    for lot in reserved {
        assert!(lot["lot"].as_str().unwrap().contains("Palvetta"), "{lot}");
    }
    desk.text(&["plan", "--reserve", "--once", "monday"]);
    let again = desk.text(&["plan", "--reserve", "--once", "monday"]);
    assert!(again.contains("nothing was changed"), "{again}");
}

#[test]
fn a_project_whose_pattern_size_or_yarn_is_gone_says_so_and_keeps_its_yarn() {
    let desk = desk();
    desk.text(&["plan", "--reserve"]);
    desk.text(&["pattern", "remove", "Hobplate"]);
    let edited = desk.text(&["export", "pattern", "Skerrablet"]);
    let edited = edited.replace("name = \"M\"", "name = \"Middle\"");
    let edited = desk.write("edited.toml", edited);
    desk.text(&["import", "pattern", &edited, "--update"]);
    desk.text(&["yarn", "add", "Ferry, Gone DK, 50 g = 125 m, 100% wool"]);
    desk.text(&["project", "pin", "Mirrowhist", "Ferry, Gone DK"]);
    desk.text(&["yarn", "remove", "Ferry, Gone DK"]);
    let entered = ledgers(&desk);
    let plan = desk.json(&["plan"]);
    let whys = list(&plan["left_out"]).iter();
    let whys: Vec<&str> = whys.map(|left| left["why"].as_str().unwrap()).collect();
    let [size, yarn, pattern] = whys.as_slice() else {
        panic!("{whys:?}")
    };
    assert!(
        size.contains("no longer has this size") && size.contains("Middle"),
        "{size}"
    );
    assert!(
        yarn.contains("Gone DK") && yarn.contains("was removed"),
        "{yarn}"
    );
    assert!(pattern.contains("pattern was removed"), "{pattern}");
    desk.text(&["plan", "--reserve"]);
    assert_eq!(ledgers(&desk), entered, "what is reserved for them stays");
    let listed = desk.text(&["project", "list"]);
    assert!(listed.contains("(removed)"), "{listed}");
    desk.text(&[
        "import",
        "pattern",
        &crate::desk::sample("patterns/hobplate.toml"),
    ]);
    let plan = desk.json(&["plan"]);
    assert_eq!(
        list(&plan["left_out"]).len(),
        2,
        "the pattern is found again by its name"
    );
    desk.text(&["verify"]);
}

/// What someone may do with a stash and projects.
#[derive(Debug, Clone)]
enum Deed {
    Add(usize),
    Move(usize, usize),
    Pin(usize, usize),
    Remove(usize),
    Reserve,
    Enter(EntryKind, usize, u8),
    Undo,
}

fn any_deed() -> impl Strategy<Value = Deed> {
    let kinds = [
        EntryKind::Bought,
        EntryKind::Used,
        EntryKind::Reserved,
        EntryKind::Released,
    ];
    let kind = prop::sample::select(kinds.to_vec());
    prop_oneof![
        3 => (0..PATTERNS.len()).prop_map(Deed::Add),
        2 => (0..6_usize, 0..6_usize).prop_map(|(at, to)| Deed::Move(at, to)),
        2 => (0..6_usize, 0..46_usize).prop_map(|(at, lot)| Deed::Pin(at, lot)),
        1 => (0..6_usize).prop_map(Deed::Remove),
        5 => Just(Deed::Reserve),
        4 => (kind, 0..46_usize, 1..7_u8).prop_map(|(kind, lot, n)| Deed::Enter(kind, lot, n)),
        2 => Just(Deed::Undo),
    ]
}

/// Does it, where it is not refused.
fn act(records: &mut Records, deed: &Deed) {
    let projects = app::list_projects(records).unwrap().0;
    let chosen = |at: usize| {
        let line = projects.get(at.checked_rem(projects.len())?)?;
        Some(Which::Number(line.number))
    };
    let lots = app::list_stock(records, None).unwrap().lots;
    match deed {
        Deed::Add(pattern) => {
            let request = app::AddProjectRequest {
                project: Some(PATTERNS[*pattern].to_owned()),
                ..app::AddProjectRequest::default()
            };
            app::add_project(records, &request).unwrap();
        }
        Deed::Move(at, to) => {
            if let Some(which) = chosen(*at) {
                let to = (to % projects.len() + 1).to_string();
                app::move_project(records, which, &to).unwrap();
            }
        }
        Deed::Pin(at, lot) => {
            if let Some(which) = chosen(*at) {
                let line = &lots[lot % lots.len()];
                let request = app::PinRequest {
                    yarn: Some(line.yarn.clone()),
                    shade: Some(line.lot.shade.clone()),
                    role: None,
                };
                drop(app::pin_yarn(records, which, &request));
            }
        }
        Deed::Remove(at) => {
            if let Some(which) = chosen(*at) {
                app::remove_project(records, which).unwrap();
            }
        }
        Deed::Reserve => {
            let is_empty = projects.is_empty();
            let done = app::reserve_plan(records, &PlanRequest::default(), None);
            assert!(done.is_ok() || is_empty, "{done:?}");
        }
        Deed::Enter(kind, lot, skeins) => {
            let request = EntryRequest {
                amount: Some(format!("{skeins} skeins")),
                ..EntryRequest::default()
            };
            let number = lots[lot % lots.len()].number;
            drop(app::enter(records, *kind, number, &request));
        }
        Deed::Undo => {
            // The sample stays.
            let last = app::list_undo(records).unwrap().0;
            if last.first().is_some_and(|change| change.number > 3) {
                app::undo(records, None).unwrap();
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn prop_never_more_is_reserved_than_is_there(
        deeds in prop::collection::vec(any_deed(), 1..14),
    ) {
        let mut records = Records::in_memory().unwrap();
        app::take_sample(&mut records).unwrap();
        for deed in &deeds {
            act(&mut records, deed);
            let projects = app::list_projects(&records).unwrap().0;
            for line in app::list_stock(&records, None).unwrap().lots {
                let balance = line.balance;
                prop_assert_eq!(balance.overpromised(None), None, "{:?}: {:?}", deed, line);
                let own = projects.iter().flat_map(|project| &project.reserved);
                let own = own.filter(|reserved| reserved.lot == line.number);
                let mut own = own.map(|reserved| reserved.amount);
                let own = own.try_fold(StockAmount::default(), StockAmount::plus).unwrap();
                let is_within = own.skeins() <= balance.held.skeins() + 1e-9
                    && own.grams() <= balance.held.grams() + 1e-9;
                prop_assert!(is_within, "{own} of {:?}", line);
            }
        }
    }
}

/// A writer of its own: plans, sells, changes what matters most.
fn write(desk: &Desk, writer: usize) -> Vec<crate::desk::Outcome> {
    let place = (writer % 4 + 1).to_string();
    let lots: Vec<String> = (1..=46).map(|lot| lot.to_string()).collect();
    let rounds = 0..6_usize;
    let mut told = Vec::new();
    for round in rounds {
        let lot = &lots[(writer * 11 + round * 5) % lots.len()];
        let commands: [&[&str]; 3] = [
            &["plan", "--reserve"],
            &["stock", "use", lot, "1 skein"],
            &["project", "move", &place, "1"],
        ];
        let command = commands[(writer + round) % commands.len()];
        told.push(desk.run(command));
    }
    told
}

#[test]
fn what_eight_plan_and_sell_at_once_is_never_promised_twice() {
    let desk = desk();
    let outcomes: Vec<crate::desk::Outcome> = thread::scope(|scope| {
        let writers = (0..8).map(|writer| {
            let desk = &desk;
            scope.spawn(move || write(desk, writer))
        });
        let writers: Vec<_> = writers.collect();
        let each = writers.into_iter().map(|writer| writer.join().unwrap());
        each.flatten().collect()
    });
    let reasons = [
        "meanwhile, so nothing was reserved",
        "changed since this plan was made",
        "is being written by another program",
        "more than you have in this lot",
        "reserved",
    ];
    for refused in outcomes.iter().filter(|done| done.status != 0) {
        let is_told = reasons.iter().any(|reason| refused.err.contains(reason));
        assert!(refused.status == 1 && is_told, "{}", refused.err);
    }
    let done = outcomes.iter().filter(|done| done.status == 0).count();
    assert!(done >= 20, "only {done} of {}", outcomes.len());
    desk.text(&["verify"]);
    let lots = desk.json(&["stock", "list"]);
    let length = |amount: &Value, line: &Value| {
        let text = amount.as_str().unwrap();
        let held = as_number(&line["held_m"]);
        let share = |text: &str| -> f64 {
            let count = text.split(' ').next().unwrap();
            count.parse().unwrap_or(0.0)
        };
        match line["held"].as_str().unwrap() {
            whole if !whole.contains('+') => share(text) / share(whole) * held,
            _ => 0.0,
        }
    };
    let mut reserved = 0;
    for line in list(&lots["rows"]) {
        if line["reserved"] == "" {
            continue;
        }
        reserved += 1;
        let promised = length(&line["reserved"], line);
        assert!(promised <= as_number(&line["held_m"]) + 0.01, "{line}");
    }
    assert!(reserved > 0, "nothing was reserved at all");
}

/// 20 projects over 200 shades, each of some lots: of one thickness, so that nearly every
/// shade may stand for every project. What the search does is bounded by its two
/// seconds, and whatever it finds is shared out to the metre.
#[test]
fn twenty_projects_over_two_hundred_shades_are_planned_with_nothing_promised_twice() {
    let desk = Desk::empty();
    let mut yarns = "maker,name,length,mass,class,fibre,gauge\n".to_owned();
    let mut stock = "maker,name,shade,lot,amount\n".to_owned();
    for yarn in 0..50 {
        let metres = 112 + yarn % 17;
        let row = format!("Quay,Tide {yarn},{metres} m,50 g,DK,100% wool,22 sts / 10 cm\n");
        yarns.push_str(&row);
        for shade in 0..4 {
            let skeins = 2 + (yarn * 7 + shade * 5) % 9;
            for lot in 0..2 {
                let row = format!("Quay,Tide {yarn},shade {shade},{lot},{skeins} skeins\n");
                stock.push_str(&row);
            }
        }
    }
    for (kind, table) in [("yarns", yarns), ("stock", stock)] {
        let file = desk.write(kind, table);
        desk.text(&["import", kind, &file]);
    }
    let wants = "DK, 240 m/100 g, 22 sts / 10 cm, 100% wool, plied";
    for project in 0..20 {
        let (name, need) = (
            format!("Piece {project}"),
            format!("{} m", 900 + project * 70),
        );
        let add = ["pattern", "add", &name, "--purpose", "accessory"];
        desk.text(&[&add[..], &["--wants", wants, "--needs", &need]].concat());
        let wish = ["--one-lot", "--without=mohair"][usize::from(project % 5 > 0)];
        desk.text(&["project", "add", &name, wish]);
    }
    let begun = std::time::Instant::now();
    let plan = desk.json(&["plan"]);
    println!("20 projects over 200 shades: {:?}", begun.elapsed());
    let made = list(&plan["made"]);
    assert_eq!(made.len() + list(&plan["left_out"]).len(), 20);
    assert!(made.len() >= 10, "{} made", made.len());
    for lot in list(&plan["lots"]) {
        assert!(as_number(&lot["left_m"]) >= -1e-6, "{lot}");
    }
    let yarns = made.iter().flat_map(|made| list(&made["yarns"]));
    for yarn in yarns {
        let lots = list(&yarn["lots"]).iter();
        let sum: f64 = lots.map(|lot| as_number(&lot["take_m"])).sum();
        assert!((sum - as_number(&yarn["need_m"])).abs() < 1e-3, "{yarn}");
    }
    desk.text(&["plan", "--reserve"]);
    desk.text(&["verify"]);
}
