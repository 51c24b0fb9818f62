//! The house: rooms import only rooms before them, libraries stay in their
//! rooms, files and functions stay small.

use std::{
    collections::BTreeSet,
    fs,
    path::{Path, PathBuf},
};

/// Rooms in order: a room imports only rooms before it.
const ROOMS: [&str; 14] = [
    "words", "measure", "trade", "record", "label", "matching", "quantity", "planning", "store",
    "files", "app", "report", "web", "cli",
];

/// Rooms that do no I/O, read no clock and no environment.
const PURE: usize = 8;

/// Libraries that belong to one room.
const KEPT_TO: [(&str, &str); 24] = [
    ("rusqlite", "store"),
    ("rusqlite_migration", "store"),
    ("statrs", "quantity"),
    ("good_lp", "planning"),
    ("calamine", "files"),
    ("encoding_rs", "files"),
    ("quick_xml", "files"),
    ("zip", "files"),
    ("csv", "files"),
    ("toml", "files"),
    ("clap", "cli"),
    ("clap_complete", "cli"),
    ("clap_mangen", "cli"),
    ("indicatif", "cli"),
    ("terminal_size", "cli"),
    ("comfy_table", "report"),
    ("axum", "web"),
    ("hyper", "web"),
    ("hyper_util", "web"),
    ("tokio", "web"),
    ("tower_http", "web"),
    ("askama", "web"),
    ("argon2", "web"),
    ("getrandom", "web"),
];

/// Files that are data tables, or stand in tests only, and may be long.
const TABLES: [&str; 5] = [
    "cli/help/examples.rs",
    "trade/fibres.rs",
    "trade/fibre_words.rs",
    "measure/units.rs",
    "store/samples.rs",
];

pub struct Source {
    pub room: String,
    path: PathBuf,
    text: String,
}

impl Source {
    /// The text before its tests; of a file of tests alone what it is for.
    pub fn code(&self) -> &str {
        if self.path.ends_with("tests.rs") {
            return self.text.lines().next().unwrap_or_default();
        }
        let begins_tests = |rest: &&str| {
            let name = rest.lines().nth(1).unwrap_or_default();
            name.starts_with("mod ") && name.ends_with("tests {")
        };
        let from = |(at, _)| &self.text[at..];
        let marks = self.text.match_indices("#[cfg(test)]").map(from);
        let tests = marks.into_iter().find(begins_tests);
        &self.text[..self.text.len() - tests.map_or(0, str::len)]
    }

    pub fn named(&self) -> String {
        self.path.display().to_string()
    }
}

pub fn sources() -> Vec<Source> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut found = Vec::new();
    walk(&root, &root, &mut found);
    assert!(
        found.len() > 40,
        "the walk found only {} files",
        found.len()
    );
    found
}

fn walk(root: &Path, folder: &Path, found: &mut Vec<Source>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            walk(root, &path, found);
        } else if path.extension().is_some_and(|end| end == "rs") {
            let inside = path.strip_prefix(root).unwrap().to_owned();
            let room = inside
                .components()
                .next()
                .unwrap()
                .as_os_str()
                .to_string_lossy()
                .into_owned();
            found.push(Source {
                room,
                text: fs::read_to_string(&path).unwrap(),
                path: inside,
            });
        }
    }
}

fn place(room: &str) -> Option<usize> {
    ROOMS.iter().position(|known| *known == room)
}

/// First names behind `crate::`, in groups too.
fn imported(text: &str) -> BTreeSet<String> {
    let mut names = BTreeSet::new();
    for rest in text.split("crate::").skip(1) {
        match rest.strip_prefix('{') {
            Some(group) => names.extend(top_level(group)),
            None => names.extend(first_word(rest)),
        }
    }
    names
}

/// Names at the top level of a `{a::b, c::{d, e}}` group, the brace taken off.
fn top_level(group: &str) -> Vec<String> {
    let mut depth = 0;
    let mut part = String::new();
    let mut names = Vec::new();
    for c in group.chars() {
        match c {
            '}' if depth == 0 => break,
            ',' if depth == 0 => names.extend(first_word(&std::mem::take(&mut part))),
            _ => {
                depth += i32::from(c == '{') - i32::from(c == '}');
                part.push(c);
            }
        }
    }
    names.extend(first_word(&part));
    names
}

fn first_word(text: &str) -> Option<String> {
    let word: String = text
        .trim_start()
        .chars()
        .take_while(|c| c.is_alphanumeric() || *c == '_')
        .collect();
    (!word.is_empty()).then_some(word)
}

#[test]
fn groups_of_imports_are_seen_through() {
    let text = "use crate::{\n measure::{Length, Mass},\n trade,\n}; crate::app::read()";
    let names: Vec<String> = imported(text).into_iter().collect();
    assert_eq!(names, ["app", "measure", "trade"]);
}

#[test]
fn a_room_imports_only_rooms_before_it() {
    for source in sources() {
        let Some(here) = place(&source.room) else {
            continue;
        };
        for name in imported(&source.text) {
            assert!(
                place(&name).is_none_or(|there| there <= here),
                "{} uses {name}, a later room",
                source.named()
            );
        }
    }
}

#[test]
fn every_folder_of_the_source_is_a_room_and_every_room_is_there() {
    let seen: BTreeSet<String> = sources()
        .into_iter()
        .map(|source| source.room)
        .filter(|room| !room.ends_with(".rs"))
        .collect();
    let rooms: BTreeSet<String> = ROOMS.iter().map(|room| (*room).to_owned()).collect();
    assert_eq!(seen, rooms);
}

/// The text without its imports from within the crate, whose modules may share
/// a library's name.
fn outside_imports(text: &str) -> String {
    let mut parts = text.split("use crate::");
    let first = parts.next().unwrap_or_default().to_owned();
    first
        + &parts
            .map(|part| part.split_once(';').map_or("", |(_, rest)| rest))
            .collect::<String>()
}

#[test]
fn a_library_stays_in_its_room() {
    for source in sources() {
        let text = outside_imports(&source.text);
        for (library, room) in KEPT_TO {
            let used =
                text.contains(&format!("{library}::")) || text.contains(&format!("use {library};"));
            let declares =
                library == "clap" && source.room == "app" && source.path.ends_with("request.rs");
            let room_there = source.room == room || declares;
            assert!(
                !used || room_there,
                "{} uses {library}, which belongs to {room}",
                source.named()
            );
        }
    }
}

#[test]
fn the_inner_rooms_do_nothing_but_compute() {
    let forbidden = [
        "std::fs",
        "std::env",
        "std::net",
        "std::process",
        "std::io",
        "SystemTime",
        "Instant::now",
        "Zoned::now",
        "Timestamp::now",
    ];
    for source in sources()
        .iter()
        .filter(|source| place(&source.room).is_some_and(|place| place < PURE))
    {
        for name in forbidden {
            assert!(
                !source.code().contains(name),
                "{} uses {name}",
                source.named()
            );
        }
    }
}

#[test]
fn front_ends_ask_the_app_only() {
    let behind = ["store", "files", "matching", "quantity"];
    for source in sources()
        .iter()
        .filter(|source| ["web", "cli"].contains(&source.room.as_str()))
    {
        for room in behind {
            assert!(
                !imported(source.code()).contains(room),
                "{} reaches past the app into {room}",
                source.named()
            );
        }
    }
}

#[test]
fn files_stay_under_four_hundred_lines_without_their_tests() {
    for source in sources() {
        let lines = source.code().lines().count();
        let table = TABLES.contains(&source.named().as_str());
        assert!(lines < 400 || table, "{} has {lines} lines", source.named());
    }
}

#[test]
fn every_file_says_what_it_is_for() {
    for source in sources() {
        assert!(
            source.text.starts_with("//!"),
            "{} does not open with //!",
            source.named()
        );
    }
}

/// Lines of the body of each function, between the line that opens it and the
/// brace that closes it, found by the indentation that rustfmt gives them.
fn function_lengths(text: &str) -> Vec<usize> {
    let lines: Vec<&str> = text.lines().collect();
    let mut lengths = Vec::new();
    for (at, line) in lines.iter().enumerate() {
        let word = line.trim_start();
        let starts = [
            "fn ",
            "pub fn ",
            "pub(super) fn ",
            "pub(crate) fn ",
            "const fn ",
            "pub const fn ",
        ];
        if starts.iter().any(|start| word.starts_with(start)) && !word.ends_with(';') {
            let indent = &line[..line.len() - word.len()];
            let closing = format!("{indent}}}");
            let rest = &lines[at..];
            let opened = rest.iter().position(|line| line.ends_with('{'));
            let closed = rest.iter().position(|line| *line == closing);
            lengths.extend(
                opened
                    .zip(closed)
                    .map(|(opened, closed)| closed.saturating_sub(opened + 1)),
            );
        }
    }
    lengths
}

#[test]
fn functions_are_small() {
    let mut lengths: Vec<usize> = sources()
        .iter()
        .filter(|source| !source.named().ends_with("samples.rs"))
        .flat_map(|source| function_lengths(source.code()))
        .collect();
    lengths.sort_unstable();
    let median = lengths[lengths.len() / 2];
    let longest = lengths[lengths.len() - 1];
    assert!(
        lengths.len() > 200 && median < 10 && longest <= 60,
        "median {median}, longest {longest} of {}",
        lengths.len()
    );
}

/// Rooms below `report`, which give numbers, enums and names and leave the words
/// to it.
const WITHOUT_PROSE: [&str; 5] = ["matching", "quantity", "planning", "store", "app"];

/// Literals with a space that are names and stand in answers, questions or files as
/// they are.
const NAMES: [&str; 4] = [
    "weight class",
    "one size",
    "Umberlin DK",
    r"SQLite format 3\0",
];

/// Every string literal of Rust code and the line that it begins on; comments
/// and attributes are passed over, so that what `#[error]` says is none.
pub fn literals(code: &str) -> Vec<(usize, String)> {
    let mut found = Vec::new();
    let mut rest = code;
    while let Some(at) = rest.find(['"', '/', '\'', '#', 'r']) {
        let (before, here) = rest.split_at(at);
        let inside_word = before.ends_with(|c: char| c.is_alphanumeric() || c == '_');
        let length = match literal(here) {
            Some((inner, length)) if !inside_word || here.starts_with('"') => {
                let line = code[..code.len() - here.len()].matches('\n').count() + 1;
                found.push((line, inner.to_owned()));
                length
            }
            _ => passed_over(here),
        };
        rest = &here[length..];
    }
    found
}

/// A string literal that `text` begins with: what stands in it, and how long it
/// is with its quotes.
fn literal(text: &str) -> Option<(&str, usize)> {
    let raw = text.strip_prefix('r');
    let hashes = raw.map_or(0, |raw| raw.len() - raw.trim_start_matches('#').len());
    let open = usize::from(raw.is_some()) + hashes;
    let body = text[open..].strip_prefix('"')?;
    let end = if raw.is_some() {
        body.find(&format!("\"{}", "#".repeat(hashes)))?
    } else {
        end_of_quoted(body, '"')
    };
    Some((&body[..end], open + 1 + end + 1 + hashes))
}

/// Where the quote stands that ends a text in which `\` escapes.
fn end_of_quoted(body: &str, quote: char) -> usize {
    let mut escaped = false;
    let ends = |(_, c): &(usize, char)| {
        let ends = *c == quote && !escaped;
        escaped = *c == '\\' && !escaped;
        ends
    };
    body.char_indices()
        .find(ends)
        .map_or(body.len(), |(at, _)| at)
}

/// The length of a comment, an attribute, a character or whatever one letter it
/// is that `text` begins with.
fn passed_over(text: &str) -> usize {
    let character = |text: &str| {
        let body = text.strip_prefix('\'')?;
        let end = end_of_quoted(body, '\'');
        (end > 0 && (body.starts_with('\\') || body[..end].chars().count() == 1)).then_some(end + 2)
    };
    if text.starts_with("//") {
        text.find('\n').unwrap_or(text.len())
    } else if text.starts_with("#[") || text.starts_with("#![") {
        end_of_attribute(text)
    } else {
        character(text).unwrap_or(1)
    }
}

/// Where the bracket stands that ends an attribute; brackets in its strings do
/// not count.
fn end_of_attribute(text: &str) -> usize {
    let mut depth = 0;
    let mut at = 0;
    while let Some(c) = text[at..].chars().next() {
        depth += i32::from(c == '[') - i32::from(c == ']');
        at += if c == '"' {
            end_of_quoted(&text[at + 1..], '"') + 2
        } else {
            c.len_utf8()
        };
        if c == ']' && depth == 0 {
            break;
        }
    }
    at.min(text.len())
}

/// Whether a literal is SQL: a statement or a part of one, by a keyword or an
/// operator, or columns with commas between.
fn is_sql(literal: &str) -> bool {
    let keywords = [
        "SELECT",
        "INSERT",
        "UPDATE",
        "DELETE",
        "FROM",
        "WHERE",
        "AND",
        "ORDER",
        "SET",
        "CREATE",
        "DROP",
        "PRAGMA",
        "SAVEPOINT",
        "ROLLBACK",
        "RELEASE",
        "LIMIT",
    ];
    let mut words = literal.split_whitespace();
    let operators = ["||", "=", "*"];
    let is_statement = words
        .any(|word| keywords.contains(&word.trim_start_matches('(')) || operators.contains(&word));
    let mut columns = literal.trim_end().split(',').map(str::trim_start);
    is_statement || columns.all(|column| !column.contains(' '))
}

/// Whether a literal is meant for people: it has a space between words, and is
/// no SQL.
fn is_prose(room: &str, literal: &str) -> bool {
    // A line of a literal that goes on without its break.
    let literal = &literal.replace("\\\n", "");
    let is_sql = room == "store" && is_sql(literal);
    let words = literal
        .split_whitespace()
        .filter(|word| !(word.starts_with('{') && word.ends_with('}')))
        .filter(|word| word.chars().any(char::is_alphabetic));
    literal.trim().contains(' ') && words.count() > 0 && !is_sql
}

/// The file and the line of each literal for people. A request declares the labels
/// and headings of its form, which are no prose, nor are records of tests.
fn prose(source: &Source) -> Vec<String> {
    if ["request.rs", "samples.rs"]
        .iter()
        .any(|file| source.path.ends_with(file))
    {
        return Vec::new();
    }
    literals(source.code())
        .into_iter()
        .filter(|(_, literal)| {
            is_prose(&source.room, literal) && !NAMES.contains(&literal.as_str())
        })
        .map(|(line, literal)| format!("{}:{line}: {literal:?}", source.named()))
        .collect()
}

#[test]
fn literals_are_told_from_comments_attributes_and_characters() {
    let code = r##"
        /// a "comment"
        #[error("not a [ word\" in {0}")]
        const A: &str = "one \" two"; // "three"
        fn f<'a>(c: char) { ['"', '\'', '\\']; number("four") }
        const B: &str = r#"five "six""#;
    "##;
    let found: Vec<(usize, String)> = literals(code);
    let expected = [(4, "one \\\" two"), (5, "four"), (6, "five \"six\"")];
    assert_eq!(found, expected.map(|(line, text)| (line, text.to_owned())));
    assert!(
        is_prose("app", "two words") && !is_prose("app", "word") && !is_prose("app", "{} {name}")
    );
    assert!(is_prose("app", "SELECT a yarn") && is_prose("store", "a name, or two"));
    for sql in [
        "SELECT a FROM yarn",
        "lot, id, \n place",
        "lot, id, \\\n place",
        "maker || ', ' || name",
    ] {
        assert!(!is_prose("store", sql), "{sql}");
    }
}

/// No literal with a space in it below `report`, but for errors, tests and, in
/// `store`, SQL: the words come last.
#[test]
fn rooms_below_the_report_hold_no_prose() {
    let sources = sources();
    let below = sources
        .iter()
        .filter(|source| WITHOUT_PROSE.contains(&source.room.as_str()));
    let found: Vec<String> = below.flat_map(prose).collect();
    assert!(found.is_empty(), "{}", found.join("\n"));
}
