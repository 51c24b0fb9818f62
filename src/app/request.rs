//! A request is declared once: a struct of texts as typed, with clap's derive.
//! The command line takes its options from it, a page its form, validation and
//! JSON the names of its fields. The first paragraph of a field's comment is its
//! label; what follows is its hint, with an example. And what was typed into a form.

use super::{AppError, Fault, FaultKind};
use clap::{ArgAction, Args, Command};
use std::{collections::BTreeMap, ffi::OsString, str::FromStr};

/// What a question is asked: a struct of texts as typed.
pub trait Request: Args {}

impl<R: Args> Request for R {}

/// A field of a request, as a form shows it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Field {
    /// Its name: that of the option, without dashes.
    pub name: String,
    /// What it asks for, in a few words.
    pub label: String,
    /// What to write in it, with an example; may be empty.
    pub hint: String,
    /// What it holds where nothing is written.
    pub default: Option<String>,
    /// The part of the form that it belongs to.
    pub heading: Option<String>,
    /// Whether it may never be empty.
    pub required: bool,
    /// How it is filled.
    pub input: FieldInput,
}

/// How a field is filled.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FieldInput {
    /// A text. `value` is what the command line calls it: `GAUGE`, `YARN`.
    Text {
        /// The stand-in of its value.
        value: String,
    },
    /// One of a few: the value, and what it means.
    Choice(Vec<(String, String)>),
    /// Yes or no.
    Switch,
}

/// The fields of a request, in the order of its declaration.
pub fn fields<R: Request>() -> Vec<Field> {
    let command = command::<R>();
    let arguments = command.get_arguments().filter(|arg| !arg.is_hide_set());
    arguments.map(field).collect()
}

/// A request from what a form sent. What only goes together or is missing is
/// not looked at here.
pub fn from_form<R: Request>(form: &FormData) -> Result<R, AppError> {
    let command = command::<R>().mut_args(named);
    let mut typed = Vec::new();
    let mut faults = Vec::new();
    for field in fields::<R>() {
        let text = form.text(&field.name).trim();
        if text.is_empty() {
            continue;
        }
        match &field.input {
            FieldInput::Choice(values) if values.iter().all(|(value, _)| value != text) => {
                faults.push(field.not_one_of(text, values));
            }
            FieldInput::Switch => typed.push(OsString::from(format!("--{}", field.name))),
            _ => typed.push(OsString::from(format!("--{}={text}", field.name))),
        }
    }
    if !faults.is_empty() {
        return Err(AppError::Faults(faults));
    }
    let parsed = command
        .try_get_matches_from(typed)
        .and_then(|matches| R::from_arg_matches(&matches));
    // Only a form that the pages did not make gets here.
    let unlike = |error: clap::Error| Fault::new("", FaultKind::Form(error.kind().to_string()));
    parsed.map_err(|error| AppError::Faults(vec![unlike(error)]))
}

/// The argument by its name, which a form always gives, and without need.
fn named(arg: clap::Arg) -> clap::Arg {
    let arg = arg.required(false);
    if arg.is_positional() {
        let name = clap::builder::Str::from(arg.get_id().clone());
        arg.long(name)
    } else {
        arg
    }
}

impl Field {
    fn not_one_of(&self, text: &str, values: &[(String, String)]) -> Fault {
        let allowed = values.iter().map(|(value, _)| value.clone()).collect();
        Fault::new(
            &self.name,
            FaultKind::NotOneOf {
                given: text.to_owned(),
                allowed,
            },
        )
    }
}

fn command<R: Request>() -> Command {
    let command = Command::new("")
        .no_binary_name(true)
        .disable_help_flag(true);
    R::augment_args(command)
}

fn field(arg: &clap::Arg) -> Field {
    let text = |help: Option<&clap::builder::StyledStr>| {
        help.map_or_else(String::new, ToString::to_string)
    };
    let (label, long) = (text(arg.get_help()), text(arg.get_long_help()));
    let hint = long.strip_prefix(label.as_str());
    let defaults = arg.get_default_values().first();
    Field {
        name: arg.get_long().unwrap_or(arg.get_id().as_str()).to_owned(),
        hint: hint.map_or_else(String::new, trimmed),
        default: defaults.map(|text| text.to_string_lossy().into_owned()),
        heading: arg.get_help_heading().map(str::to_owned),
        required: arg.is_required_set(),
        input: input(arg),
        label,
    }
}

fn trimmed(hint: &str) -> String {
    hint.trim_start_matches('.').trim().to_owned()
}

fn input(arg: &clap::Arg) -> FieldInput {
    if matches!(arg.get_action(), ArgAction::SetTrue) {
        return FieldInput::Switch;
    }
    let values = arg.get_possible_values();
    if values.is_empty() {
        let names = arg.get_value_names().and_then(|names| names.first());
        let value = names.map_or_else(String::new, |name| name.to_string());
        return FieldInput::Text { value };
    }
    let meaning = |value: &clap::builder::PossibleValue| {
        let name = value.get_name().to_owned();
        let help = value.get_help().map(ToString::to_string);
        (name.clone(), help.unwrap_or(name))
    };
    FieldInput::Choice(values.iter().map(meaning).collect())
}

/// The text of each field, as typed; a field that is not there is empty.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct FormData(BTreeMap<String, String>);

impl FormData {
    /// The text of a field.
    pub fn text(&self, field: &str) -> &str {
        self.0.get(field).map_or("", String::as_str)
    }

    /// The text of a field without spaces around it; nothing where it is empty.
    pub fn filled(&self, field: &str) -> Option<String> {
        let text = self.text(field).trim();
        (!text.is_empty()).then(|| text.to_owned())
    }

    /// The number in a field that the program filled: of a record, or where a list begins.
    pub fn number<N: FromStr>(&self, field: &str) -> Option<N> {
        self.text(field).trim().parse().ok()
    }

    /// Whether there is such a field, empty or not.
    pub fn has(&self, field: &str) -> bool {
        self.0.contains_key(field)
    }

    /// The fields whose names begin so, by the rest of their names.
    pub fn below(&self, prefix: &str) -> Self {
        let fields = self.iter();
        let below = fields.filter_map(|(name, text)| Some((name.strip_prefix(prefix)?, text)));
        below.collect()
    }

    /// Whether any field is filled.
    pub fn is_filled(&self) -> bool {
        self.0.values().any(|text| !text.trim().is_empty())
    }

    /// Sets the text of a field.
    pub fn set(&mut self, field: &str, text: impl Into<String>) {
        self.0.insert(field.to_owned(), text.into());
    }

    /// Every field and its text.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &str)> {
        self.0
            .iter()
            .map(|(name, text)| (name.as_str(), text.as_str()))
    }
}

impl<N: Into<String>, T: Into<String>> FromIterator<(N, T)> for FormData {
    fn from_iter<I: IntoIterator<Item = (N, T)>>(pairs: I) -> Self {
        let pairs = pairs.into_iter();
        Self(
            pairs
                .map(|(name, text)| (name.into(), text.into()))
                .collect(),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[derive(Debug, Args)]
    struct Trial {
        /// Your gauge
        ///
        /// Measured after washing, as in: 22 sts / 10 cm
        #[arg(long, value_name = "GAUGE", required = true)]
        own_gauge: Option<String>,
        /// What you keep
        #[arg(long, value_parser = ["size", "counts"], help_heading = "Another gauge")]
        keep: Option<String>,
        /// Strands held together
        #[arg(long, value_name = "N", default_value = "1")]
        strands: String,
        /// Count reserved yarn as there
        #[arg(long)]
        with_reserved: bool,
    }

    fn form(pairs: &[(&str, &str)]) -> FormData {
        pairs.iter().copied().collect()
    }

    #[test]
    fn a_declared_field_gives_label_hint_default_and_choices() {
        let fields = fields::<Trial>();
        let [gauge, keep, strands, reserved] = fields.as_slice() else {
            panic!("{fields:?}")
        };
        assert_eq!(gauge.name, "own-gauge");
        assert_eq!(gauge.label, "Your gauge");
        assert_eq!(gauge.hint, "Measured after washing, as in: 22 sts / 10 cm");
        assert!(gauge.required);
        assert_eq!(keep.heading.as_deref(), Some("Another gauge"));
        assert!(matches!(&keep.input, FieldInput::Choice(values) if values.len() == 2));
        assert_eq!(strands.default.as_deref(), Some("1"));
        assert_eq!(reserved.input, FieldInput::Switch);
    }

    #[test]
    fn a_form_gives_the_texts_as_typed() {
        let sent = form(&[("own-gauge", " --22 = sts "), ("with-reserved", "yes")]);
        let trial: Trial = from_form(&sent).unwrap();
        assert_eq!(trial.own_gauge.as_deref(), Some("--22 = sts"));
        assert_eq!((trial.keep, trial.strands.as_str()), (None, "1"));
        assert!(trial.with_reserved);
    }

    #[test]
    fn what_is_none_of_the_choices_is_a_fault_of_its_field() {
        let refused = from_form::<Trial>(&form(&[("keep", "both")])).unwrap_err();
        let AppError::Faults(faults) = refused else {
            panic!("{refused:?}")
        };
        assert_eq!(faults[0].field, "keep");
    }
}
