//! `help`: a command explained, or one of the documents in `docs`, word for word.

use super::{
    command,
    output::{Failure, Output},
};
use crate::words::{and_list, did_you_mean, or_list};
use clap::{Args, Command};

/// The documents, by the word that asks for each.
const DOCUMENTS: [(&str, &str); 9] = [
    ("tour", include_str!("../../docs/tour.md")),
    ("commands", include_str!("../../docs/commands.md")),
    ("browser", include_str!("../../docs/in-the-browser.md")),
    ("files", include_str!("../../docs/files.md")),
    ("how", include_str!("../../docs/how-it-decides.md")),
    ("units", include_str!("../../docs/units.md")),
    ("sources", include_str!("../../docs/sources.md")),
    ("cautions", include_str!("../../docs/cautions.md")),
    ("json", include_str!("../../docs/json.md")),
];

/// Explain a command, or show a document: tour, commands, browser, files, how, units,
/// sources, cautions, json
#[derive(Debug, Args)]
pub(super) struct HelpArguments {
    /// A command, or a document; without either all commands
    #[arg(value_name = "COMMAND or DOCUMENT")]
    of: Vec<String>,
}

pub(super) fn help(arguments: &HelpArguments, output: &Output) -> Result<(), Failure> {
    if let [name] = arguments.of.as_slice()
        && let Some((_, text)) = DOCUMENTS.iter().find(|(known, _)| known == name)
    {
        return output.text(text);
    }
    let mut all = command();
    all.build();
    let mut found = &mut all;
    for name in &arguments.of {
        let names: Vec<String> = found.get_subcommands().map(name_of).collect();
        found = found
            .find_subcommand_mut(name)
            .ok_or_else(|| unknown(name, &names))?;
    }
    output.text(&format!("{}\n", found.render_long_help()))
}

fn name_of(command: &Command) -> String {
    command.get_name().to_owned()
}

fn unknown(name: &str, commands: &[String]) -> Failure {
    let documents = DOCUMENTS.map(|(known, _)| known);
    let known = commands.iter().map(String::as_str).chain(documents);
    let hint = match did_you_mean(name, known).as_slice() {
        [] => format!(
            "the documents are {}; `understudy help` lists the commands",
            and_list(documents)
        ),
        near => format!("did you mean {}?", or_list(near)),
    };
    Failure::Usage(format!("there is no command or document `{name}`: {hint}"))
}
