//! The README: its tour is run, its tables are compared with the program's.
//!
//! `UNDERSTUDY_BLESS=1 cargo test --test all readme` writes what the program
//! prints now into the README; read the difference before keeping it.

use crate::desk::{Desk, PROGRAM, root};
use std::{fs, os::unix::fs::symlink, path::Path};
use understudy::measure::units::{COUNT_SYSTEMS, Dimension, UNITS};

fn readme() -> String {
    fs::read_to_string(root().join("README.md")).unwrap()
}

/// Runs one line of the tour as a shell would, and gives what it prints.
fn run(line: &str, desk: &Desk) -> String {
    let program = Path::new(PROGRAM).parent().unwrap();
    let path = format!("{}:{}", program.display(), std::env::var("PATH").unwrap());
    let mut shell = desk.here("sh");
    shell.args(["-c", &format!("{line} 2>&1")]);
    shell.env("PATH", path).env_remove("UNDERSTUDY_DB");
    String::from_utf8(shell.output().unwrap().stdout).unwrap()
}

/// The README with the output of every `$ ` line of its ```console blocks put in.
fn with_outputs(text: &str, desk: &Desk) -> String {
    let mut out = String::new();
    let mut in_console = false;
    for line in text.lines() {
        let fence = line.starts_with("```");
        if fence {
            in_console = line == "```console";
        }
        match line.strip_prefix("$ ") {
            Some(command) if in_console => {
                out.push_str(&format!("{line}\n{}", run(command, desk)));
            }
            _ if in_console && !fence => {}
            _ => out.push_str(&format!("{line}\n")),
        }
    }
    out
}

#[test]
fn the_tour_prints_what_the_readme_says() {
    let desk = Desk::empty();
    symlink(root().join("sample-stash"), desk.path("sample-stash")).unwrap();
    let text = readme();
    let now = with_outputs(&text, &desk);
    if std::env::var_os("UNDERSTUDY_BLESS").is_some() {
        let now = now
            .replace("UNITS_TABLE", &units_table())
            .replace("COUNTS_TABLE", &counts_table());
        fs::write(root().join("README.md"), now).unwrap();
        return;
    }
    assert!(
        text.matches("\n$ ").count() >= 10,
        "the tour has too few commands"
    );
    for (said, printed) in text.lines().zip(now.lines()) {
        assert_eq!(said, printed);
    }
    assert_eq!(text.lines().count(), now.lines().count());
}

fn units_table() -> String {
    let head = "| unit | is | written |\n|---|---|---|".to_owned();
    let rows = UNITS.iter().map(|unit| {
        let canonical = match unit.dimension {
            Dimension::Length => "m",
            Dimension::Mass => "g",
        };
        let factor = format!("{:.9}", unit.factor);
        let factor = factor.trim_end_matches('0').trim_end_matches('.');
        format!(
            "\n| {} | {factor} {canonical} | {} |",
            unit.symbol,
            unit.written.join(" ")
        )
    });
    head + &rows.collect::<String>()
}

fn counts_table() -> String {
    let head = "| count | is | written |\n|---|---|---|".to_owned();
    let rows = COUNT_SYSTEMS.iter().map(|row| {
        format!(
            "\n| {} | {} | {} |",
            row.symbol,
            row.meaning,
            row.written.join(" ")
        )
    });
    head + &rows.collect::<String>()
}

#[test]
fn the_tables_of_units_are_the_programs() {
    let text = readme();
    assert!(
        text.contains(&units_table()),
        "the README lacks the table\n{}",
        units_table()
    );
    assert!(
        text.contains(&counts_table()),
        "the README lacks the table\n{}",
        counts_table()
    );
}

#[test]
fn every_command_is_in_the_readme() {
    let text = readme();
    for command in understudy::cli::command()
        .get_subcommands()
        .filter(|command| command.get_name() != "help")
    {
        assert!(
            text.contains(&format!("| `{}` |", command.get_name())),
            "the README lacks `{}`",
            command.get_name()
        );
    }
}

#[test]
fn every_room_is_in_the_contributors_guide() {
    let guide = fs::read_to_string(root().join("DEVELOPERS.md")).unwrap();
    for entry in fs::read_dir(root().join("src"))
        .unwrap()
        .map(Result::unwrap)
        .filter(|entry| entry.path().is_dir())
    {
        let room = entry.file_name().into_string().unwrap();
        assert!(
            guide.contains(&format!("| `{room}` |")),
            "DEVELOPERS.md lacks the room {room}"
        );
    }
}

/// The text of every source file in a folder, its folders among it.
fn sources(folder: &Path) -> String {
    let entries = fs::read_dir(folder).unwrap();
    let text = |path: &Path| match path.extension() {
        _ if path.is_dir() => sources(path),
        Some(end) if end == "rs" => fs::read_to_string(path).unwrap(),
        _ => String::new(),
    };
    entries.map(|entry| text(&entry.unwrap().path())).collect()
}

#[test]
fn every_test_in_the_table_of_what_was_tried_is_there() {
    let table = fs::read_to_string(root().join("docs/what-was-tried.md")).unwrap();
    let sources = sources(&root().join("src")) + &sources(&root().join("tests"));
    let quoted = table.split('`').skip(1).step_by(2);
    let is_test = |name: &&str| {
        let mut letters = name.chars();
        name.contains('_') && letters.all(|c| matches!(c, 'a'..='z' | '0'..='9' | '_'))
    };
    let tests: Vec<&str> = quoted.filter(is_test).collect();
    assert!(tests.len() > 40, "{}", tests.len());
    for name in tests {
        assert!(sources.contains(&format!("fn {name}(")), "{name}");
    }
}
