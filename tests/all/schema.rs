//! The schema of JSON answers: what the program answers keeps it, and it refuses what
//! it does not describe.

use crate::desk::{Desk, root};
use boon::{Compiler, SchemaIndex, Schemas};
use serde_json::{Value, json};
use std::{
    collections::{BTreeMap, BTreeSet},
    fs,
    sync::{Arc, Mutex},
};
use understudy::cli::{command, schema_of};

/// A schema that can be asked.
pub struct Checker(Schemas, SchemaIndex);

impl Checker {
    /// That of a command.
    pub fn of(name: &str) -> Option<Self> {
        let mut schemas = Schemas::new();
        let mut compiler = Compiler::new();
        compiler
            .add_resource("schema.json", schema_of(name)?)
            .unwrap();
        let index = compiler.compile("schema.json", &mut schemas).unwrap();
        Some(Self(schemas, index))
    }

    /// What is wrong with an answer.
    pub fn fault(&self, answer: &Value) -> Option<String> {
        let found = self.0.validate(answer, self.1).err();
        found.map(|error| format!("{error:#}"))
    }
}

/// That of a command, made once.
fn kept(name: &str) -> Option<Arc<Checker>> {
    static KEPT: Mutex<BTreeMap<String, Option<Arc<Checker>>>> = Mutex::new(BTreeMap::new());
    let mut kept = KEPT.lock().unwrap();
    let found = kept.entry(name.to_owned());
    found
        .or_insert_with(|| Checker::of(name).map(Arc::new))
        .clone()
}

/// What was printed for these arguments keeps the schema of their command, where it is
/// JSON.
#[track_caller]
pub fn check(arguments: &[String], printed: &str) {
    let is_json = arguments.iter().any(|it| it == "--json");
    let words = arguments.iter().take_while(|it| !it.starts_with('-'));
    let words: Vec<&str> = words.map(String::as_str).take(2).collect();
    let Some(answer) = is_json
        .then(|| serde_json::from_str(printed).ok())
        .flatten()
    else {
        return;
    };
    let first = words.first().copied().unwrap_or_default();
    let checker = kept(&words.join(" ")).or_else(|| kept(first));
    if let Some(checker) = checker {
        assert_eq!(checker.fault(&answer), None, "{words:?}: {answer:#}");
    }
}

/// Each command, and the lines of its examples.
fn examples(command: &clap::Command, path: &str) -> Vec<(String, String)> {
    let help = command.get_after_help().map(ToString::to_string);
    let help = help.unwrap_or_default();
    let lines = help.lines().map(str::trim);
    let own = lines.filter(|line| line.starts_with("understudy "));
    let own = own.map(|line| (path.trim_start().to_owned(), line.to_owned()));
    let inner = command.get_subcommands();
    let inner = inner.flat_map(|inner| examples(inner, &format!("{path} {}", inner.get_name())));
    own.chain(inner).collect()
}

/// Answers of every kind, of which the tests for each command have many more: there
/// each is checked where it is printed.
#[test]
fn every_example_answers_by_the_schema_of_its_command() {
    let desk = crate::help::desk();
    let records = fs::read(desk.db()).unwrap();
    let mut answered = BTreeSet::new();
    for (name, line) in examples(&command(), "") {
        let Some(checker) = Checker::of(&name) else {
            continue;
        };
        let takes_other_forms = ["--html", "--markdown", "--csv", "--json"];
        if takes_other_forms.iter().any(|form| line.contains(form)) {
            continue;
        }
        let printed = crate::help::run(&line.replacen(' ', " --json ", 1), &desk, &records);
        // A table or a pattern that goes to standard output is no answer.
        if name.starts_with("export ") && !printed.starts_with('{') {
            continue;
        }
        let answer = serde_json::from_str(&printed).unwrap();
        assert_eq!(checker.fault(&answer), None, "{line}: {answer:#}");
        answered.insert(name);
    }
    assert!(answered.len() > 60, "{}", answered.len());
}

#[test]
fn a_field_that_is_wrong_missing_or_unknown_is_refused() {
    let desk = Desk::with_sample();
    let yarn = "Umberlin DK";
    let right = desk.json(&["check", "--pattern", "Skerrablet", "--yarn", yarn]);
    let checker = Checker::of("check").unwrap();
    assert_eq!(checker.fault(&right), None);
    for (place, wrong) in [
        ("/verdict", json!("perhaps")),
        ("/margin_percent", json!("10 %")),
        ("/overall", json!([])),
        ("/skeins/0/skeins", json!(1.5)),
        ("/skeins/0/size", Value::Null),
        ("/departures/0/notes", json!("none")),
    ] {
        let mut changed = right.clone();
        *changed.pointer_mut(place).unwrap() = wrong;
        assert!(checker.fault(&changed).is_some(), "{place}");
    }
    for place in ["", "/skeins/0", "/roles/0", "/departures/0"] {
        let mut more = right.clone();
        more.pointer_mut(place).unwrap()["unheard_of"] = json!(1);
        assert!(checker.fault(&more).is_some(), "{place}: one more");
        let fields = right.pointer(place).unwrap().as_object().unwrap();
        let always = ["headline", "verdict", "skeins", "yarn", "size", "criterion"];
        for name in always.into_iter().filter(|name| fields.contains_key(*name)) {
            let mut fewer = right.clone();
            let fields = fewer.pointer_mut(place).unwrap().as_object_mut().unwrap();
            fields.remove(name);
            assert!(checker.fault(&fewer).is_some(), "{place}: without {name}");
        }
    }
}

/// Objects of a schema with what is wrong with them.
fn faults(schema: &Value, place: &str, found: &mut Vec<String>) {
    match schema {
        Value::Object(fields) => {
            if let Some(properties) = fields.get("properties").and_then(Value::as_object) {
                if !fields.contains_key("additionalProperties") {
                    found.push(format!("{place} is open"));
                }
                let silent = properties
                    .iter()
                    .filter(|(_, it)| it.get("description").is_none());
                found.extend(silent.map(|(name, _)| format!("{place}: {name} is not described")));
            }
            for (name, inner) in fields {
                faults(inner, &format!("{place}/{name}"), found);
            }
        }
        Value::Array(all) => all.iter().for_each(|inner| faults(inner, place, found)),
        _ => {}
    }
}

#[test]
fn every_field_is_described_and_no_object_takes_others() {
    let mut found = Vec::new();
    for (name, _) in examples(&command(), "") {
        if let Some(schema) = schema_of(&name) {
            faults(&schema, &name, &mut found);
        }
    }
    // The demo holds answers of other commands.
    found.retain(|fault| !fault.starts_with("demo"));
    assert_eq!(found, Vec::<String>::new());
}

#[test]
fn the_program_shows_the_schema_of_a_command_and_of_all() {
    let desk = Desk::empty();
    let shown: Value = serde_json::from_str(&desk.text(&["schema", "stock", "list"])).unwrap();
    assert_eq!(Some(&shown), schema_of("stock list").as_ref());
    let all: Value = serde_json::from_str(&desk.text(&["schema"])).unwrap();
    assert_eq!(all["stock list"], shown);
    assert!(all.as_object().unwrap().len() > 65);
    let near = desk.run(&["schema", "chekc"]).code(2).err;
    assert!(near.contains("did you mean check?"), "{near}");
}

/// Names of fields anywhere in a schema.
fn names_in(schema: &Value, names: &mut BTreeSet<String>) {
    match schema {
        Value::Object(fields) => {
            if let Some(Value::Object(properties)) = fields.get("properties") {
                names.extend(properties.keys().cloned());
            }
            fields.values().for_each(|inner| names_in(inner, names));
        }
        Value::Array(all) => all.iter().for_each(|inner| names_in(inner, names)),
        _ => {}
    }
}

/// The words in code of a line, without values that its sentence names.
fn named(text: &str) -> BTreeSet<String> {
    let code = text.split('`').skip(1).step_by(2);
    let words = code.flat_map(|code| code.split(|c: char| !c.is_alphanumeric() && c != '_'));
    words
        .filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect()
}

#[test]
fn the_document_names_every_field_of_an_answer_and_none_that_is_not_there() {
    let text = fs::read_to_string(root().join("docs/json.md")).unwrap();
    let parts = text.split("\n- ").filter_map(|part| part.strip_prefix('`'));
    let parts: Vec<&str> = parts.collect();
    assert!(parts.len() > 15, "{}", parts.len());
    for part in parts {
        let (command, rest) = part.split_once('`').unwrap();
        let schema = schema_of(command).unwrap_or_else(|| panic!("{command} has no schema"));
        let mut names = BTreeSet::new();
        names_in(&schema, &mut names);
        let all = schema.to_string();
        let told = named(&rest.replace("\n", " "));
        let is_known = |word: &&String| {
            names.contains(*word) || all.contains(word.as_str()) || schema_of(word).is_some()
        };
        let unknown: Vec<&String> = told.iter().filter(|word| !is_known(word)).collect();
        assert!(unknown.is_empty(), "{command}: {unknown:?}");
        // These are told once for all.
        let all = ["headline", "done", "details", "warnings"];
        let fields = schema["anyOf"].as_array().unwrap().iter();
        let fields = fields.filter_map(|shape| shape["properties"].as_object());
        let untold: Vec<&String> = fields
            .flat_map(|fields| fields.keys())
            .filter(|name| !told.contains(*name) && !all.contains(&name.as_str()))
            .collect();
        assert!(untold.is_empty(), "{command}: {untold:?}");
    }
}
