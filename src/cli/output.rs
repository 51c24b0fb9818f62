//! Where answers, errors and progress go: text for a person, JSON or Markdown when
//! asked, a bar on long work.

use crate::{
    app::{AppError, Demo, FindAnswer},
    report::{
        Page, Render, Style, error_words, fields, find_page, json, markdown, plain_text, terminal,
    },
    words::{and_list, or_list},
};
use clap::error::{ContextKind, ContextValue, ErrorKind};
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use serde::Serialize;
use serde_json::json as value;
use std::{
    io::{self, IsTerminal, Write},
    process::ExitCode,
    time::Duration,
};

/// Columns where the width of the terminal is not known.
const USUAL_WIDTH: usize = 80;
/// Columns beyond which lines are hard to follow.
const WIDEST: usize = 100;

/// The exit status of a change that was kept and whose answer could not be written.
const RECORDED: u8 = 3;

/// Why a command ended without success.
#[derive(Debug)]
pub(super) enum Failure {
    /// The app refused or failed.
    App(AppError),
    /// Something that only the command line does is asked for in a wrong way.
    Usage(String),
    /// Something that only the command line does cannot be done.
    Refused(String),
    /// The answer could not be written.
    Write(io::Error),
    /// What was asked is done and stays done; only the answer could not be written.
    Recorded {
        /// Why it could not be written.
        error: io::Error,
        /// The answer.
        said: String,
    },
    /// The answer was given, and is bad news.
    Told,
}

impl From<AppError> for Failure {
    fn from(error: AppError) -> Self {
        Self::App(error)
    }
}

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Self {
        Self::Write(error)
    }
}

/// How answers are written.
pub(super) struct Output {
    json: bool,
    markdown: bool,
    details: bool,
    width: usize,
    style: Style,
}

/// How answers are written: with colours of shades where a terminal says that it can
/// show any colour and colour goes there at all.
fn style(markdown: bool) -> Style {
    let said = std::env::var("COLORTERM").unwrap_or_default();
    let is_able = ["truecolor", "24bit"].contains(&said.as_str());
    let choice = anstream::stdout().current_choice();
    let is_wanted = !markdown && choice != anstream::ColorChoice::Never;
    Style {
        chips: is_able && is_wanted,
        ..Style::default()
    }
}

impl Output {
    pub(super) fn new(json: bool, markdown: bool, details: bool) -> Self {
        let width = terminal_size::terminal_size().map(|(width, _)| usize::from(width.0));
        let width = width
            .filter(|_| io::stdout().is_terminal())
            .unwrap_or(USUAL_WIDTH)
            .min(WIDEST);
        Self {
            json,
            markdown,
            details,
            width,
            style: style(markdown),
        }
    }

    /// Whether JSON was asked for.
    pub(super) fn is_json(&self) -> bool {
        self.json
    }

    /// Whether all that is known was asked for.
    pub(super) fn has_details(&self) -> bool {
        self.details
    }

    /// Writes fields as JSON.
    pub(super) fn json<T: Serialize + ?Sized>(&self, fields: &T) -> Result<(), Failure> {
        self.bytes(json(fields).map_err(io::Error::from)?.as_bytes())
    }

    /// Writes an answer in the form that was asked for.
    pub(super) fn answer(&self, answer: &impl Render) -> Result<(), Failure> {
        if self.json {
            self.json(&fields(answer).map_err(io::Error::from)?)
        } else {
            self.page(&answer.page(&self.style))
        }
    }

    /// Writes several answers: one JSON value, a list where there are several.
    pub(super) fn answers(&self, answers: &[impl Render]) -> Result<(), Failure> {
        match (self.json, answers) {
            (_, [one]) => self.answer(one),
            (true, several) => {
                let fields: Result<Vec<_>, _> = several.iter().map(fields).collect();
                let fields = fields.map_err(io::Error::from)?;
                self.json(&fields)
            }
            (false, several) => several.iter().enumerate().try_for_each(|(place, answer)| {
                self.text(if place > 0 { "\n" } else { "" })?;
                self.answer(answer)
            }),
        }
    }

    /// Writes three questions about the sample stash, answered, as JSON.
    pub(super) fn demo(&self, demo: &Demo) -> Result<(), Failure> {
        let knitter: Result<Vec<_>, _> = demo.knitter.iter().map(fields).collect();
        let knitter = knitter.map_err(io::Error::from)?;
        let shop = fields(&demo.shop).map_err(io::Error::from)?;
        let hazard = fields(&demo.hazard).map_err(io::Error::from)?;
        self.json(&value!({ "knitter": knitter, "shop": shop, "hazard": hazard }))
    }

    /// Writes the lists for all colours of a pattern.
    pub(super) fn found(&self, answers: &[FindAnswer]) -> Result<(), Failure> {
        if self.json {
            self.answers(answers)
        } else {
            self.page(&find_page(answers, &self.style))
        }
    }

    /// Writes what was changed. Where that fails the change is kept all the same: what
    /// was done is written to standard error, so that nobody does it again.
    pub(super) fn change(&self, answer: &impl Render) -> Result<(), Failure> {
        self.changes(std::slice::from_ref(answer))
    }

    /// Writes several changes, as [`Output::change`] does one.
    pub(super) fn changes(&self, answers: &[impl Render]) -> Result<(), Failure> {
        match self.answers(answers) {
            Err(Failure::Write(error)) if error.kind() != io::ErrorKind::BrokenPipe => {
                let words = |answer| self.plain(answer);
                let said = answers.iter().map(words).collect();
                Err(Failure::Recorded { error, said })
            }
            written => written,
        }
    }

    /// An answer as text without colour.
    fn plain(&self, answer: &impl Render) -> String {
        plain_text(&answer.page(&Style::default()), self.width)
    }

    /// Writes bytes as they are.
    pub(super) fn bytes(&self, bytes: &[u8]) -> Result<(), Failure> {
        let mut out = io::stdout().lock();
        out.write_all(bytes)?;
        Ok(out.flush()?)
    }

    /// Writes a page for people.
    fn page(&self, page: &Page) -> Result<(), Failure> {
        match self.markdown {
            true => self.text(&markdown(page)),
            false => self.text(&terminal(page, self.width, self.details)),
        }
    }

    /// Writes text as it is; colour goes only where it is wanted.
    pub(super) fn text(&self, text: &str) -> Result<(), Failure> {
        let mut out = anstream::stdout().lock();
        out.write_all(text.as_bytes())?;
        Ok(out.flush()?)
    }

    /// Tells why, on standard error, and gives the exit status.
    pub(super) fn failure(&self, failure: &Failure) -> ExitCode {
        let (message, status) = match failure {
            Failure::Told => return ExitCode::from(1),
            Failure::Write(error) if error.kind() == io::ErrorKind::BrokenPipe => {
                return ExitCode::SUCCESS;
            }
            Failure::Usage(said) => (said.clone(), 2),
            Failure::Refused(said) => (said.clone(), 1),
            Failure::Write(error) => (format!("the answer could not be written: {error}"), 1),
            Failure::Recorded { error, said } => (
                format!(
                    "this is done and saved, do not do it again. Only the answer could not be written to standard output ({error}):\n{}",
                    said.trim_end()
                ),
                RECORDED,
            ),
            Failure::App(error) => (
                error_words(error, &Style::default()),
                if error.is_usage() { 2 } else { 1 },
            ),
        };
        complain(&message);
        ExitCode::from(status)
    }
}

fn complain(message: &str) {
    let lines: Vec<String> = message.lines().map(crate::words::safe).collect();
    let written = writeln!(anstream::stderr(), "understudy: {}", lines.join("\n"));
    // A closed standard error leaves nobody to tell.
    drop(written);
}

fn texts(told: &clap::Error, kind: ContextKind) -> Vec<String> {
    match told.get(kind) {
        Some(ContextValue::String(text)) => vec![text.clone()],
        Some(ContextValue::Strings(texts)) => texts.clone(),
        _ => Vec::new(),
    }
}

/// What is wrong with what was typed, where it is of the usual kinds: what was given,
/// and what to type instead.
fn usage_words(told: &clap::Error) -> Option<String> {
    let texts = |kind| texts(told, kind);
    let one = |kind| texts(kind).into_iter().next();
    let names = texts(ContextKind::InvalidArg);
    let first = names.first().map(String::as_str).unwrap_or_default();
    let name = first.split(' ').next().unwrap_or_default();
    let near = or_list(texts(ContextKind::SuggestedArg).into_iter().rev());
    let near = match near.as_str() {
        "" => String::new(),
        near => format!("; did you mean {near}?"),
    };
    Some(match told.kind() {
        ErrorKind::InvalidValue => {
            let allowed = texts(ContextKind::ValidValue);
            let given = one(ContextKind::InvalidValue).filter(|_| !allowed.is_empty())?;
            let allowed = or_list(allowed.iter().map(|value| format!("`{value}`")));
            match given.as_str() {
                "" => format!("{name}: missing: write {allowed}"),
                given => format!("{name}: `{given}` is not one of the choices: write {allowed}"),
            }
        }
        ErrorKind::UnknownArgument if name.starts_with('-') => {
            format!("`{name}` is not known here{near}")
        }
        ErrorKind::UnknownArgument => format!(
            "`{name}` is more than fits here: put quotes around what is several words, and give one thing at a time"
        ),
        ErrorKind::MissingRequiredArgument => format!("missing: {}", and_list(names)),
        ErrorKind::ArgumentConflict if names.len() == 1 => {
            match one(ContextKind::PriorArg).is_some_and(|prior| prior == first) {
                true => format!("{name} is given more than once: give it once"),
                false => return None,
            }
        }
        ErrorKind::ValueValidation => {
            let given = one(ContextKind::InvalidValue)?;
            let allowed = what_may_be_written(name);
            format!("{name}: `{given}` is not understood here: write {allowed}")
        }
        _ => return command_words(told),
    })
}

/// What an option takes whose text is read before it comes to us.
fn what_may_be_written(option: &str) -> &'static str {
    match option {
        "--port" => "a whole number from 0 to 65535",
        "--listen" => "an address with its port, as in 192.168.1.5:8765",
        _ => "a whole number",
    }
}

/// The same where a command is missing or not known.
fn command_words(told: &clap::Error) -> Option<String> {
    Some(match told.kind() {
        ErrorKind::InvalidSubcommand => {
            let given = texts(told, ContextKind::InvalidSubcommand).pop()?;
            // The nearest comes last.
            let near = texts(told, ContextKind::SuggestedSubcommand);
            let near = or_list(near.into_iter().rev());
            let near = match near.as_str() {
                "" => String::new(),
                near => format!("; did you mean {near}?"),
            };
            format!("there is no command `{given}`{near}")
        }
        ErrorKind::MissingSubcommand => {
            let known = texts(told, ContextKind::ValidSubcommand).into_iter();
            let known = known.filter(|name| name != "help");
            format!("say what to do: write {}", or_list(known))
        }
        _ => return None,
    })
}

fn usage(told: &clap::Error) -> io::Result<()> {
    let usage = told.get(ContextKind::Usage);
    let usage = usage.map_or(String::new(), |usage| format!("\n\n{usage}"));
    let text = usage_words(told).map_or_else(
        || told.render().to_string(),
        |said| format!("understudy: {said}{usage}\n\nMore: --help"),
    );
    let lines: Vec<String> = text.lines().map(crate::words::safe).collect();
    writeln!(anstream::stderr(), "{}", lines.join("\n"))
}

/// Tells something on standard error that is no failure.
pub(super) fn remark(message: &str) {
    complain(message);
}

/// Writes what clap has to say (help, version, wrong usage). Wrong usage repeats
/// what was typed, which is made safe to show.
pub(super) fn told_by_clap(told: &clap::Error) -> ExitCode {
    let written = match told.use_stderr() {
        true => usage(told),
        false => told.print(),
    };
    match written {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => ExitCode::from(1),
        _ => ExitCode::from(u8::try_from(told.exit_code()).unwrap_or(2)),
    }
}

/// A progress bar over `total` of `what`; drawn on standard error, only on a terminal.
pub(super) fn progress_bar(total: u64, what: &str) -> ProgressBar {
    let bar = ProgressBar::with_draw_target(Some(total), ProgressDrawTarget::stderr_with_hz(10));
    let form = format!("{what} {{bar:30}} {{percent}} % ({{elapsed}})");
    let style = ProgressStyle::with_template(&form).map(|style| style.progress_chars("=>-"));
    bar.set_style(style.unwrap_or_else(|_| ProgressStyle::default_bar()));
    bar.enable_steady_tick(Duration::from_millis(250));
    bar
}
