//! The materials sheet of a kept pattern: to read, to print, to take along.

use super::{
    calculator_page::{CalculatorPage, QUESTIONS, in_its_field, look_up},
    gauge::hint_of,
};
use crate::{
    app::{self, FormData, PatternChoice, Records, SheetAnswer, SheetRequest, from_form},
    report::{
        Page, Render, Style, WorkingCopy, html_page, markdown, plain_text, sheet_cells, sheet_notes,
    },
    web::{
        body::Body,
        error_page::ErrorPage,
        fields::{pattern_choice, pattern_link, with_pattern},
        form::{Field, Form, Head, Kind},
        links::{download, encoded, query_without},
        refusal::{FieldError, Refusal},
        visit::{PageResult, Visit},
    },
};
use axum::extract::Path;

const PAGE: CalculatorPage = CalculatorPage {
    title: "A materials sheet",
    here: QUESTIONS,
    intro: "The yarn of a pattern, how much each size needs, and what could replace it, for every size and colour: to print or to send.",
    links: &[],
};

/// The fields in which alternatives are named.
const NAMED: [&str; 5] = ["with-1", "with-2", "with-3", "with-4", "with-5"];
/// How many alternatives a page shows at most.
const MOST: u16 = 40;
/// Columns of the sheet as text.
const WIDTH: usize = 80;

/// The field of a link to the designer's copy.
const WORKING: &str = "working";

/// What is shown of a sheet: what its readers get, or the designer's copy.
enum View {
    Readers(SheetAnswer),
    Working(WorkingCopy),
}

impl Render for View {
    type Fields = <SheetAnswer as Render>::Fields;

    fn fields(&self) -> Self::Fields {
        match self {
            Self::Readers(sheet) => sheet.fields(),
            Self::Working(copy) => copy.fields(),
        }
    }

    fn page(&self, style: &Style) -> Page {
        match self {
            Self::Readers(sheet) => sheet.page(style),
            Self::Working(copy) => copy.page(style),
        }
    }
}

impl View {
    fn sheet(&self) -> &SheetAnswer {
        match self {
            Self::Readers(sheet) | Self::Working(WorkingCopy(sheet)) => sheet,
        }
    }

    /// What the designer needs, where the page itself does not say it.
    fn notes(&self, style: &Style) -> Vec<String> {
        match self {
            Self::Readers(sheet) => sheet_notes(sheet, style),
            Self::Working(_) => Vec::new(),
        }
    }
}

type Answer = Result<View, Refusal>;

pub(super) async fn page(visit: Visit, sent: FormData) -> PageResult {
    let found = visit.answer(&sent, |records, typed| look_up(records, typed, answer));
    let (patterns, answer) = found.await?;
    let answer = answer
        .map(|answer| answer.map_err(|refusal| in_its_field(refusal, &sent, ("/sheet", &NAMED))));
    let form = form(&patterns);
    let style = form.style(&visit.prefs);
    let view = answer.as_ref().and_then(|answer| answer.as_ref().ok());
    let notes = view.map_or_else(Vec::new, |view| view.notes(&style));
    let more = |body: &mut Body| {
        body.links(&files(&sent));
        body.hint("Printed, this page is the sheet alone.");
        notes.iter().for_each(|note| body.hint(note));
    };
    let names: Vec<_> = pattern_link(&sent, &patterns).into_iter().collect();
    Ok(PAGE.show(&visit, &sent, (form, &names), answer, more))
}

fn answer(records: &Records, patterns: &[PatternChoice], typed: &FormData) -> Answer {
    let request = request(patterns, typed)?;
    let sheet = app::sheet(records, &request)?;
    Ok(match typed.filled(WORKING) {
        Some(_) => View::Working(WorkingCopy(sheet)),
        None => View::Readers(sheet),
    })
}

/// The sheet as a file: `sheet.md`, `sheet.html`, `sheet.csv` or `sheet.txt`.
pub(super) async fn file(visit: Visit, Path(kind): Path<String>, sent: FormData) -> PageResult {
    let found = visit.answer(&sent, |records, typed| look_up(records, typed, answer));
    let (_, answer) = found.await?;
    let Some(sheet) = answer.transpose()? else {
        return Err(ErrorPage::not_found());
    };
    let (mime, bytes) = content(&sheet, &kind)?;
    let name = format!("{}-{kind}", encoded(&sheet.sheet().pattern));
    Ok(download(mime, &name, bytes))
}

fn content(sheet: &View, kind: &str) -> Result<(&'static str, Vec<u8>), ErrorPage> {
    let page = sheet.page(&Style::default());
    Ok(match kind {
        "sheet.md" => ("text/markdown; charset=utf-8", markdown(&page).into_bytes()),
        "sheet.html" => ("text/html; charset=utf-8", html_page(&page).into_bytes()),
        "sheet.txt" => (
            "text/plain; charset=utf-8",
            plain_text(&page, WIDTH).into_bytes(),
        ),
        "sheet.csv" => {
            let mut table = Vec::new();
            app::sheet_table(&sheet_cells(sheet.sheet()), "the table", &mut table)?;
            ("text/csv; charset=utf-8", table)
        }
        _ => return Err(ErrorPage::not_found()),
    })
}

/// Links to the other view, and to the same sheet as files.
fn files(typed: &FormData) -> Vec<(String, &'static str)> {
    let query = query_without(typed, &[]);
    let rest = query_without(typed, &[WORKING]);
    let other = match typed.filled(WORKING) {
        Some(_) => (format!("/sheet?{rest}"), "The sheet for readers"),
        None => (format!("/sheet?{rest}&{WORKING}=yes"), "Your working copy"),
    };
    let files = [
        ("sheet.html", "Save as a page (HTML)"),
        ("sheet.md", "As Markdown"),
        ("sheet.txt", "As text"),
        ("sheet.csv", "The alternatives as a table (CSV)"),
    ]
    .map(|(kind, name)| (format!("/sheet/{kind}?{query}"), name));
    std::iter::once(other).chain(files).collect()
}

fn request(patterns: &[PatternChoice], typed: &FormData) -> Result<SheetRequest, Refusal> {
    let mut fields = with_pattern(typed, patterns)?;
    let named: Vec<String> = NAMED
        .iter()
        .filter_map(|field| typed.filled(field))
        .collect();
    let wrong = match (typed.text("from"), named.is_empty()) {
        _ if typed.filled("pattern").is_none() => {
            Some(("pattern", "the pattern is missing: choose one"))
        }
        ("named", true) => Some((
            NAMED[0],
            "the yarn is missing: name one, or choose the best of all your yarns above",
        )),
        ("named", false) | (_, true) => None,
        (_, false) => Some((
            "from",
            "there are yarns below as well: empty those fields, or choose ‘The yarns that I name below’",
        )),
    };
    if let Some((field, said)) = wrong {
        return Err(FieldError::new(field, said).into());
    }
    if !named.is_empty() {
        fields.set("from", "");
    }
    let request: SheetRequest = from_form(&fields)?;
    Ok(SheetRequest {
        with: named,
        most: Some(MOST),
        ..request
    })
}

const FROM: [(&str, &str); 3] = [
    ("catalogue", "The best of all your yarns"),
    ("stash", "The best of the stash"),
    ("named", "The yarns that I name below"),
];

fn form(patterns: &[PatternChoice]) -> Form {
    let fields = app::request_fields::<SheetRequest>()
        .into_iter()
        .map(Field::from);
    let fields = fields.filter(|field| field.name != "with");
    let (asked, further): (Vec<Field>, Vec<Field>) =
        fields.partition(|field| ["pattern", "from"].contains(&field.name.as_str()));
    let folded = |text: &str| Head::Folded(text.to_owned());
    Form::get("sheet", "/sheet", "Make the sheet")
        .with(Head::None, asked)
        .with(folded("Name the yarns"), named())
        .with(folded("How many, how strictly, one yarn only"), further)
        .change("pattern", |field| {
            field.label = "The pattern".to_owned();
            field.hint = hint_of(patterns).to_owned();
            field.kind = pattern_choice("Choose one", patterns, false);
        })
        .change("from", |field| {
            field.label = "Alternatives".to_owned();
            field.kind = Kind::Radio(FROM.to_vec());
            field.value = "catalogue".to_owned();
        })
}

fn named() -> Vec<Field> {
    let label = ["First yarn", "Second", "Third", "Fourth", "Fifth"];
    let hint = "Its name, or what its label says. For one colour of the pattern only, write the colour first, as in: MC=Umberlin DK";
    NAMED
        .into_iter()
        .zip(label)
        .zip([hint, "", "", "", ""])
        .map(|((name, label), hint)| Field::new(name, label, hint, Kind::Names))
        .collect()
}
