//! `schema`: the fields of the JSON answers of each command, with their units.

use super::{
    command,
    output::{Failure, Output},
};
use crate::{
    app,
    report::{Notice, Shape, schema, shape, shape_of_demo, shape_of_several},
    words::{did_you_mean, or_list},
};
use clap::Args;
use serde_json::{Map, Value};

/// What a change answers, and everything that is not listed below.
const NOTICE: &[Shape] = &[shape::<Notice>];

/// What the other commands may answer; several shapes where options choose.
const SHAPES: [(&str, &[Shape]); 37] = [
    ("demo", &[shape_of_demo]),
    ("check", &[shape::<app::CheckAnswer>]),
    (
        "find",
        &[
            shape::<app::FindAnswer>,
            shape_of_several::<app::FindAnswer>,
        ],
    ),
    ("plan", &[shape::<app::PlanAnswer>, shape::<Notice>]),
    ("suits", &[shape::<app::SuitsAnswer>]),
    ("replace", &[shape::<app::ReplaceAnswer>]),
    ("stripes", &[shape::<app::StripesAnswer>]),
    ("skeins", &[shape::<app::SkeinsAnswer>]),
    ("convert", &[shape::<app::ConvertAnswer>]),
    ("read", &[shape::<app::ReadAnswer>]),
    ("size", &[shape::<app::SizeAnswer>]),
    ("needs", &[shape::<app::NeedsAnswer>]),
    (
        "last",
        &[shape::<app::LastAnswer>, shape::<app::LastPiecesAnswer>],
    ),
    (
        "unlabelled",
        &[shape::<app::UnlabelledAnswer>, shape::<Notice>],
    ),
    ("gauge", &[shape::<app::GaugeAnswer>]),
    ("sheet", &[shape::<app::SheetAnswer>]),
    ("lint", &[shape::<app::LintAnswer>]),
    ("yarn list", &[shape::<app::YarnList>]),
    ("yarn show", &[shape::<app::YarnView>]),
    ("stock list", &[shape::<app::StockList>]),
    ("stock ledger", &[shape::<app::Ledger>]),
    ("stock count", &[shape::<app::StockCount>]),
    (
        "stock reservations",
        &[shape::<app::ReservationList>, shape::<Notice>],
    ),
    ("stock low", &[shape::<app::LowStock>]),
    ("swatch list", &[shape::<app::SwatchList>]),
    ("pattern list", &[shape::<app::PatternList>]),
    ("project list", &[shape::<app::ProjectList>]),
    ("history", &[shape::<app::History>]),
    ("undo", &[shape::<Notice>, shape::<app::UndoList>]),
    ("import yarns", SEVERAL),
    ("import stock", SEVERAL),
    ("import swatches", SEVERAL),
    ("import projects", SEVERAL),
    ("import reservations", SEVERAL),
    ("import pattern", SEVERAL),
    (
        "import table",
        &[
            shape::<app::TableLook>,
            shape::<Notice>,
            shape_of_several::<Notice>,
        ],
    ),
    (
        "import layouts",
        &[shape::<app::LayoutList>, shape::<Notice>],
    ),
];

/// An answer for each file.
const SEVERAL: &[Shape] = &[shape::<Notice>, shape_of_several::<Notice>];

/// Commands that answer nothing in JSON.
const SILENT: [&str; 5] = ["serve", "help", "schema", "completions", "man"];

/// Show which fields the JSON answer of a command has, and in which units, as a JSON
/// schema
#[derive(Debug, Args)]
pub(super) struct SchemaArguments {
    /// The command; without it all, each under its name
    #[arg(value_name = "COMMAND")]
    of: Vec<String>,
}

pub(super) fn show(arguments: &SchemaArguments, output: &Output) -> Result<(), Failure> {
    let name = arguments.of.join(" ");
    if name.is_empty() {
        let all = names().into_iter();
        let all = all.filter_map(|name| Some((name.clone(), of(&name)?)));
        return output.json(&all.collect::<Map<String, Value>>());
    }
    let schema = of(&name).ok_or_else(|| unknown(&name))?;
    output.json(&schema)
}

/// The JSON schema of what a command answers with `--json`, by its name: `yarn list`.
pub fn of(name: &str) -> Option<Value> {
    let known = SHAPES.iter().find(|(known, _)| *known == name);
    let shapes = match known {
        Some((_, shapes)) => shapes,
        None if SILENT.contains(&name) || !names().iter().any(|it| it == name) => return None,
        None => NOTICE,
    };
    Some(schema(&format!("understudy {name} --json"), shapes))
}

/// Every command that answers something.
fn names() -> Vec<String> {
    leaves(&command(), "")
}

fn leaves(command: &clap::Command, path: &str) -> Vec<String> {
    let mut inner = command.get_subcommands().peekable();
    if inner.peek().is_none() {
        return vec![path.trim_start().to_owned()];
    }
    inner
        .flat_map(|inner| leaves(inner, &format!("{path} {}", inner.get_name())))
        .filter(|name| !SILENT.contains(&name.as_str()))
        .collect()
}

fn unknown(name: &str) -> Failure {
    let names = names();
    let hint = match did_you_mean(name, names.iter().map(String::as_str)).as_slice() {
        [] => "`understudy help` lists the commands".to_owned(),
        near => format!("did you mean {}?", or_list(near)),
    };
    Failure::Usage(format!("there is no JSON answer of `{name}`: {hint}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_shape_is_that_of_a_command() {
        let names = names();
        for (name, _) in SHAPES {
            assert!(names.iter().any(|known| known == name), "{name}");
        }
    }
}
