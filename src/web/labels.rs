//! The app words its messages for a terminal, where values have names like
//! `--left`. A form calls its fields by the same names and gives each a label:
//! here the label takes the place of the name, so that a message speaks of what
//! stands on the page.

use crate::{
    report::{Block, FieldNames, Page, Role, Style},
    web::form::Form,
};

/// What stands for a command on these pages.
const COMMANDS: [(&str, &str); 4] = [
    (
        "keep one with `swatch add`",
        "keep one on the page of that yarn",
    ),
    (
        "to its file and import it with --update",
        "to its text under Patterns",
    ),
    (
        "keep it again with --before or --after",
        "edit it on the page of its yarn",
    ),
    ("set your own with `margin` or --margin", "set your own"),
];

/// The names and labels of the fields of a form.
pub(super) struct Labels(Vec<(String, String)>);

impl Labels {
    pub(super) fn of(form: &Form) -> Self {
        Self(form.labels())
    }

    /// A style in which fields are called by these labels.
    pub(super) fn style(&self) -> Style {
        Style {
            fields: FieldNames::Labels(self.0.clone()),
            ..Style::default()
        }
    }

    fn label(&self, name: &str) -> Option<&str> {
        let known = self.0.iter().find(|(known, _)| known == name);
        known.map(|(_, label)| label.as_str())
    }

    /// The name that a message speaks of first.
    pub(super) fn first<'t>(&self, text: &'t str) -> Option<&'t str> {
        let names = text.split("--").skip(1).map(|after| named(after).0);
        names.into_iter().find(|name| self.label(name).is_some())
    }

    /// The message with labels for names. What stands in backticks is quoted, and
    /// may have been typed: only an example such as `--put-up "230 m/100 g"` is
    /// shortened to its value there.
    pub(super) fn said(&self, text: &str) -> String {
        let text = COMMANDS
            .iter()
            .fold(text.to_owned(), |text, (of, here)| text.replace(of, here));
        let parts = text.split('`').enumerate();
        let parts = parts.map(|(at, part)| match at % 2 {
            1 => self.example(part).unwrap_or(part).to_owned(),
            _ => self.named_in(part, at == 0),
        });
        parts.collect::<Vec<_>>().join("`")
    }

    /// The value of an example that names a field.
    fn example<'t>(&self, part: &'t str) -> Option<&'t str> {
        let (name, left) = named(part.strip_prefix("--")?);
        self.label(name)?;
        left.strip_prefix(" \"")?.strip_suffix('"')
    }

    /// A part of a message with labels for names; at its beginning `--left: ` is
    /// what the rest is about.
    fn named_in(&self, part: &str, begins: bool) -> String {
        let mut out = String::new();
        let mut rest = part;
        while let Some((before, after)) = rest.split_once("--") {
            out.push_str(before);
            let (name, left) = named(after);
            rest = left;
            match self.label(name) {
                Some(label) if begins && out.is_empty() && left.starts_with(": ") => {
                    out.push_str(label);
                }
                Some(label) => {
                    out.push_str(&format!("‘{label}’"));
                    rest = without_stand_in(left);
                }
                None => out.push_str(&format!("--{name}")),
            }
        }
        out.push_str(rest);
        out
    }

    /// The page with labels for names. Only what the app words itself is looked
    /// at: working, cautions and remarks.
    pub(super) fn page(&self, page: Page) -> Page {
        let blocks = page.blocks.into_iter().map(|block| match block {
            Block::Text(role @ (Role::Aside | Role::Caution), text) => {
                Block::Text(role, self.said(&text))
            }
            Block::Items(role @ (Role::Aside | Role::Caution), items) => {
                Block::Items(role, items.iter().map(|item| self.said(item)).collect())
            }
            other => other,
        });
        Page {
            blocks: blocks.collect(),
        }
    }
}

/// A name, and what stands behind it.
fn named(after: &str) -> (&str, &str) {
    let end = after
        .find(|c: char| !c.is_ascii_lowercase() && c != '-')
        .unwrap_or(after.len());
    after.split_at_checked(end).unwrap_or((after, ""))
}

/// `--yarn YARN` holds a word that only stands for a value.
fn without_stand_in(left: &str) -> &str {
    let Some(word) = left.strip_prefix(' ') else {
        return left;
    };
    let end = word
        .find(|c: char| !c.is_ascii_uppercase())
        .unwrap_or(word.len());
    match word.split_at_checked(end) {
        Some((capitals, rest)) if capitals.len() > 1 => rest,
        _ => left,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::web::form::{Field, Group};

    fn labels() -> Labels {
        let fields = ["left", "put-up", "yarn"]
            .map(|name| Field::line(name, &format!("The {name}"), ""))
            .into();
        let form = Form::get("f", "/", "Go").with(Group::plain(fields));
        Labels::of(&form)
    }

    #[test]
    fn labels_take_the_place_of_names() {
        for (text, said) in [
            ("--left: `x` is no mass", "The left: `x` is no mass"),
            (
                "a length: add --put-up, as in `--put-up \"230 m/100 g\"`",
                "a length: add ‘The put-up’, as in `230 m/100 g`",
            ),
            (
                "say --swatch-of YARN, or --other X",
                "say ‘The yarn’, or --other X",
            ),
            ("A --left, B", "A ‘The left’, B"),
            (
                "`--left \"5 g` and --left `--left --yarn` typed",
                "`--left \"5 g` and ‘The left’ `--left --yarn` typed",
            ),
            ("nothing -- at all", "nothing -- at all"),
            ("ends --left", "ends ‘The left’"),
            ("é--left é", "é‘The left’ é"),
        ] {
            assert_eq!(labels().said(text), said);
        }
        assert_eq!(labels().first("give --rows or --left"), Some("left"));
        assert_eq!(labels().first("nothing"), None);
    }
}
