//! Which row holds the heads, which column is what, and what nobody can know.

use super::{
    Answers, ColumnName, ColumnUse, FIELDS, Field, Lack, Layout, Question, body, field_named,
    fields::fit,
    translate::{bare_number, with_unit},
};
use crate::{
    files::sheet::{Sheet, SheetRow},
    words::fold,
};
use std::cmp::Reverse;

/// Rows in which the heads are looked for.
const HEAD_WITHIN: usize = 30;

/// Cells of a column that are looked at.
const LOOKED_AT: usize = 60;

/// Share of the cells that must be read for a column to be known by them.
const MOST_CELLS: f64 = 0.7;

/// Share of the cells below which a word at the head means something else,
/// where it may.
const FEW_CELLS: f64 = 0.4;

/// Fields that cells give away, the surest first.
const KNOWN_BY_CELLS: [&str; 6] = ["gtin", "put_up", "fibre", "gauge", "price", "colour"];

/// Proposes how to take a table, with what a person has said.
pub fn propose(sheet: &Sheet, answers: &Answers) -> Layout {
    let head = head_row(sheet, answers);
    let width = sheet.rows.iter().map(|row| row.cells.len()).max();
    let columns = (0..width.unwrap_or(0)).map(|place| Column::of(sheet, head, place));
    let columns: Vec<Column> = columns.collect();
    let fields = assigned(&columns, answers);
    let masses = columns.iter().zip(&fields);
    let mut masses = masses.filter(|(_, field)| field.is_some_and(|it| it.name == "length"));
    let mass = masses.find_map(|(column, _)| Some(mass_at_end(&column.head)?.1));
    let decimal_comma = columns.iter().any(Column::has_decimal_comma);
    let fields = without_lone_colour(fields);
    let columns = columns.iter().zip(fields).map(|(column, field)| ColumnUse {
        head: column.head.clone(),
        field,
        unit: field.and_then(|field| column.unit(field)),
        sample: column.cells.first().cloned().unwrap_or_default(),
    });
    let mut layout = Layout {
        head,
        columns: columns.collect(),
        mass,
        decimal_comma,
        questions: Vec::new(),
    };
    layout.questions = questions(sheet, &layout, answers);
    layout
}

/// A colour is that of the shade of a lot, so it counts where the table tells amounts.
fn without_lone_colour(mut fields: Vec<Option<&'static Field>>) -> Vec<Option<&'static Field>> {
    let holds = |name: &str| fields.iter().flatten().any(|field| field.name == name);
    if !holds("amount") {
        let colours = fields.iter_mut();
        let colours = colours.filter(|field| field.is_some_and(|field| field.name == "colour"));
        colours.for_each(|field| *field = None);
    }
    fields
}

/// The row with the most words that head columns; the first of them.
fn head_row(sheet: &Sheet, answers: &Answers) -> usize {
    let known = |cell: &String| {
        let is_said = |name: &ColumnName| match name {
            ColumnName::Head(head) => fold(head) == fold(cell),
            ColumnName::Place(_) => false,
        };
        let said = answers.columns.iter().any(|(name, _)| is_said(name));
        let (words, _) = head_and_unit(cell);
        said || !words.is_empty() && FIELDS.iter().any(|field| fit(field, &words).0 >= 200)
    };
    let rows = sheet.rows.iter().take(HEAD_WITHIN).enumerate();
    let counts =
        rows.map(|(place, row)| (row.cells.iter().filter(|cell| known(cell)).count(), place));
    let best = counts.max_by_key(|(count, place)| (*count, Reverse(*place)));
    best.map_or(0, |(_, place)| place)
}

/// A column of somebody's table.
struct Column {
    head: String,
    /// Its words, folded, without a unit.
    words: String,
    /// The unit that stands in the head.
    unit: Option<String>,
    /// The first cells that are not empty.
    cells: Vec<String>,
}

impl Column {
    fn of(sheet: &Sheet, head: usize, place: usize) -> Self {
        let cell = |row: &SheetRow| row.cells.get(place).cloned();
        let text = sheet.rows.get(head).and_then(cell).unwrap_or_default();
        let (words, unit) = head_and_unit(&text);
        let cells = body(sheet, head).filter_map(cell);
        let cells = cells.filter(|cell| !cell.is_empty()).take(LOOKED_AT);
        Self {
            head: text,
            words,
            unit,
            cells: cells.collect(),
        }
    }

    /// The unit of bare numbers, from the head or from the word that it is.
    fn unit(&self, field: &Field) -> Option<String> {
        let lack = field.lack?;
        let fits = |unit: &String| {
            field
                .reads
                .is_some_and(|reads| reads(&with_unit("1", unit)))
        };
        let said = self
            .unit
            .clone()
            .filter(|unit| lack == Lack::Amount || fits(unit));
        said.or_else(|| fit(field, &self.words).1.map(str::to_owned))
    }

    /// The share of cells that are values of the field.
    fn share(&self, field: &Field) -> f64 {
        let Some(reads) = field.reads else {
            return 1.0;
        };
        let probe = self.unit(field);
        let probe = probe.as_deref().or(field.lack.map(example_unit));
        let is_read = |cell: &&String| match (field.number_in(cell, true), probe) {
            (Some(number), Some(unit)) => reads(&with_unit(&number, unit)),
            _ => reads(cell),
        };
        let read = self.cells.iter().filter(is_read).count();
        share_of(read, self.cells.len())
    }

    fn has_decimal_comma(&self) -> bool {
        self.cells.iter().any(|cell| {
            let parts = cell.rsplit_once(',');
            let decimals = |text: &str| {
                let digits = text.chars().take_while(char::is_ascii_digit).count();
                matches!(digits, 1 | 2)
            };
            let is_number = |text: &str| text.ends_with(|c: char| c.is_ascii_digit());
            parts.is_some_and(|(whole, rest)| is_number(whole) && decimals(rest))
        })
    }
}

fn share_of(part: usize, whole: usize) -> f64 {
    let number = |count: usize| f64::from(u32::try_from(count).unwrap_or(u32::MAX));
    match whole {
        0 => 1.0,
        whole => number(part) / number(whole),
    }
}

/// Any unit that a bare number could have.
fn example_unit(lack: Lack) -> &'static str {
    match lack {
        Lack::Length => "m",
        Lack::Mass => "g",
        Lack::Amount => "skeins",
        Lack::Currency => "EUR",
    }
}

/// The field of each column: what a person said, then the best fit of heads, then what
/// cells give away. Each field is held by one column.
fn assigned(columns: &[Column], answers: &Answers) -> Vec<Option<&'static Field>> {
    let mut fields: Vec<Option<&'static Field>> = vec![None; columns.len()];
    let mut settled = vec![false; columns.len()];
    for (place, column) in columns.iter().enumerate() {
        let said = answers.columns.iter();
        let mut said = said.filter(|(name, _)| match name {
            ColumnName::Head(head) => fold(head) == fold(&column.head),
            ColumnName::Place(said) => *said == place,
        });
        if let Some((_, field)) = said.next()
            && (field.is_none() || !fields.contains(field))
            && let (Some(slot), Some(done)) = (fields.get_mut(place), settled.get_mut(place))
        {
            (*slot, *done) = (*field, true);
        }
    }
    let mut offers = Vec::new();
    for (place, column) in columns.iter().enumerate() {
        offers.extend(by_head(column).map(|(rank, field)| (Reverse(rank), place, field)));
    }
    for (rank, name) in KNOWN_BY_CELLS.into_iter().enumerate() {
        for (place, column) in columns.iter().enumerate() {
            if let Some(field) = by_cells(column, name) {
                let rank = 50_u32.saturating_sub(u32::try_from(rank).unwrap_or(50));
                offers.push((Reverse(rank), place, field));
            }
        }
    }
    offers.sort_by_key(|(rank, place, _)| (*rank, *place));
    for (_, place, field) in offers {
        let held = |name: &str| fields.iter().flatten().any(|held| held.name == name);
        let is_free = settled.get(place) == Some(&false);
        let halves = ["length", "mass"];
        let doubled = field.name == "put_up" && halves.iter().all(|half| held(half));
        if !is_free || held(field.name) || doubled {
            continue;
        }
        if let (Some(slot), Some(done)) = (fields.get_mut(place), settled.get_mut(place)) {
            (*slot, *done) = (Some(field), true);
        }
    }
    fields
}

/// What the head of a column may say, with how well it fits.
fn by_head(column: &Column) -> impl Iterator<Item = (u32, &'static Field)> {
    let words = column.words.as_str();
    let fits = FIELDS.iter().map(move |field| (fit(field, words).0, field));
    let fits: Vec<(u32, &Field)> = fits.filter(|(rank, _)| *rank > 0).collect();
    let both = field_named("put_up").filter(|both| {
        let of_half = |(_, field): &(u32, &Field)| matches!(field.name, "length" | "mass");
        fits.iter().any(of_half) && !column.cells.is_empty() && column.share(both) > MOST_CELLS
    });
    let is_alone = fits.len() == 1 && both.is_none();
    let fits = fits.into_iter().chain(both.map(|both| (300, both)));
    let fits = fits.filter_map(|(rank, field)| {
        let share = column.share(field);
        let sure = share > FEW_CELLS && !column.cells.is_empty();
        let bonus = if sure && field.reads.is_some() {
            100
        } else {
            0
        };
        (is_alone || share >= FEW_CELLS).then_some((rank + bonus, field))
    });
    fits.collect::<Vec<_>>().into_iter()
}

/// The field, where the cells of a column give it away. A bare number gives nothing away
/// but an article number.
fn by_cells(column: &Column, name: &str) -> Option<&'static Field> {
    let field = field_named(name)?;
    let reads = field.reads?;
    let is_told = |cell: &&String| {
        let is_bare = bare_number(cell, true).is_some();
        reads(cell)
            && match name {
                "gtin" => cell.len() >= 8,
                "fibre" => cell.contains('%'),
                "colour" => cell.starts_with('#'),
                _ => !is_bare,
            }
    };
    let told = column.cells.iter().filter(is_told).count();
    let enough = told > 0 && share_of(told, column.cells.len()) >= MOST_CELLS;
    enough.then_some(field)
}

/// The words of a head, folded, without the unit that stands behind or in brackets.
fn head_and_unit(head: &str) -> (String, Option<String>) {
    let head = mass_at_end(head).map_or(head, |(before, _)| before);
    let parts = head.split(|c: char| c.is_whitespace() || "()[]{}/_,:;".contains(c));
    let mut words: Vec<&str> = parts.filter(|part| !part.is_empty()).collect();
    let mut unit = None;
    while words.len() > 1 {
        let Some(last) = words.last().copied() else {
            break;
        };
        let found = unit_of(last);
        if found.is_none() && !FILLERS.contains(&&*fold(last)) {
            break;
        }
        unit = found.map(str::to_owned).or(unit);
        words.pop();
    }
    (fold(&words.join(" ")), unit)
}

/// Words that join a unit to a head.
const FILLERS: [&str; 18] = [
    "in", "per", "pro", "je", "par", "pr", "por", "og", "inkl", "incl", "ball", "skein", "knauel",
    "stuck", "pelote", "bol", "ovillo", "nøgle",
];

/// Units as they stand in heads, and how our cells write them.
fn unit_of(word: &str) -> Option<&'static str> {
    let lower = word.trim_end_matches('.').to_lowercase();
    let units = [
        ("m", "m"),
        ("mtr", "m"),
        ("yd", "yd"),
        ("yds", "yd"),
        ("g", "g"),
        ("gr", "g"),
        ("oz", "oz"),
        ("eur", "EUR"),
        ("euro", "EUR"),
        ("€", "EUR"),
        ("gbp", "GBP"),
        ("£", "GBP"),
        ("usd", "USD"),
        ("us$", "USD"),
        ("chf", "CHF"),
        ("fr.", "CHF"),
        ("dkk", "DKK"),
        ("kr", "DKK"),
        ("sek", "SEK"),
        ("nok", "NOK"),
        ("cad", "CAD"),
        ("aud", "AUD"),
        ("mm", "mm"),
    ];
    // Three countries have crowns: only a table that says which is believed.
    let found = units.iter().find(|(written, _)| *written == lower);
    found.map(|(_, unit)| *unit).filter(|_| lower != "kr")
}

/// The mass that a head of lengths names, `50 g` of `m/50 g`, and what stands before it.
fn mass_at_end(head: &str) -> Option<(&str, String)> {
    let end = head.trim_end_matches([')', ']', ' ', '.']);
    let number = end.strip_suffix(['g', 'G'])?.trim_end();
    let before = number.trim_end_matches(|c: char| c.is_ascii_digit());
    let digits = number.strip_prefix(before)?;
    (!digits.is_empty()).then(|| (before, format!("{digits} g")))
}

/// What must be said: which yarn, and what bare numbers lack.
fn questions(sheet: &Sheet, layout: &Layout, answers: &Answers) -> Vec<Question> {
    let mut asked = Vec::new();
    if !layout.has("name") && !layout.has("gtin") {
        asked.push(Question::Name);
    }
    if layout.has("name") && !layout.has("maker") && !layout.has("gtin") && answers.maker.is_none()
    {
        asked.push(Question::Maker);
    }
    for (place, column) in layout.columns.iter().enumerate() {
        let Some((field, lack)) = column.field.and_then(|field| Some((field, field.lack?))) else {
            continue;
        };
        // What can be read without an answer is not asked: `$` is believed to be US.
        let is_read = |cell: &String| {
            let is_bare = bare_number(cell, layout.decimal_comma).is_some();
            !is_bare && field.reads.is_some_and(|reads| reads(cell))
        };
        let is_bare = |row: &SheetRow| {
            let cell = row.cells.get(place).filter(|cell| !is_read(cell));
            let comma = layout.decimal_comma;
            cell.is_some_and(|cell| field.number_in(cell, comma).is_some())
        };
        let is_said = column.unit.is_some() || answers.unit(lack).is_some();
        if !is_said && body(sheet, layout.head).any(is_bare) {
            asked.push(Question::Unit(lack));
        }
    }
    asked
}
