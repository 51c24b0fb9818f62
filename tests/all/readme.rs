//! README and documents: what they type is run, their tables are compared with the
//! program's, their links are followed.
//!
//! `UNDERSTUDY_BLESS=1 cargo test --test all readme` writes what the program
//! prints now into them; read the difference before keeping it.

use crate::desk::{Desk, PROGRAM, root};
use std::{fs, os::unix::fs::symlink, path::Path};
use understudy::{
    files::csv::{
        Column, PROJECT_COLUMNS, Presence, RESERVATION_COLUMNS, STOCK_COLUMNS, SWATCH_COLUMNS,
        YARN_COLUMNS,
    },
    measure::units::{COUNT_SYSTEMS, Dimension, UNITS},
    record::{Fit, Purpose},
};

/// The documents whose commands are run, each with records of its own.
const TOURS: [&str; 3] = ["README.md", "docs/tour.md", "docs/files.md"];

fn document(name: &str) -> String {
    fs::read_to_string(root().join(name)).unwrap()
}

/// The documents that people read.
fn documents() -> Vec<String> {
    let folder = fs::read_dir(root().join("docs")).unwrap();
    let names = folder.map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let mut all: Vec<String> = names.map(|name| format!("docs/{name}")).collect();
    all.extend(["README.md", "DEVELOPERS.md", "sample-stash/README.md"].map(String::from));
    all
}

/// Runs one line of a tour as a shell would, gives what it prints, and checks that it
/// ends with 0 or with what is said behind it: `# exit status 1`.
fn run(line: &str, desk: &Desk) -> String {
    let program = Path::new(PROGRAM).parent().unwrap();
    let path = format!("{}:{}", program.display(), std::env::var("PATH").unwrap());
    let mut shell = desk.here("sh");
    shell.args(["-c", &format!("{{ {line}\n}} 2>&1")]);
    shell.env("PATH", path).env_remove("UNDERSTUDY_DB");
    let output = shell.output().unwrap();
    let expected = line.rsplit_once("# exit status ").map_or("0", |(_, n)| n);
    let text = String::from_utf8(output.stdout).unwrap();
    let status = output.status.code().unwrap().to_string();
    assert_eq!(status, expected, "{line}\n{text}");
    text
}

/// A document with the output of every `$ ` line of its ```console blocks put in.
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
fn the_readme_and_the_tour_print_what_they_say() {
    for (name, least) in TOURS.into_iter().zip([5, 10, 1]) {
        let desk = Desk::empty();
        symlink(root().join("sample-stash"), desk.path("sample-stash")).unwrap();
        let text = document(name);
        let now = with_outputs(&text, &desk);
        if std::env::var_os("UNDERSTUDY_BLESS").is_some() {
            fs::write(root().join(name), now).unwrap();
            continue;
        }
        let commands = text.matches("\n$ ").count();
        assert!(commands >= least, "{name} has too few commands");
        for (said, printed) in text.lines().zip(now.lines()) {
            assert_eq!(said, printed, "{name}");
        }
        assert_eq!(text.lines().count(), now.lines().count(), "{name}");
    }
}

/// An hour with somebody who has never seen it begins with one page.
#[test]
fn the_readme_is_a_page() {
    let lines = document("README.md").lines().count();
    assert!(lines <= 200, "{lines}");
}

#[test]
fn every_link_of_the_documents_leads_somewhere() {
    let mut links = 0;
    for name in documents() {
        let text = document(&name);
        let folder = root().join(&name).parent().unwrap().to_owned();
        for link in text.split("](").skip(1) {
            let link = link.split(')').next().unwrap();
            if link.starts_with("http") {
                continue;
            }
            let (file, heading) = link.split_once('#').unwrap_or((link, ""));
            let path = folder.join(file);
            let target = match file {
                "" => text.clone(),
                _ => fs::read_to_string(&path).unwrap_or_else(|_| panic!("{name}: {link}")),
            };
            let headings = target.lines().filter(|line| line.starts_with('#'));
            let named = |line: &str| {
                let words = line.trim_start_matches('#').trim().to_lowercase();
                words.replace(' ', "-").replace(['?', ','], "") == heading
            };
            let mut headings = headings.filter(|line| named(line));
            assert!(
                heading.is_empty() || headings.next().is_some(),
                "{name}: {link}"
            );
            links += 1;
        }
    }
    assert!(links > 10, "{links}");
}

fn columns_table(columns: &[Column]) -> String {
    let rows = columns.iter().map(|column| {
        let needed = match column.presence {
            Presence::Required => "; needed",
            Presence::UnlessCount => "; needed, unless there is `count`",
            Presence::Optional => "",
        };
        let Column {
            name,
            holds,
            example,
            ..
        } = column;
        let example = example.replace('|', "\\|");
        let holds = holds.replace('|', "\\|");
        format!("\n| `{name}` | {holds}{needed} | `{example}` |")
    });
    "| column | what it holds | a cell |\n|---|---|---|".to_owned() + &rows.collect::<String>()
}

/// The tables that stand in the documents, with the word that a document has in place
/// of one that is still to be written.
fn tables() -> [(&'static str, &'static str, String); 7] {
    [
        ("docs/units.md", "TABLE_UNITS", units_table()),
        ("docs/units.md", "TABLE_COUNTS", counts_table()),
        ("docs/files.md", "TABLE_YARNS", columns_table(YARN_COLUMNS)),
        ("docs/files.md", "TABLE_STOCK", columns_table(STOCK_COLUMNS)),
        (
            "docs/files.md",
            "TABLE_SWATCHES",
            columns_table(SWATCH_COLUMNS),
        ),
        (
            "docs/files.md",
            "TABLE_PROJECTS",
            columns_table(PROJECT_COLUMNS),
        ),
        (
            "docs/files.md",
            "TABLE_RESERVATIONS",
            columns_table(RESERVATION_COLUMNS),
        ),
    ]
}

#[test]
fn the_tables_of_units_and_columns_are_the_programs() {
    for (name, word, table) in tables() {
        let text = document(name);
        if std::env::var_os("UNDERSTUDY_BLESS").is_some() {
            fs::write(root().join(name), text.replace(word, &table)).unwrap();
            continue;
        }
        assert!(text.contains(&table), "{name} lacks the table\n{table}");
    }
}

/// The keys that the readers of pattern and needs files know, from their sources.
#[test]
fn every_key_of_the_files_is_in_the_documents() {
    let text = document("docs/files.md");
    let mut keys = 0;
    for reader in ["pattern_file/mod.rs", "needs_file/read.rs"] {
        let source = document(&format!("src/files/{reader}"));
        for listed in source.split("KEYS: &str = \"").skip(1) {
            let listed = listed.split('"').next().unwrap().replace('\\', " ");
            for key in listed.split_whitespace() {
                let is_table = ["size", "yarn", "piece", "edge", "sample"].contains(&key);
                let said = text.contains(&format!("`{key}`"));
                assert!(
                    said || is_table && text.contains(&format!("[[{key}]]")),
                    "{key}"
                );
                keys += 1;
            }
        }
    }
    assert!(keys > 60, "{keys}");
}

/// Words of files that are listed there.
#[test]
fn purposes_and_fits_are_in_the_documents() {
    let text = document("docs/files.md");
    for name in Purpose::ALL
        .map(Purpose::name)
        .into_iter()
        .chain(Fit::ALL.map(Fit::name))
    {
        assert!(text.contains(&format!("`{name}`")), "{name}");
    }
}

/// What a code block of a document says to the program, word by word: behind its path,
/// in a line of a shell, of a unit or of a table of tasks, or string by string.
fn commands_of(block: &str) -> Vec<Vec<String>> {
    let words = |text: &str| -> Vec<String> {
        let text = text.split(" #").next().unwrap().trim_end_matches('"');
        // One word of a shell.
        let text = text.replace("$(date +", "$(date+");
        text.split_whitespace().map(String::from).collect()
    };
    if block.contains("<string>") {
        let strings = block.split("<string>").skip(2);
        let strings = strings.map(|rest| rest.split("</string>").next().unwrap().to_owned());
        return vec![strings.skip(1).collect()];
    }
    let lines = block.lines().filter_map(|line| {
        let (_, rest) = line.split_once("understudy.exe ").or_else(|| {
            let called = line.split_once("bin/understudy ");
            called.or_else(|| {
                line.split_once("understudy ")
                    .filter(|(path, _)| path.is_empty())
            })
        })?;
        Some(words(rest))
    });
    lines.collect()
}

/// How a shop runs it: nobody starts these here, but each must be understood.
#[test]
fn the_commands_for_a_shop_are_understood() {
    let text = document("docs/in-the-browser.md");
    let blocks = text.split("```").skip(1).step_by(2);
    let mut commands = 0;
    for words in blocks.flat_map(commands_of) {
        let typed = std::iter::once("understudy".to_owned()).chain(words.clone());
        let understood = understudy::cli::command().try_get_matches_from(typed);
        assert!(understood.is_ok(), "{words:?}: {}", understood.unwrap_err());
        commands += 1;
    }
    assert_eq!(commands, 9);
}

/// The pattern that the documents give as an example is one.
#[test]
fn the_pattern_file_of_the_documents_is_read() {
    let text = document("docs/files.md");
    let file = text
        .split("```toml\n")
        .nth(1)
        .unwrap()
        .split("```")
        .next()
        .unwrap();
    let desk = Desk::empty();
    fs::write(desk.path("own.toml"), file).unwrap();
    desk.text(&["import", "pattern", "own.toml"]);
    assert!(desk.text(&["pattern", "list"]).contains("Orrinhap"));
}

#[test]
fn every_document_can_be_shown() {
    let desk = Desk::empty();
    let shown = |name: &str| desk.text(&["help", name]);
    let listed = document("src/cli/documents.rs");
    let files: Vec<&str> = listed.split("../../docs/").skip(1).collect();
    assert_eq!(files.len(), 9);
    for rest in files {
        let file = rest.split('"').next().unwrap();
        let words = ["browser", "how", file.trim_end_matches(".md")];
        let text = document(&format!("docs/{file}"));
        let is_shown = |word: &&&str| file.contains(**word) && shown(word) == text;
        assert!(words.iter().any(|word| is_shown(&word)), "{file}");
    }
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
fn every_command_is_in_the_documents() {
    let text = document("docs/commands.md");
    for command in understudy::cli::command().get_subcommands() {
        assert!(
            text.contains(&format!("| `{}` |", command.get_name())),
            "the documents lack `{}`",
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
