//! What people read holds none of the sayings that were retired: help, the demo,
//! pages, and every literal of the rooms that word something.
//!
//! `tests/cases/retired-sayings.csv` says what to write instead, and in which
//! longer sayings the same words mean something else; `retired-sayings-contract.csv`
//! lists texts that programs read, which stay.

use crate::{
    desk::{Desk, root},
    house::{Source, literals, sources},
    web::House,
};
use std::collections::BTreeSet;

/// A saying, what to say instead, and texts with it that mean something else.
struct Saying {
    words: Vec<String>,
    instead: String,
    meant_otherwise: Vec<Vec<String>>,
}

/// The words of a text in small letters. Names of options, what is in backticks and
/// what a value is put in for is typed or found, not read.
fn words(text: &str) -> Vec<String> {
    let read: String = text.split('`').step_by(2).collect::<Vec<_>>().join(" . ");
    let values = read.split('{').map(|part| match part.split_once('}') {
        Some((_, rest)) => rest,
        None => part,
    });
    let read = values.collect::<Vec<_>>().join(" . ");
    let word = |word: &str| {
        let bare = word.trim_matches(|c: char| !c.is_alphanumeric() && c != '-');
        (!bare.starts_with('-')).then(|| bare.to_lowercase())
    };
    read.split(|c: char| c.is_whitespace() || "/()|<>".contains(c))
        .map(|one| word(one).unwrap_or_default())
        .collect()
}

fn rows(file: &str) -> Vec<csv::StringRecord> {
    let path = root().join("tests/cases").join(file);
    let mut reader = csv::Reader::from_path(path).unwrap();
    reader.records().map(Result::unwrap).collect()
}

fn sayings() -> Vec<Saying> {
    let saying = |row: csv::StringRecord| Saying {
        words: words(&row[0]),
        instead: row[1].to_owned(),
        meant_otherwise: row[2].split("; ").map(words).collect(),
    };
    rows("retired-sayings.csv")
        .into_iter()
        .map(saying)
        .collect()
}

impl Saying {
    fn title(&self) -> String {
        self.words.join(" ")
    }

    /// Whether a text has it, in another sense than those that are allowed.
    fn is_in(&self, text: &[String]) -> bool {
        let count = |words: &[String]| {
            let filled = words.iter().any(|word| !word.is_empty());
            let found = text
                .windows(words.len().max(1))
                .filter(|part| *part == words);
            if filled { found.count() } else { 0 }
        };
        let otherwise: usize = self.meant_otherwise.iter().map(|words| count(words)).sum();
        count(&self.words) > otherwise
    }
}

/// A place (help, pages, the demo, or a room of the source), a text there, and
/// where exactly it is.
type Place = (String, String, String);

fn help_of(command: &clap::Command, found: &mut Vec<Place>) {
    let text = command.clone().render_long_help().to_string();
    found.push(("help".to_owned(), text, command.get_name().to_owned()));
    for inner in command.get_subcommands() {
        help_of(inner, found);
    }
}

fn help() -> Vec<Place> {
    let mut found = Vec::new();
    let mut command = understudy::cli::command();
    command.build();
    help_of(&command, &mut found);
    found
}

/// What a page says: no tags, no values of fields.
fn read_aloud(html: &str) -> String {
    let areas = html
        .split("<textarea")
        .enumerate()
        .map(|(n, part)| match n {
            0 => part,
            _ => part.split_once("</textarea>").map_or("", |(_, rest)| rest),
        });
    let html: String = areas.collect();
    let parts = html.split('<').map(|part| match part.split_once('>') {
        Some((_, text)) => text,
        None => part,
    });
    let text = parts.collect::<Vec<_>>().join(" | ");
    text.replace("&#39;", "'")
        .replace("&quot;", "\"")
        .replace("&amp;", "&")
}

/// Pages with forms, lists and records, empty and filled, and what is said of
/// wrong entries.
const PAGES: [&str; 26] = [
    "/",
    "/yarns",
    "/yarns/new",
    "/yarns/1",
    "/yarns/1/edit",
    "/yarns/1/swatches/new",
    "/stock",
    "/stock/1",
    "/stock/buy",
    "/stock/sell",
    "/stock/reservations",
    "/stock/low",
    "/stock/count",
    "/patterns",
    "/patterns/new",
    "/patterns/1",
    "/patterns/1/edit",
    "/tables",
    "/questions",
    "/last",
    "/unlabelled",
    "/size",
    "/skeins",
    "/gauge",
    "/sheet",
    "/needs/begin",
];

async fn pages() -> Vec<Place> {
    let (sample, empty) = (House::sample(), House::empty());
    let mut found = Vec::new();
    for path in PAGES.iter().chain(&["/needs", "/lint", "/nowhere"]) {
        for house in [&sample, &empty] {
            let page = house.get(path).await;
            found.push((
                "pages".to_owned(),
                read_aloud(&page.text),
                (*path).to_owned(),
            ));
        }
    }
    found
}

/// Literals that people may read: with a space between words, or one word that
/// begins as a label does.
fn of_source(source: &Source) -> Vec<Place> {
    let place = source.room.clone();
    let is_label = |text: &str| text.starts_with(char::is_uppercase);
    let errors = source.code().split("#[error(").skip(1);
    let errors = errors.filter_map(|rest| rest.split_once(")]"));
    let errors = errors.flat_map(|(error, _)| literals(error));
    let spoken = literals(source.code()).into_iter().chain(errors);
    spoken
        .filter(|(_, text)| text.trim().contains(' ') || is_label(text))
        .map(|(line, text)| (place.clone(), text, format!("{}:{line}", source.named())))
        .collect()
}

fn of_sources() -> Vec<Place> {
    let spoken = |source: &&Source| source.room != "store" || source.named().ends_with("error.rs");
    let sources = sources();
    sources.iter().filter(spoken).flat_map(of_source).collect()
}

fn demo() -> Place {
    let text = Desk::empty().text(&["demo"]);
    ("demo".to_owned(), text, String::new())
}

/// Documents that people read, without what is typed and printed in them, a paragraph
/// each; the package's description.
fn documents() -> Vec<Place> {
    let folder = std::fs::read_dir(root().join("docs")).unwrap();
    let names = folder.map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let mut names: Vec<String> = names.map(|name| format!("docs/{name}")).collect();
    names.extend(["README.md", "sample-stash/README.md"].map(String::from));
    let mut found = Vec::new();
    for name in names {
        let text = std::fs::read_to_string(root().join(&name)).unwrap();
        let prose: String = text.split("```").step_by(2).collect();
        let paragraphs = prose.split("\n\n").map(|part| {
            let at = name.clone();
            ("documents".to_owned(), part.to_owned(), at)
        });
        found.extend(paragraphs);
    }
    let package = std::fs::read_to_string(root().join("Cargo.toml")).unwrap();
    let description = package.lines().find(|line| line.starts_with("description"));
    let at = "Cargo.toml".to_owned();
    found.push(("documents".to_owned(), description.unwrap().to_owned(), at));
    found
}

#[tokio::test]
async fn people_read_no_retired_saying() {
    let mut places = [help(), of_sources(), pages().await, documents()].concat();
    places.push(demo());
    let contract: BTreeSet<(String, String)> = rows("retired-sayings-contract.csv")
        .iter()
        .map(|row| (row[0].to_owned(), row[1].to_owned()))
        .collect();
    let sayings = sayings();
    let (mut seen, mut found) = (BTreeSet::new(), BTreeSet::new());
    for (place, text, at) in &places {
        let entry = (place.clone(), text.clone());
        if contract.contains(&entry) {
            seen.insert(entry);
            continue;
        }
        let spoken = words(text);
        for saying in sayings.iter().filter(|saying| saying.is_in(&spoken)) {
            found.insert(format!(
                "{place},{}: say: {} ({at})\n    in {text:.300}",
                saying.title(),
                saying.instead
            ));
        }
    }
    let found: Vec<String> = found.into_iter().collect();
    assert!(found.is_empty(), "{}", found.join("\n"));
    let gone: Vec<_> = contract.difference(&seen).collect();
    assert!(gone.is_empty(), "nobody writes these any more: {gone:#?}");
}

#[test]
fn a_saying_is_found_as_whole_words_that_are_read() {
    let saying = |text: &str, otherwise: &str| Saying {
        words: words(text),
        instead: String::new(),
        meant_otherwise: vec![words(otherwise)],
    };
    let kept = saying("kept", "");
    assert!(kept.is_in(&words("Yarns that are KEPT, here")));
    assert!(!kept.is_in(&words("`kept` and --kept and unkept")));
    let know = saying("to know", "to know how");
    assert!(!know.is_in(&words("a swatch to know how it works up")));
    assert!(know.is_in(&words("To know: to know how")));
}
