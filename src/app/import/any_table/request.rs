//! What a person says about a table that is not in our layout, and how it is remembered.

use crate::{
    app::{AppError, FaultKind, InputReader},
    files::layout::{Answers, ColumnName, FIELDS, Field, field_named},
    label::cells,
};
use clap::Args;

/// What the table itself does not say
#[derive(Debug, Clone, Default, PartialEq, Eq, Args)]
pub struct TableRequest {
    /// What a column holds, where it was guessed wrongly
    ///
    /// The head of the column, or its number as in #3, and what it holds, or - to leave it out. As in: LL=length, or Rabatt=-
    #[arg(long = "column", value_name = "HEAD=FIELD")]
    pub columns: Vec<String>,
    /// Currency of prices without one
    ///
    /// As in: EUR
    #[arg(long, value_name = "CODE")]
    pub currency: Option<String>,
    /// Unit of lengths without one
    ///
    /// m or yd
    #[arg(long, value_name = "UNIT")]
    pub lengths: Option<String>,
    /// Unit of weights without one
    ///
    /// g or oz
    #[arg(long, value_name = "UNIT")]
    pub weights: Option<String>,
    /// Unit of amounts without one
    ///
    /// skeins, or g
    #[arg(long, value_name = "UNIT")]
    pub amounts: Option<String>,
    /// Who makes all these yarns
    ///
    /// For a table that has no such column
    #[arg(long, value_name = "NAME")]
    pub maker: Option<String>,
}

/// The sign that leaves a column out.
pub const LEAVE_OUT: &str = "-";

impl TableRequest {
    /// Which answers were given, as they are stored.
    pub(super) fn said(&self) -> Vec<(&'static str, String)> {
        let columns = self.columns.iter().map(|text| ("column", Some(text)));
        let others = [
            ("currency", self.currency.as_ref()),
            ("lengths", self.lengths.as_ref()),
            ("weights", self.weights.as_ref()),
            ("amounts", self.amounts.as_ref()),
            ("maker", self.maker.as_ref()),
        ];
        let all = columns.chain(others);
        all.filter_map(|(answer, text)| Some((answer, text?.clone())))
            .collect()
    }

    /// The same, from what was kept.
    pub(super) fn of_said(said: Vec<(String, String)>) -> Self {
        let mut request = Self::default();
        for (answer, text) in said {
            match answer.as_str() {
                "currency" => request.currency = Some(text),
                "lengths" => request.lengths = Some(text),
                "weights" => request.weights = Some(text),
                "amounts" => request.amounts = Some(text),
                "maker" => request.maker = Some(text),
                _ => request.columns.push(text),
            }
        }
        request
    }

    /// What was said here, and where nothing was, what was said before.
    pub(super) fn or(self, before: Self) -> Self {
        let mut columns = before.columns;
        columns.extend(self.columns);
        Self {
            columns,
            currency: self.currency.or(before.currency),
            lengths: self.lengths.or(before.lengths),
            weights: self.weights.or(before.weights),
            amounts: self.amounts.or(before.amounts),
            maker: self.maker.or(before.maker),
        }
    }

    /// The answers, for a table with these heads.
    pub(super) fn read(&self, heads: &[String]) -> Result<Answers, AppError> {
        let mut reader = InputReader::default();
        let unit = |text: &Option<String>| text.clone().filter(|text| !text.trim().is_empty());
        let mut unit_of = |field: &str, text, reads: fn(&str) -> bool, allowed: &[&str]| {
            let unit = unit(text)?;
            if reads(&format!("1 {unit}")) {
                return Some(unit);
            }
            let allowed = allowed.iter().map(|word| (*word).to_owned()).collect();
            let given = unit;
            reader.fault(field, FaultKind::NotOneOf { given, allowed });
            None
        };
        let is_amount = |text: &str| cells::stock_amount(text).is_ok();
        let mut answers = Answers {
            currency: unit_of(
                "currency",
                &self.currency,
                |text| cells::price(text).is_ok(),
                &["a code of three letters, such as EUR"],
            ),
            length: unit_of(
                "lengths",
                &self.lengths,
                |text| cells::length(text).is_ok(),
                &["m", "yd"],
            ),
            mass: unit_of(
                "weights",
                &self.weights,
                |text| cells::mass(text).is_ok(),
                &["g", "oz"],
            ),
            amount: unit_of("amounts", &self.amounts, is_amount, &["skeins", "g", "oz"]),
            maker: unit(&self.maker),
            columns: Vec::new(),
        };
        for text in &self.columns {
            match column_said(text, heads) {
                Ok(said) => {
                    answers.columns.retain(|(name, _)| *name != said.0);
                    answers.columns.push(said);
                }
                Err(kind) => reader.fault("column", kind),
            }
        }
        reader.checked(Some(answers))
    }
}

/// `LL=length`, or `#3=length`, as a column of the table and a field.
fn column_said(
    text: &str,
    heads: &[String],
) -> Result<(ColumnName, Option<&'static Field>), FaultKind> {
    let not_one_of = |given: &str, allowed: Vec<String>| FaultKind::NotOneOf {
        given: given.to_owned(),
        allowed,
    };
    let names = || {
        let names = FIELDS.iter().map(|field| field.name.to_owned());
        names.chain([LEAVE_OUT.to_owned()]).collect()
    };
    let Some((head, field)) = text.rsplit_once('=') else {
        return Err(not_one_of(
            text,
            vec!["the head of a column, = and what it holds".to_owned()],
        ));
    };
    let (head, field) = (head.trim(), field.trim());
    let column = column_named(head, heads).map_err(|allowed| not_one_of(head, allowed))?;
    match (field, field_named(field)) {
        (LEAVE_OUT, _) => Ok((column, None)),
        (_, Some(found)) => Ok((column, Some(found))),
        (given, None) => Err(not_one_of(given, names())),
    }
}

/// The column that a text names; else those that it may name: all heads, or the numbers
/// of those that have this one.
fn column_named(text: &str, heads: &[String]) -> Result<ColumnName, Vec<String>> {
    let lower = text.to_lowercase();
    let with = |is_meant: &dyn Fn(&str) -> bool| {
        let places = (1..).zip(heads).filter(|(_, head)| is_meant(head.trim()));
        places.collect::<Vec<(usize, &String)>>()
    };
    let exact = with(&|head| head == text);
    let found = match exact.is_empty() {
        true => with(&|head| head.to_lowercase() == lower),
        false => exact,
    };
    let number = text
        .strip_prefix('#')
        .and_then(|number| number.parse().ok());
    let number = number.filter(|number| (1..=heads.len()).contains(number));
    match (found.as_slice(), number) {
        ([(_, head)], _) => Ok(ColumnName::Head((*head).clone())),
        ([], Some(number)) => Ok(ColumnName::Place(number - 1)),
        ([], None) => Err(heads
            .iter()
            .filter(|head| !head.is_empty())
            .cloned()
            .collect()),
        (several, _) => Err(several
            .iter()
            .map(|(number, _)| ["#", &number.to_string()].concat())
            .collect()),
    }
}
