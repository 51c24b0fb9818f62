//! What the asker will and will not have, through the whole program: cost, enough in the
//! stash, one lot, shades, places; and which sizes an amount in hand makes. The yarns are
//! invented.

use crate::desk::{Desk, as_number};
use serde_json::{Value, json};

const WANTS: &str = "DK, 240 m/100 g, 22 sts / 10 cm, 100% wool, plied";
const YARNS: &str = "maker,name,length,mass,class,fibre,gauge,price,shades
Quay,Gannet,120 m,50 g,DK,100% wool,22 sts / 10 cm,5.00 EUR,moss|ash
Quay,Petrel,120 m,50 g,DK,100% wool,22 sts / 10 cm,4.99 EUR,ember
Quay,Skua,120 m,50 g,DK,100% wool,22 sts / 10 cm,10.00 EUR/100 g,
Quay,Tern,120 m,50 g,DK,100% wool,22 sts / 10 cm,4.00 GBP,
Quay,Shag,120 m,50 g,DK,100% wool,22 sts / 10 cm,,
Quay,Knot,120 m,50 g,DK,100% wool,22 sts / 10 cm,5.01 EUR,
Quay,Dunlin,120 m,50 g,DK,100% mohair,22 sts / 10 cm,1.00 EUR,
";
const STOCK: &str = "maker,name,shade,lot,amount,place,colour
Quay,Gannet,moss,1,8 skeins,\"box 3, loft\",#1f4a2a
Quay,Gannet,moss,2,3 skeins,trunk,#1f4a2a
Quay,Petrel,ember,7,10 skeins,trunk,#b5472b
Quay,Shag,pine,1,2 skeins,loft,dark green
";

fn desk() -> Desk {
    let desk = Desk::empty();
    for (kind, table) in [("yarns", YARNS), ("stock", STOCK)] {
        let file = desk.write(&format!("{kind}.csv"), table);
        desk.run(&["import", kind, &file]).success();
    }
    desk
}

fn find(desk: &Desk, options: &[&str]) -> Value {
    let asked = ["find", "--wants", WANTS, "--need", "1080 m", "--top", "20"];
    desk.json(&[&asked, options].concat())
}

fn names(answer: &Value) -> Vec<String> {
    let candidates = answer["candidates"].as_array().unwrap().iter();
    let mut names: Vec<String> = candidates
        .map(|found| found["candidate"].as_str().unwrap().replace("Quay, ", ""))
        .collect();
    names.sort();
    names
}

/// 1080 m with a tenth spare are 1188 m: 10 balls of 120 m, which cost 50.00 EUR at
/// 5.00 EUR a ball, to the cent.
#[test]
fn a_cost_is_kept_to_the_cent_and_what_has_no_price_in_that_currency_is_left_out() {
    let answer = find(&desk(), &["--max-cost", "50 EUR", "--without", "mohair"]);
    assert_eq!(names(&answer), ["Gannet", "Petrel", "Skua"]);
    assert_eq!(answer["max_cost"], "50.00 EUR");
    let mut left_out = answer["left_out"].as_array().unwrap().clone();
    left_out.sort_by_key(ToString::to_string);
    assert_eq!(
        left_out,
        [
            json!({"why": "cost not known", "yarns": 1}),
            json!({"why": "costs more than 50.00 EUR", "yarns": 1}),
            json!({"why": "mohair", "yarns": 1}),
            json!({"why": "no price in EUR", "yarns": 1}),
        ]
    );
    assert_eq!(answer["passed_over"], 0);
    let answer = find(&desk(), &["--max-cost", "49.99 EUR", "--without", "mohair"]);
    assert_eq!(names(&answer), ["Petrel"]);
}

#[test]
fn people_read_how_many_were_left_out_and_why() {
    let asked = ["find", "--wants", WANTS, "--need", "1080 m"];
    let options = ["--max-cost", "49.99 EUR", "--without", "mohair"];
    let text = desk().text(&[&asked[..], &options].concat());
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("6 left out:"), "{text}");
    assert!(text.contains("3 that cost more than 49.99 EUR"), "{text}");
    assert!(text.contains("1 with mohair"), "{text}");
    assert!(text.contains("1 of unknown cost"), "{text}");
}

#[test]
fn enough_means_one_shade_and_one_lot_means_one_lot() {
    let desk = desk();
    let names = |options: &[&str]| names(&find(&desk, options));
    assert_eq!(names(&["--enough"]), ["Gannet", "Petrel"]);
    assert_eq!(
        names(&["--enough", "--from", "stash"]),
        ["Gannet", "Petrel"]
    );
    assert_eq!(names(&["--one-lot"]), ["Petrel"]);
    assert_eq!(names(&["--enough", "--place", "loft"]), [""; 0]);
    let answer = find(&desk, &["--one-lot"]);
    assert_eq!(
        answer["left_out"],
        json!([
            {"why": "not in your stash", "yarns": 4},
            {"why": "no lot alone is enough", "yarns": 2},
        ])
    );
}

#[test]
fn a_shade_is_meant_by_its_name_or_by_its_colour_and_a_place_by_its_words() {
    let desk = desk();
    let names = |options: &[&str]| names(&find(&desk, options));
    assert_eq!(names(&["--shade", "moss"]), ["Gannet"]);
    assert_eq!(names(&["--shade", "dark green"]), ["Gannet", "Shag"]);
    assert_eq!(names(&["--shade", "ash"]), ["Gannet"]);
    assert_eq!(names(&["--place", "loft"]), ["Gannet", "Shag"]);
    assert_eq!(
        names(&["--place", "loft", "--shade", "pine", "--from", "stash"]),
        ["Shag"]
    );
    assert_eq!(names(&["--shade", "chartreuse"]), [""; 0]);
    let answer = find(&desk, &["--place", "loft"]);
    let cover = answer["candidates"][0]["cover"].as_str().unwrap();
    assert!(cover.contains("8 skeins of lot 1, box 3, loft"), "{cover}");
    assert!(!cover.contains("trunk"), "{cover}");
}

#[test]
fn one_yarn_that_is_not_as_wished_says_so() {
    let desk = desk();
    let asked = ["check", "--wants", WANTS, "--need", "1080 m", "--yarn"];
    let said =
        |options: &[&str]| desk.json(&[&asked[..], options].concat())["warnings"].to_string();
    let said_of_skua = said(&["Skua", "--max-cost", "49 EUR", "--enough"]);
    assert!(
        said_of_skua.contains("costs more than 49.00 EUR"),
        "{said_of_skua}"
    );
    assert!(said_of_skua.contains("not in your stash"), "{said_of_skua}");
    let said = said(&["Petrel", "--max-cost", "49.90 EUR", "--enough", "--one-lot"]);
    assert!(!said.contains("Not as you wish"), "{said}");
}

#[test]
fn what_is_no_money_is_refused_with_what_is_allowed() {
    let asked = ["find", "--wants", WANTS, "--max-cost", "forty"];
    let outcome = desk().run(&asked);
    let said = outcome.code(2).err;
    assert!(said.contains("`12,95 EUR`"), "{said}");
}

#[test]
fn an_amount_in_hand_says_which_sizes_it_makes_without_any_record() {
    let wants = "DK, 240 m/100 g, 22 sts / 10 cm, 100% wool";
    let asked = [
        "check",
        "--wants",
        wants,
        "--need",
        "S 600 m, M 1000 m, L 1100 m",
    ];
    let yarn = [
        "--yarn",
        "50 g = 120 m, 100% wool, 22 sts / 10 cm",
        "--have",
    ];
    let desk = Desk::empty();
    for have in ["430 g", "8.6 balls", "1032 m", "1128.609 yd"] {
        let answer = desk.json(&[&asked[..], &yarn, &[have]].concat());
        let made = &answer["in_hand"];
        assert!(
            (as_number(&made["length_m"]) - 1032.0).abs() < 0.01,
            "{have}"
        );
        let enough = |at: usize| made["sizes"][at]["enough"].clone();
        assert_eq!(
            [enough(0), enough(1), enough(2)],
            ["with spare", "just", "no"]
        );
        assert!((as_number(&made["sizes"][2]["missing_m"]) - 68.0).abs() < 0.01);
    }
    assert!(!desk.db().exists());
    let text = desk.text(&[&asked[..], &yarn, &["430 g"]].concat());
    let said = "Your 430 g (1032 m): enough for S with 10 % spare; just enough for M without that spare; not enough for L.";
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains(said), "{text}");
}

#[test]
fn grams_of_a_yarn_without_metres_are_asked_for_as_a_length() {
    let asked = [
        "check",
        "--wants",
        WANTS,
        "--need",
        "900 m",
        "--yarn",
        "22 sts / 10 cm, 100% wool",
    ];
    let refused = Desk::empty().run(&[&asked[..], &["--have", "430 g"]].concat());
    let said = refused.code(2).err;
    assert!(said.contains("write metres or yards"), "{said}");
}

#[test]
fn where_no_yarn_is_as_wished_nothing_is_said_of_yarns_to_buy() {
    let asked = [
        "find", "--wants", WANTS, "--need", "1080 m", "--place", "attic",
    ];
    let text = desk().text(&asked);
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        text.contains("None of your yarns is as you wish."),
        "{text}"
    );
    assert!(text.contains("not in `attic`"), "{text}");
    assert!(
        !text.contains("Swatch") && !text.contains("All 0"),
        "{text}"
    );
}

#[test]
fn an_amount_in_hand_is_of_one_yarn() {
    let two = [
        "--yarn",
        "Quay, Gannet",
        "--yarn",
        "Quay, Petrel",
        "--have",
        "3 balls",
    ];
    desk()
        .run(&[&["check", "--wants", WANTS, "--need", "1080 m"][..], &two].concat())
        .code(2)
        .stderr("--have: an amount can be counted of one yarn");
}

/// 240 m with a tenth spare are 264 m, 2.2 balls; 700 m are 770 m, 6.4 balls; 1080 m are
/// 1188 m, 9.9 balls.
fn desk_with_patterns() -> Desk {
    let desk = desk();
    for (name, need) in [("Cowl", "240 m"), ("Vest", "700 m"), ("Coat", "1080 m")] {
        let add = ["pattern", "add", name, "--purpose", "accessory"];
        desk.text(&[&add[..], &["--wants", WANTS, "--needs", need]].concat());
    }
    desk
}

/// Yarn, shade and the lots that a project takes.
fn made_of(plan: &Value, at: usize) -> (String, Vec<String>) {
    let yarn = &plan["made"][at]["yarns"][0];
    let lots = yarn["lots"].as_array().unwrap().iter();
    let lots = lots.map(|lot| lot["lot"].as_str().unwrap().to_owned());
    (
        yarn["yarn"].as_str().unwrap().replace("Quay, ", ""),
        lots.collect(),
    )
}

#[test]
fn a_plan_takes_only_what_is_wished_and_says_the_wish_that_keeps_a_project_out() {
    let desk = desk_with_patterns();
    let plan = |options: &[&str]| desk.json(&[&["plan"], options].concat());
    let both = plan(&["Coat", "Cowl"]);
    assert_eq!(both["made"].as_array().unwrap().len(), 2, "{both}");
    // 11 balls of Gannet lie in two lots, 10 of Petrel in one.
    let one_lot = plan(&["Coat", "--one-lot", "--shade", "moss"]);
    let why = one_lot["left_out"][0]["why"].as_str().unwrap();
    assert!(why.contains("not enough in one dye lot"), "{why}");
    assert!(
        why.contains("no shade") || why.contains("in no shade `moss`"),
        "{why}"
    );
    let one_lot = plan(&["Coat", "--one-lot"]);
    assert_eq!(
        made_of(&one_lot, 0),
        ("Petrel".to_owned(), vec!["7".to_owned()])
    );
    let loft = plan(&["Vest", "Cowl", "--place", "loft"]);
    assert_eq!(
        made_of(&loft, 0),
        ("Gannet".to_owned(), vec!["1".to_owned()])
    );
    let left_out = &loft["left_out"][0];
    let why = left_out["why"].as_str().unwrap();
    assert!(
        why.contains("not as you wish: 1 yarn not in `loft`"),
        "{why}"
    );
    let none = plan(&["Cowl", "--without", "wool"]);
    let why = none["left_out"][0]["why"].as_str().unwrap();
    assert!(why.contains("not as you wish: 3 yarns with wool"), "{why}");
}

#[test]
fn no_lot_is_promised_twice_where_one_project_wants_one_lot_and_another_any() {
    let desk = desk_with_patterns();
    for (name, wish) in [("Vest", "--one-lot"), ("Cowl", "--without=mohair")] {
        desk.text(&["project", "add", name, "--shade", "moss", wish]);
    }
    let plan = desk.json(&["plan"]);
    assert_eq!(plan["optimal"], true);
    assert_eq!(
        made_of(&plan, 0),
        ("Gannet".to_owned(), vec!["1".to_owned()])
    );
    assert_eq!(
        made_of(&plan, 1),
        ("Gannet".to_owned(), vec!["2".to_owned()])
    );
    // 770 m and 264 m are of one lot each, what is left of both is enough for 264 m more.
    desk.text(&["project", "add", "Cowl", "--shade", "moss", "--one-lot"]);
    let plan = desk.json(&["plan"]);
    let lots = |at| made_of(&plan, at).1;
    assert_eq!(
        [lots(0), lots(1), lots(2)],
        [vec!["1"], vec!["1", "2"], vec!["2"]]
    );
    desk.text(&["project", "add", "Cowl", "--shade", "moss"]);
    let plan = desk.json(&["plan"]);
    assert_eq!(plan["made"].as_array().unwrap().len(), 3, "{plan}");
    desk.text(&["plan", "--reserve"]);
    desk.text(&["verify"]);
}

#[test]
fn what_is_to_be_bought_keeps_to_the_cost_and_nothing_is_bought_where_only_the_stash_counts() {
    let desk = desk_with_patterns();
    let words = |options: &[&str]| {
        let text = desk.text(&[&["plan"], options].concat());
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    // 10 balls of Petrel are there, 1188 m of 1200 m; for a second coat Gannet is.
    let three = ["Coat", "Coat", "Coat"];
    let all = words(&three);
    assert!(all.contains("Buy "), "{all}");
    let little = words(&[&three[..], &["--max-cost", "9 EUR"]].concat());
    assert!(little.contains("more than your 9.00 EUR."), "{little}");
    assert!(!little.contains("Buy "), "{little}");
    let none = words(&[&three[..], &["--enough"]].concat());
    assert!(!none.contains("Buy ") && !none.contains("costs"), "{none}");
    let francs = words(&[&three[..], &["--max-cost", "90 CHF"]].concat());
    assert!(
        francs.contains("with a price in CHF could be bought"),
        "{francs}"
    );
}

#[test]
fn a_project_keeps_what_is_wished_of_its_yarn_until_it_is_taken_back() {
    let desk = desk_with_patterns();
    let add = [
        "project",
        "add",
        "Coat",
        "--max-cost",
        "40 EUR",
        "--one-lot",
    ];
    desk.text(
        &[
            &add[..],
            &["--shade", "moss", "--place", "loft", "--enough"],
        ]
        .concat(),
    );
    let row = |field: &str| desk.json(&["project", "list"])["rows"][0][field].clone();
    assert_eq!(
        (row("max_cost"), row("one_lot")),
        (json!("40 EUR"), json!(true))
    );
    assert_eq!((row("shade"), row("place")), (json!("moss"), json!("loft")));
    let listed = desk.text(&["project", "list"]);
    assert!(listed.contains("at most 40 EUR"), "{listed}");
    let edit = [
        "project",
        "edit",
        "1",
        "--shade",
        "",
        "--place",
        "",
        "--one-lot",
        "no",
    ];
    desk.text(&[&edit[..], &["--max-cost", "", "--enough", "no"]].concat());
    assert_eq!((row("max_cost"), row("one_lot")), (json!(""), json!(false)));
    assert_eq!(desk.json(&["plan"])["made"].as_array().unwrap().len(), 1);
    desk.text(&["undo"]);
    assert_eq!((row("enough"), row("place")), (json!(true), json!("loft")));
    let refused = desk.run(&["project", "edit", "1", "--max-cost", "forty"]);
    assert!(refused.code(2).err.contains("`12,95 EUR`"));
    let refused = desk.run(&["project", "edit", "1", "--enough", "perhaps"]);
    assert!(refused.code(2).err.contains("`yes` or `no`"));
}

#[test]
fn patterns_and_sizes_that_are_not_as_wished_are_left_out_of_what_a_yarn_suits() {
    let desk = desk_with_patterns();
    let suits = |options: &[&str]| desk.json(&[&["suits", "Gannet"], options].concat());
    let patterns = |told: &Value| {
        let rows = told["patterns"].as_array().unwrap().iter();
        let mut names: Vec<String> = rows
            .map(|row| row["pattern"].as_str().unwrap().to_owned())
            .collect();
        names.sort();
        names
    };
    assert_eq!(patterns(&suits(&[])), ["Coat", "Cowl", "Vest"]);
    let cheap = suits(&["--max-cost", "35 EUR"]);
    assert_eq!(patterns(&cheap), ["Cowl", "Vest"]);
    assert_eq!(
        cheap["left_out"],
        json!([{"why": "costs more than 35.00 EUR", "patterns": 1}])
    );
    assert_eq!(patterns(&suits(&["--enough"])), ["Coat", "Cowl", "Vest"]);
    assert_eq!(patterns(&suits(&["--one-lot"])), ["Cowl", "Vest"]);
    assert_eq!(
        patterns(&suits(&["--enough", "--place", "trunk"])),
        ["Cowl"]
    );
    let none = desk.text(&["suits", "Gannet", "--without", "wool"]);
    assert!(none.contains("3 left out: with wool."), "{none}");
}

#[test]
fn what_could_replace_a_yarn_says_how_many_were_left_out_and_why() {
    let desk = desk();
    let wants = format!("Quay Skua ({WANTS}), 1080 m");
    desk.text(&[
        "pattern",
        "add",
        "Coat",
        "--purpose",
        "accessory",
        "--wants",
        &wants,
    ]);
    let wish = [
        "replace",
        "Skua",
        "--without",
        "mohair",
        "--max-cost",
        "50 EUR",
    ];
    let told = desk.json(&wish);
    let left_out = told["patterns"][0]["left_out"].to_string();
    assert!(
        left_out.contains("mohair") && left_out.contains("cost not known"),
        "{left_out}"
    );
    let text = desk.text(&wish);
    assert!(text.contains("left out:"), "{text}");
}
