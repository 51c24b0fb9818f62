//! Help: its examples are run as a person would run them.

use crate::desk::{Desk, PROGRAM, root};
use std::{fs, os::unix::fs::symlink, path::Path};

/// The lines of the examples in the help of a command and of those within it.
fn examples(command: &clap::Command) -> Vec<String> {
    let help = command.get_after_help().map(ToString::to_string);
    let help = help.unwrap_or_default();
    let lines = help.lines().map(str::trim);
    let own = lines.filter(|line| line.starts_with("understudy "));
    let inner = command.get_subcommands().flat_map(examples);
    own.map(str::to_owned).chain(inner).collect()
}

/// A folder in which every example can be run: with the sample stash, two
/// swatches, something reserved, and backups.
pub fn desk() -> Desk {
    let desk = Desk::with_sample();
    symlink(root().join("sample-stash"), desk.path("sample-stash")).unwrap();
    for needle in ["4 mm", "4.5 mm"] {
        let gauge = ["--needle", needle, "--after", "21 sts x 28 rows / 10 cm"];
        desk.text(&[&["swatch", "add", "Hathrel DK"], &gauge[..]].concat());
    }
    desk.text(&["stock", "reserve", "6", "3 balls"]);
    for project in ["Skerrablet:M", "Jotterhelm:adult"] {
        desk.text(&["project", "add", project]);
    }
    desk.text(&["export", "swatches", "swatches.csv"]);
    desk.text(&["export", "projects", "projects.csv"]);
    desk.text(&["export", "reservations", "reservations.csv"]);
    desk.text(&["backup", "backup-march.db"]);
    desk.text(&["backup", "backup-april.db"]);
    desk
}

/// What a line prints that is run as a shell would, on records as they were at first.
pub fn run(line: &str, desk: &Desk, records: &[u8]) -> String {
    if line.contains(" backup ") {
        let name = line.rsplit(' ').next().unwrap();
        fs::remove_file(desk.path(name)).unwrap();
    }
    fs::write(desk.db(), records).unwrap();
    let program = Path::new(PROGRAM).parent().unwrap();
    let path = format!("{}:{}", program.display(), std::env::var("PATH").unwrap());
    let done = desk
        .here("sh")
        .args(["-c", line])
        .env("PATH", path)
        .output()
        .unwrap();
    let told = String::from_utf8_lossy(&done.stderr);
    assert!(done.status.success(), "{line}: {told}");
    String::from_utf8(done.stdout).unwrap()
}

#[test]
fn every_example_of_the_help_does_what_it_says() {
    let command = understudy::cli::command();
    let lines = examples(&command);
    assert!(lines.len() > 80, "only {} examples", lines.len());
    let desk = desk();
    let records = fs::read(desk.db()).unwrap();
    for line in lines {
        // It would not end.
        if line.starts_with("understudy serve") {
            let parsed = command.clone().try_get_matches_from(line.split(' '));
            assert!(parsed.is_ok(), "{line}");
        } else {
            run(&line, &desk, &records);
        }
    }
}
