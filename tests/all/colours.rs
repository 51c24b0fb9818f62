//! Colours of shades: typed, kept once for all lots of a shade, in tables, undone, and
//! shown where a terminal can.

use crate::desk::Desk;
use serde_json::Value;

const YARN: &str = "maker,name,length,mass\nQuenby,Marram,125 m,50 g\n";

/// One yarn, and lots of it as these rows say: `shade,lot,amount,colour`.
fn shelf(rows: &str) -> Desk {
    let desk = one_yarn();
    desk.text(&["import", "stock", &table(&desk, rows)]);
    desk
}

fn one_yarn() -> Desk {
    let desk = Desk::empty();
    let yarns = desk.write("yarns.csv", YARN);
    desk.text(&["import", "yarns", &yarns]);
    desk
}

fn table(desk: &Desk, rows: &str) -> String {
    let rows = rows.lines().map(|row| format!("Quenby,Marram,{row}\n"));
    let rows: String = rows.collect();
    desk.write(
        "stock.csv",
        format!("maker,name,shade,lot,amount,colour\n{rows}"),
    )
}

/// Shade and colour of each lot, and red, green and blue.
fn colours(desk: &Desk) -> Vec<[String; 3]> {
    let listed = desk.json(&["stock", "list"]);
    let text = |value: &Value| value.as_str().unwrap_or("-").to_owned();
    let rows = listed["rows"].as_array().unwrap().iter();
    rows.map(|row| ["shade", "colour", "colour_hex"].map(|name| text(&row[name])))
        .collect()
}

/// Whether a table of so many lots changes nothing.
fn is_known(desk: &Desk, table: &str, lots: usize) -> bool {
    let told = desk.json(&["import", "stock", table]);
    let counts = told["details"].to_string();
    counts.contains(&format!("unchanged\",\"{lots} lot"))
}

fn of(shade: &str, colour: &str, hex: &str) -> [String; 3] {
    [shade, colour, hex].map(str::to_owned)
}

#[test]
fn a_colour_in_one_row_is_that_of_all_lots_of_the_shade_and_comes_back_as_typed() {
    let desk =
        shelf("sea,1,3 skeins,Dark sea-green\nsea,2,1 skein,\nmoss,,2 skeins,\nfog,,40 g,GREY");
    let expected = [
        of("fog", "GREY", "#808080"),
        of("moss", "-", "-"),
        of("sea", "Dark sea-green", "#8fbc8f"),
        of("sea", "Dark sea-green", "#8fbc8f"),
    ];
    assert_eq!(colours(&desk), expected);
    let written = desk.text(&["export", "stock"]);
    let again = desk.write("again.csv", &written);
    assert!(is_known(&desk, &again, 4));
    let other = one_yarn();
    let again = other.write("again.csv", &written);
    other.text(&["import", "stock", &again]);
    assert_eq!(other.text(&["export", "stock"]), written);
    assert_eq!(colours(&other), expected);
}

#[test]
fn a_table_that_says_nothing_of_colours_leaves_them_and_one_with_two_is_kept_out() {
    let desk = shelf("sea,1,3 skeins,navy\nsea,2,1 skein,");
    let bare = desk.write(
        "bare.csv",
        "maker,name,shade,lot,amount\nQuenby,Marram,sea,1,3 skeins\nQuenby,Marram,sea,2,1 skein\n",
    );
    assert!(is_known(&desk, &bare, 2));
    let known = table(&desk, "moss,5,2 skeins,");
    desk.text(&["import", "stock", &known]);
    let more = table(&desk, "moss,5,2 skeins,olive");
    let told = desk.run(&["import", "stock", &more]).code(1);
    assert!(
        told.err.contains("it differs: colour not known -> olive"),
        "{}",
        told.err
    );
    desk.text(&["import", "stock", &more, "--update"]);
    assert_eq!(colours(&desk)[0], of("moss", "olive", "#808000"));
    desk.text(&["undo"]);
    desk.text(&["undo"]);
    // The same colour in other words is no difference.
    let same = table(&desk, "sea,1,3 skeins,#000080");
    assert!(is_known(&desk, &same, 1));
    let two = table(&desk, "sea,1,3 skeins,teal\nsea,2,1 skein,navy");
    let told = desk.run(&["import", "stock", &two, "--update"]).code(1);
    assert!(told.err.contains("a shade has one colour"), "{}", told.err);
    let new = table(&desk, "sea,3,1 skein,teal");
    let told = desk.run(&["import", "stock", &new]).code(1);
    assert!(
        told.err
            .contains("its colour is `teal` in this row and `navy` elsewhere"),
        "{}",
        told.err
    );
    assert_eq!(colours(&desk)[0][1], "navy");
    desk.text(&["import", "stock", &new, "--update"]);
    assert!(colours(&desk).iter().all(|lot| lot[1] == "teal"));
    desk.text(&["undo"]);
    assert!(colours(&desk).iter().all(|lot| lot[1] == "navy"));
    desk.text(&["verify"]);
}

#[test]
fn what_is_no_colour_is_refused_with_what_is_allowed() {
    let desk = shelf("sea,1,3 skeins,");
    for (text, said) in [
        ("mustardy", "it is not one of the colour names of the web"),
        ("nvay", "did you mean `navy`?"),
        ("#2f6f8f80", "six digits as in `#2f6f8f`"),
        ("\u{1b}[31m", "it is not one of the colour names of the web"),
        ("url(x)", "it is not one of the colour names of the web"),
        (
            "navy\"><script>",
            "it is not one of the colour names of the web",
        ),
        ("２f6f8f", "it is not one of the colour names of the web"),
        (
            "\u{202e}yvan",
            "it is not one of the colour names of the web",
        ),
    ] {
        let told = desk.run(&["stock", "edit", "1", "--colour", text]).code(2);
        assert!(told.err.contains(said), "{text}: {}", told.err);
        assert!(!told.err.contains(['\u{1b}', '\u{202e}']), "{text}");
        let bad = desk.write(
            "bad.csv",
            format!(
                "maker,name,shade,lot,amount,colour\nQuenby,Marram,sea,9,1 skein,\"{}\"\n",
                text.replace('"', "\"\"")
            ),
        );
        let told = desk.run(&["import", "stock", &bad]).code(1);
        assert!(told.err.contains("colour"), "{text}: {}", told.err);
    }
    assert_eq!(colours(&desk), [of("sea", "-", "-")]);
}

#[test]
fn a_colour_is_given_with_what_is_bought_changed_once_taken_out_and_undone() {
    let desk = shelf("moss,,1 skein,");
    let buy = ["stock", "buy", "Marram", "2 balls", "--shade", "sea"];
    desk.text(&[&buy[..], &["--colour", "teal", "--lot", "7"]].concat());
    desk.text(&buy);
    assert_eq!(colours(&desk)[1], of("sea", "teal", "#008080"));
    assert_eq!(colours(&desk)[2], of("sea", "teal", "#008080"));
    for times in 0..2 {
        let edit = [
            "stock", "edit", "2", "--colour", "2F6F8F", "--once", "till 3",
        ];
        let told = desk.text(&edit);
        assert_eq!(told.contains("nothing was changed"), times > 0, "{told}");
    }
    assert_eq!(colours(&desk)[1], of("sea", "2F6F8F", "#2f6f8f"));
    desk.text(&["stock", "edit", "3", "--colour", ""]);
    assert_eq!(colours(&desk)[1], of("sea", "-", "-"));
    let told = desk.text(&["undo"]);
    let told: Vec<&str> = told.split_whitespace().collect();
    let told = told.join(" ");
    assert!(
        told.contains("colour of Quenby, Marram, sea changed"),
        "{told}"
    );
    assert_eq!(colours(&desk)[1], of("sea", "2F6F8F", "#2f6f8f"));
    for _ in 0..3 {
        desk.text(&["undo"]);
    }
    assert_eq!(colours(&desk), [of("moss", "-", "-")]);
    desk.text(&["verify"]);
}

#[test]
fn a_backup_holds_colours_and_a_yarn_goes_and_comes_with_them() {
    let desk = shelf("sea,1,3 skeins,navy");
    desk.text(&["backup", "b.db"]);
    desk.text(&["stock", "edit", "1", "--colour", "teal"]);
    desk.text(&["restore", "b.db"]);
    assert_eq!(colours(&desk), [of("sea", "navy", "#000080")]);
}

#[test]
fn a_shade_that_is_called_like_a_colour_is_told_and_never_taken_for_it() {
    let desk = shelf("navy,1,3 skeins,");
    assert_eq!(colours(&desk), [of("navy", "-", "-")]);
    let told = desk.text(&["stock", "buy", "Marram", "1 ball", "--shade", "Teal"]);
    assert!(
        told.contains("`Teal` is also the name of a colour"),
        "{told}"
    );
    let told = desk.text(&["stock", "buy", "Marram", "1 ball", "--shade", "sea"]);
    assert!(!told.contains("colour"), "{told}");
    assert!(colours(&desk).iter().all(|lot| lot[1] == "-"));
}

/// What `stock list` prints where colour is forced on, as a terminal would have it.
fn listed(desk: &Desk, colorterm: &str, no_color: bool) -> String {
    let mut command = desk.command(&["stock", "list"]);
    command
        .env("CLICOLOR_FORCE", "1")
        .env("COLORTERM", colorterm);
    command.env_remove("NO_COLOR");
    if no_color {
        command.env("NO_COLOR", "1").env_remove("CLICOLOR_FORCE");
    }
    String::from_utf8(command.output().unwrap().stdout).unwrap()
}

#[test]
fn a_terminal_shows_colours_only_where_it_says_that_it_can_and_plain_text_never() {
    let desk = shelf("sea,1,3 skeins,#2f6f8f");
    let shown = listed(&desk, "truecolor", false);
    assert!(shown.contains("\u{1b}[38;2;47;111;143m██"), "{shown}");
    assert!(shown.contains("m sea"), "{shown}");
    for plain in [
        listed(&desk, "", false),
        listed(&desk, "truecolor", true),
        desk.text(&["stock", "list"]),
        desk.text(&["stock", "list", "--markdown"]),
        desk.text(&["stock", "list", "--json"]),
    ] {
        assert!(!plain.contains('█') && !plain.contains("38;2"), "{plain}");
        assert!(plain.contains("sea"), "{plain}");
        assert!(plain.chars().all(|c| u32::from(c) < 0xf_0000), "{plain}");
    }
}

#[test]
fn answers_from_the_stash_say_the_colour_to_programs() {
    let desk = Desk::with_sample();
    let asked = [
        "check",
        "--yarn",
        "Grundlin DK",
        "--pattern",
        "Skerrablet",
        "--size",
        "S",
    ];
    let answer = desk.json(&asked);
    let cover = &answer["cover"][0];
    assert_eq!(cover["shade"], "moss", "{answer}");
    assert_eq!(cover["colour_hex"], "#5b6b3a");
}
