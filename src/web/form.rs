//! A form as data: every form of the program is shown by one template, so that
//! each field has its label, its hint and its message beside it.

use super::{
    body::filters,
    fields::Picker,
    preferences::Preferences,
    refusal::FieldError,
    sent_once::{ONCE, random_token},
};
use crate::{
    app::{self, FieldInput, FormData},
    report::{FieldNames, Style},
    words::uncapitalized,
};
use askama::Template;
use std::borrow::Cow;

/// A form; it is shown by its template.
#[derive(Default, Template)]
#[template(path = "form.html", config = "src/web/askama.toml")]
pub(super) struct Form {
    pub(super) id: String,
    pub(super) action: String,
    pub(super) post: bool,
    pub(super) upload: bool,
    pub(super) hidden: Vec<(String, String)>,
    pub(super) groups: Vec<Group>,
    pub(super) submit: Cow<'static, str>,
    /// Further buttons: name, value and what stands on each.
    pub(super) others: Vec<(&'static str, &'static str, &'static str)>,
    /// Fields of the request that another field here stands for.
    pub(super) stand_ins: Vec<(&'static str, &'static str)>,
}

/// Fields that belong together.
pub(super) struct Group {
    pub(super) head: Head,
    pub(super) fields: Vec<Field>,
}

/// What stands above a group.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Head {
    /// Nothing.
    None,
    /// What the fields have in common.
    Legend(String),
    /// The same, folded away until it is asked for.
    Folded(String),
}

/// One field.
#[derive(Default)]
pub(super) struct Field {
    pub(super) name: String,
    pub(super) label: String,
    pub(super) hint: String,
    pub(super) value: String,
    pub(super) kind: Kind,
    /// `Either` or `Or`, of fields of which one is enough.
    pub(super) lead: &'static str,
    pub(super) needed: bool,
    pub(super) error: Option<String>,
}

/// How a field is filled.
#[derive(Default)]
pub(super) enum Kind {
    /// One line.
    #[default]
    Line,
    /// A label, a barcode or a name, at the counter: the field waits for the next
    /// scan; with what is put back into it.
    Scan(String),
    /// A weight in grams, on a keypad of digits.
    Grams,
    /// A colour: typed, or picked beside it.
    Colour(Picker),
    /// The name of a yarn, offered while one types.
    Names,
    /// Several lines.
    Area(usize),
    /// One of a list.
    Choose(Vec<(String, String)>),
    /// One of a few.
    Radio(Vec<(&'static str, &'static str)>),
    /// Yes or no.
    Tick,
    /// A file.
    File,
    /// A secret.
    Secret,
}

impl Kind {
    /// One of these, or none.
    pub(super) fn one_of<V: Into<String>, L: Into<String>>(
        none: &str,
        choices: impl IntoIterator<Item = (V, L)>,
    ) -> Self {
        let choices = choices.into_iter();
        let choices = choices.map(|(value, label)| (value.into(), label.into()));
        let none = (String::new(), none.to_owned());
        Self::Choose(std::iter::once(none).chain(choices).collect())
    }
}

impl Field {
    pub(super) fn new(name: &str, label: &str, hint: &str, kind: Kind) -> Self {
        Self {
            name: name.to_owned(),
            label: label.to_owned(),
            hint: hint.to_owned(),
            kind,
            ..Self::default()
        }
    }

    /// Filled from the start.
    pub(super) fn holding(mut self, value: impl Into<String>) -> Self {
        self.value = value.into();
        self
    }

    /// Whether it has the row of its form to itself.
    fn is_wide(&self) -> bool {
        matches!(self.kind, Kind::Area(_))
    }

    /// What stands above it: its label, after `Either` or `Or` where there is a choice.
    fn heading(&self) -> String {
        match self.lead {
            "" => self.label.clone(),
            lead => format!("{lead} {}", self.name_in_words()),
        }
    }

    /// What it is called within a sentence: its label without a capital.
    pub(super) fn name_in_words(&self) -> String {
        uncapitalized(&self.label)
    }

    pub(super) fn needed(mut self) -> Self {
        self.needed = true;
        self
    }
}

impl From<app::Field> for Field {
    /// A long text has room for lines, a yarn is offered while one types.
    fn from(field: app::Field) -> Self {
        let mut chosen = None;
        let kind = match field.input {
            FieldInput::Switch => Kind::Tick,
            FieldInput::Choice(values) if field.default.is_none() => {
                Kind::one_of("Not said", values)
            }
            FieldInput::Choice(values) => {
                chosen = field.default;
                Kind::Choose(values)
            }
            FieldInput::Text { value } if value == "TEXT" => Kind::Area(3),
            FieldInput::Text { value } if value == "YARN" => Kind::Names,
            FieldInput::Text { value } if value == "COLOUR" => Kind::Colour(Picker::default()),
            FieldInput::Text { .. } => Kind::Line,
        };
        Self {
            needed: field.required,
            value: chosen.unwrap_or_else(String::new),
            ..Self::new(&field.name, &field.label, &field.hint, kind)
        }
    }
}

impl Group {
    /// A folded group is open where something is said or wrong in it.
    fn is_open(&self) -> bool {
        let says = |field: &Field| field.error.is_some() || !field.value.is_empty();
        self.fields.iter().any(says)
    }
}

impl Form {
    /// Whether it is folded as a whole, its buttons with it.
    fn is_folded(&self) -> bool {
        matches!(self.groups.as_slice(), [only] if matches!(only.head, Head::Folded(_)))
    }

    /// A form that asks something.
    pub(super) fn get(
        id: &'static str,
        action: impl Into<String>,
        submit: impl Into<Cow<'static, str>>,
    ) -> Self {
        Self {
            id: id.to_owned(),
            action: action.into(),
            submit: submit.into(),
            ..Self::default()
        }
    }

    /// A form that sends much, or a secret.
    pub(super) fn post(
        id: &'static str,
        action: impl Into<String>,
        submit: impl Into<Cow<'static, str>>,
    ) -> Self {
        Self::get(id, action, submit).posted()
    }

    /// A form that asks something, with the fields of a request: those without a
    /// heading first, then each heading folded.
    pub(super) fn asking<R: app::Request>(
        id: &'static str,
        action: impl Into<String>,
        submit: &'static str,
    ) -> Self {
        Self::get(id, action, submit).with_request::<R>()
    }

    /// With the fields of a request, as [`Form::asking`] has them.
    pub(super) fn with_request<R: app::Request>(mut self) -> Self {
        for field in app::request_fields::<R>() {
            let head = field.heading.clone().map_or(Head::None, Head::Folded);
            match self.groups.iter_mut().find(|group| group.head == head) {
                Some(group) => group.fields.push(Field::from(field)),
                None => self = self.with(head, vec![Field::from(field)]),
            }
        }
        self
    }

    /// The same as a form whose fields are not shown in the address.
    pub(super) fn posted(mut self) -> Self {
        self.post = true;
        self
    }

    /// The same as a form that changes records once, however often it is sent.
    pub(super) fn once(self) -> Self {
        // Without random numbers nothing is saved: that is reported when it is sent.
        match random_token() {
            Ok(token) => self.posted().hidden(ONCE, token),
            Err(_) => self.posted(),
        }
    }

    /// The same as a form that may send a file.
    pub(super) fn with_upload(mut self) -> Self {
        self.upload = true;
        self
    }

    /// With parts of these names not folded away.
    pub(super) fn unfolded(mut self, names: &[&str]) -> Self {
        for group in &mut self.groups {
            if let Head::Folded(name) = &group.head
                && names.contains(&name.as_str())
            {
                group.head = Head::Legend(name.clone());
            }
        }
        self
    }

    /// With another field behind one of this name.
    pub(super) fn behind(mut self, name: &str, other: impl Fn() -> Field) -> Self {
        for fields in self.groups.iter_mut().map(|group| &mut group.fields) {
            if let Some(place) = fields.iter().position(|it| it.name == name) {
                fields.insert(place + 1, other());
            }
        }
        self
    }

    /// Changes a field that only this page shows in another way.
    pub(super) fn change(mut self, name: &str, change: impl FnOnce(&mut Field)) -> Self {
        if let Some(field) = self.fields_mut().find(|field| field.name == name) {
            change(field);
        }
        self
    }

    /// Without fields that only the command line has: of these names, each with the
    /// field that stands for it here.
    pub(super) fn replaced(mut self, stand_ins: &[(&'static str, &'static str)]) -> Self {
        for group in &mut self.groups {
            let is_shown = |field: &Field| stand_ins.iter().all(|(name, _)| *name != field.name);
            group.fields.retain(is_shown);
        }
        self.stand_ins.extend(stand_ins);
        self
    }

    /// The name of the field that stands for this one here.
    fn shown_as<'n>(&self, name: &'n str) -> &'n str {
        let found = self.stand_ins.iter().find(|(other, _)| *other == name);
        found.map_or(name, |(_, shown)| shown)
    }

    /// What each field is called, also those that another stands for.
    pub(super) fn labels(&self) -> Vec<(String, String)> {
        let label = |field: &Field| (field.name.clone(), field.label.clone());
        let stand_in = |(name, shown): &(&str, &str)| {
            let field = self.fields().find(|field| field.name == *shown)?;
            Some(((*name).to_owned(), field.label.clone()))
        };
        let stand_ins = self.stand_ins.iter().filter_map(stand_in);
        self.fields().map(label).chain(stand_ins).collect()
    }

    /// How answers to this form are written: its labels, and the units preferred.
    pub(super) fn style(&self, prefs: &Preferences) -> Style {
        Style {
            fields: FieldNames::Labels(self.labels()),
            ..prefs.style()
        }
    }

    /// With these fields below a head.
    pub(super) fn with(mut self, head: Head, fields: Vec<Field>) -> Self {
        self.groups.push(Group { head, fields });
        self
    }

    /// With one more button, which sends the form with this name and value.
    pub(super) fn button(
        mut self,
        (name, value): (&'static str, &'static str),
        label: &'static str,
    ) -> Self {
        self.others.push((name, value, label));
        self
    }

    pub(super) fn hidden(mut self, name: &str, value: impl ToString) -> Self {
        self.hidden.push((name.to_owned(), value.to_string()));
        self
    }

    /// Filled with what was typed before.
    pub(super) fn filled(mut self, typed: &FormData) -> Self {
        for field in self.fields_mut() {
            let text = typed.text(&field.name);
            if !text.is_empty() {
                field.value = text.to_owned();
            }
            if let Kind::Colour(picker) = &mut field.kind {
                *picker = Picker::of(&field.name, &field.value, typed);
            }
        }
        self
    }

    /// With each message beside its field; gives those that have no field here,
    /// and those that have, with where they stand.
    pub(super) fn marked(mut self, faults: Vec<FieldError>) -> (Self, Vec<FieldError>) {
        let id = self.id.clone();
        let mut told = Vec::new();
        for mut fault in faults {
            let name = self.shown_as(&fault.field).to_owned();
            let field = self.fields_mut().find(|field| field.name == name);
            if let Some(field) = field {
                fault.at = Some(format!("{id}-{}", field.name));
                let message = fault.message.clone();
                fault.message = format!("{}: {message}", field.label);
                field.error = Some(match field.error.take() {
                    Some(before) => format!("{before}\n{message}"),
                    None => message,
                });
            }
            told.push(fault);
        }
        (self, told)
    }

    pub(super) fn fields(&self) -> impl Iterator<Item = &Field> {
        self.groups.iter().flat_map(|group| &group.fields)
    }

    fn fields_mut(&mut self) -> impl Iterator<Item = &mut Field> {
        self.groups.iter_mut().flat_map(|group| &mut group.fields)
    }

    fn id_of(&self, field: &Field) -> String {
        format!("{}-{}", self.id, field.name)
    }

    /// The ids of what describes a field.
    fn described(&self, field: &Field) -> Option<String> {
        let id = self.id_of(field);
        let hint = (!field.hint.is_empty()).then(|| format!("{id}-hint"));
        let error = field.error.is_some().then(|| format!("{id}-error"));
        let ids: Vec<String> = hint.into_iter().chain(error).collect();
        (!ids.is_empty()).then(|| ids.join(" "))
    }
}
