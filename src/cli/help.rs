//! Help as people read it: commands by topic, options by what they are about, and
//! two examples for each command. Man pages and completions are made from the same.

mod examples;

use clap::{Arg, ArgAction, Command};
use examples::EXAMPLES;

/// Commands by what one wants to do.
const TOPICS: [(&str, &[&str]); 5] = [
    (
        "Will it work?",
        &[
            "check", "find", "plan", "suits", "replace", "stripes", "gauge", "demo",
        ],
    ),
    (
        "How much yarn?",
        &["skeins", "last", "unlabelled", "convert", "size", "read"],
    ),
    (
        "Your stash and patterns",
        &[
            "yarn", "stock", "swatch", "pattern", "project", "history", "undo", "import", "export",
        ],
    ),
    ("Patterns you write", &["needs", "sheet", "lint"]),
    (
        "The program",
        &[
            "serve",
            "backup",
            "restore",
            "verify",
            "help",
            "schema",
            "completions",
            "man",
        ],
    ),
];

const QUESTION: &str = "Question";
const YARN: &str = "Yarn";
const ANSWER: &str = "Answer";
const RECORDS: &str = "Records";

/// What an option is about, by its name. Others stay under the heading that their
/// request declares.
const HEADINGS: [(&str, &[&str]); 4] = [
    (
        QUESTION,
        &[
            "pattern",
            "projects",
            "wants",
            "need",
            "size",
            "role",
            "for",
            "fit",
            "purpose",
            "care",
            "tolerance",
            "margin",
            "reference",
            "class",
            "pattern_gauge",
            "stitches",
            "rows",
            "gauge",
        ],
    ),
    (
        YARN,
        &[
            "yarn",
            "yarns",
            "put_up",
            "strands",
            "have",
            "swatch_of",
            "held_with",
            "own_gauge",
            "needle",
            "keep",
            "own_tendency",
            "with",
            "from",
            "without",
            "only",
            "max_cost",
            "enough",
            "one_lot",
            "with_reserved",
            "price",
            "shade",
            "colour",
            "lot",
            "place",
            "weighed",
            "notes",
            "maker",
            "name",
            "before",
            "after",
        ],
    ),
    (
        ANSWER,
        &[
            "top", "weights", "sure", "own_use", "details", "working", "basis", "html", "csv",
            "json", "markdown", "help", "version",
        ],
    ),
    (RECORDS, &["db", "no_backup", "once", "update", "replace"]),
];

/// Commands whose options have headings of their own.
const OWN_HEADINGS: [&str; 3] = ["last", "unlabelled", "needs"];

/// Usage where one or the other of two options is needed.
const USAGE: [(&str, &str); 5] = [
    (
        "check",
        "understudy check (--pattern NAME | --wants TEXT) (--yarn YARN | --with KEY=YARN) [OPTIONS]",
    ),
    (
        "find",
        "understudy find (--pattern NAME | --wants TEXT) [OPTIONS]",
    ),
    (
        "gauge",
        "understudy gauge --pattern NAME (--swatch-of YARN | --own-gauge GAUGE) [OPTIONS]",
    ),
    (
        "lint",
        "understudy lint (FILE | --pattern NAME | FILE --pattern NAME) [OPTIONS]",
    ),
    (
        "sheet",
        "understudy sheet --pattern NAME [--with YARN... | --from WHERE --top N] [OPTIONS]",
    ),
];

/// The last lines of the program's own help.
const LAST: &str = "`understudy COMMAND -h` lists the options of a command in short, --help
explains them. `understudy help files` shows a document; there are tour,
commands, browser, files, how, units, sources, cautions and json.
Only a washed swatch proves a swap.
Exit status: 0 done, 1 refused or failed, 2 typed wrongly, 3 done and saved but
the answer could not be written.";

/// The command line with its help.
pub(super) fn explained(command: Command) -> Command {
    let template = format!(
        "{{about-with-newline}}\n{{usage-heading}} {{usage}}\n\n{}Options:\n{{options}}{{after-help}}",
        topics(&command)
    );
    let command = command
        .disable_help_flag(true)
        .disable_help_subcommand(true)
        .disable_version_flag(true)
        .arg(printing("help", 'h', ArgAction::Help).global(true))
        .arg(printing("version", 'V', ArgAction::Version));
    let command = headed(command, &HEADINGS);
    let names: Vec<String> = names(&command);
    let command = names.iter().fold(command, |command, name| {
        command.mut_subcommand(name, |inner| with_examples(inner, name))
    });
    command.help_template(template).after_help(LAST)
}

fn printing(name: &'static str, short: char, action: ArgAction) -> Arg {
    let help = match name {
        "help" => "Print help; -h is shorter than --help",
        _ => "Print the version",
    };
    Arg::new(name)
        .short(short)
        .long(name)
        .action(action)
        .help(help)
}

fn names(command: &Command) -> Vec<String> {
    let inner = command.get_subcommands();
    inner.map(|inner| inner.get_name().to_owned()).collect()
}

/// `Will it work?`, and beneath it each command with what it does.
fn topics(command: &Command) -> String {
    let mut text = String::new();
    for (topic, names) in TOPICS {
        text += &format!("{topic}\n");
        for name in names {
            let about = command.find_subcommand(name).and_then(Command::get_about);
            let about = about.map(ToString::to_string).unwrap_or_default();
            text += &below_each_other(&format!("  {name:<12} "), &about);
        }
        text.push('\n');
    }
    text
}

/// A name and what stands beside it, in lines of a terminal.
fn below_each_other(name: &str, about: &str) -> String {
    let indent = " ".repeat(name.len());
    let options = textwrap::Options::new(80)
        .initial_indent(name)
        .subsequent_indent(&indent);
    textwrap::fill(about, options) + "\n"
}

/// The command with the examples of `path` after its help, and so with those
/// within it.
fn with_examples(command: Command, path: &str) -> Command {
    let command = match OWN_HEADINGS.contains(&path) {
        true => command,
        false => headed(command, &HEADINGS),
    };
    let usage = USAGE.iter().find(|(name, _)| *name == path);
    let command = match usage {
        Some((_, usage)) => command.override_usage(*usage),
        None => command,
    };
    let inner = names(&command);
    let command = inner.iter().fold(command, |command, name| {
        let path = format!("{path} {name}");
        command.mut_subcommand(name, |inner| with_examples(inner, &path))
    });
    match EXAMPLES.iter().find(|(name, _)| *name == path) {
        Some((_, examples)) => command.after_help(example_lines(examples)),
        None => command,
    }
}

/// The options under the heading of what they are about.
fn headed(command: Command, headings: &'static [(&str, &[&str])]) -> Command {
    command.mut_args(|arg| {
        let name = arg.get_id().as_str();
        let heading = headings.iter().find(|(_, names)| names.contains(&name));
        match heading {
            Some((heading, _)) if !arg.is_positional() => arg.help_heading(*heading),
            _ => arg,
        }
    })
}

fn example_lines(examples: &[&str]) -> String {
    let lines = examples.iter().map(|line| format!("  understudy {line}"));
    format!("Examples:\n{}", lines.collect::<Vec<_>>().join("\n"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::command;

    /// Each command stands under one topic.
    #[test]
    fn every_command_has_a_topic() {
        let command = command();
        for name in names(&command) {
            let topics = TOPICS.iter().filter(|(_, names)| names.contains(&&*name));
            assert_eq!(topics.count(), 1, "{name}");
        }
    }

    fn leaves(command: &Command, path: &str) -> Vec<String> {
        let inner = command.get_subcommands();
        let inner: Vec<String> = inner
            .flat_map(|inner| leaves(inner, &format!("{path} {}", inner.get_name())))
            .collect();
        match inner.is_empty() {
            true => vec![path.trim().to_owned()],
            false => inner,
        }
    }

    #[test]
    fn every_command_has_two_examples_or_more_and_no_example_is_of_none() {
        let leaves = leaves(&command(), "");
        for leaf in &leaves {
            let found = EXAMPLES.iter().find(|(name, _)| name == leaf);
            assert!(found.is_some_and(|(_, lines)| lines.len() >= 2), "{leaf}");
        }
        assert_eq!(EXAMPLES.len(), leaves.len());
    }

    /// Two screens of 24 lines, 100 columns wide.
    #[test]
    fn the_short_help_of_check_fits_two_screens() {
        let mut command = command();
        command.build();
        let check = command.find_subcommand_mut("check").unwrap();
        let text = check.render_help().to_string();
        assert!(
            text.lines().count() <= 48,
            "{}\n{text}",
            text.lines().count()
        );
    }

    #[test]
    fn either_or_is_said_in_the_usage() {
        let mut command = command();
        command.build();
        let find = command.find_subcommand_mut("find").unwrap();
        let usage = find.render_usage().to_string();
        assert!(usage.contains("(--pattern NAME | --wants TEXT)"), "{usage}");
    }
}
