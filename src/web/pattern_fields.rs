//! A pattern without any file: its materials are pasted and read into fields, which
//! are corrected in rows, one for each yarn and one for each size.

use super::{
    body::Body,
    form::{Field, Form, Head, Kind},
    kept_record::{KeptRecord, Removal, form_page},
    patterns::HERE,
    visit::{PageResult, Saved, Visit},
};
use crate::{
    app::{self, ANOTHER, AppError, FormData, KeptFields, Records},
    report::{Notice, Render},
    words::safe,
};

const ADD: (&str, &str) = ("Add a pattern", HERE);
const NEW: &str = "/patterns/new";

/// A pattern in its fields.
pub(super) struct PatternRecord;

impl KeptRecord for PatternRecord {
    const HERE: &'static str = HERE;
    const REMOVAL: Option<Removal> = Some(("Remove this pattern", |records, number| {
        let change = app::remove_pattern_numbered(records, number)?;
        Ok((HERE.to_owned(), change))
    }));

    fn form(action: String) -> Form {
        Self::form_for(action, &FormData::default())
    }

    fn form_for(action: String, typed: &FormData) -> Form {
        let form = Form::get("pattern", action, "Save").once();
        let form = form.with(Head::None, once_fields());
        let form = (1..=app::yarns_of_form(typed)).fold(form, |form, yarn| {
            let (main, more) = yarn_fields(typed, yarn);
            let key = key(typed, yarn);
            form.with(Head::Legend(format!("Yarn {key}")), main)
                .with(Head::Folded(format!("More about yarn {key}")), more)
        });
        let sizes = 1..=app::sizes_of_form(typed);
        let form = sizes.clone().fold(form, |form, size| {
            let head = Head::Legend(format!("Size {}", size_name(typed, size)));
            form.with(head, amount_fields(typed, size))
        });
        let measures = sizes.flat_map(|size| measure_fields(typed, size));
        let head = "Finished measures, stitches and rows of each size".to_owned();
        form.with(Head::Folded(head), measures.collect())
            .with(
                Head::Folded("More about the pattern".to_owned()),
                rest_fields(),
            )
            .button((ANOTHER, "size"), "Add a size")
            .button((ANOTHER, "yarn"), "Add a yarn")
    }

    fn with_another(typed: &FormData) -> Option<FormData> {
        app::with_another(typed)
    }

    fn kept(records: &Records, number: i64) -> Result<KeptFields, AppError> {
        app::pattern_fields(records, number)
    }

    fn save(records: &mut Records, read: (i64, i64), typed: &FormData) -> Saved {
        save(records, Some(read), typed)
    }
}

fn save(records: &mut Records, read: Option<(i64, i64)>, typed: &FormData) -> Saved {
    let (number, change) = app::save_pattern_fields(records, read, typed)?;
    Ok((format!("{HERE}/{number}"), change))
}

fn line(name: &str, label: &str, hint: &str) -> Field {
    Field::new(name, label, hint, Kind::Line)
}

/// What a pattern says once.
fn once_fields() -> Vec<Field> {
    let words = |names: &[&'static str]| names.iter().map(|name| (*name, *name)).collect();
    let purposes: Vec<(&str, &str)> = words(&app::purposes());
    let mut fits: Vec<(&str, &str)> = words(&app::fits());
    fits.insert(0, ("", "as usual for it"));
    let spare = vec![
        ("", "the pattern does not say"),
        ("yes", "included"),
        ("no", "not included"),
    ];
    vec![
        line("name", "Name of the pattern", "").needed(),
        Field::new("purpose", "What it is for", "", Kind::Radio(purposes)).needed(),
        Field::new("fit", "How close it sits", "", Kind::Radio(fits)),
        line(
            "gauge",
            "Gauge",
            "As in: 22 sts x 30 rows / 10 cm, in stockinette",
        ),
        Field::new(
            "margin-included",
            "Spare yarn in the amounts",
            "",
            Kind::Radio(spare),
        ),
    ]
}

/// The key of a yarn as it is shown.
fn key(typed: &FormData, yarn: usize) -> String {
    let key = typed.filled(&app::yarn_field(yarn, "key"));
    key.map_or_else(|| yarn.to_string(), |key| safe(&key))
}

fn size_name(typed: &FormData, size: usize) -> String {
    let name = typed.filled(&app::size_field(size, "name"));
    name.map_or_else(|| size.to_string(), |name| safe(&name))
}

/// What is said of one yarn, and what seldom is.
fn yarn_fields(typed: &FormData, yarn: usize) -> (Vec<Field>, Vec<Field>) {
    let key = key(typed, yarn);
    let field = |(name, label, hint): &(&str, &str, &str)| {
        let label = format!("{label} of yarn {key}");
        line(&app::yarn_field(yarn, name), &label, hint)
    };
    let main = [
        ("key", "Key", "As the pattern calls it: A, B, MC, CC1"),
        ("maker", "Maker", ""),
        ("name", "Name", ""),
        ("length", "Length", "Of one skein, as in: 120 m"),
        ("mass", "Weight", "Of one skein, as in: 50 g"),
        ("fibre", "Fibres", "As in: 75% wool 25% nylon"),
        ("class", "Yarn weight", "As in: DK"),
        ("construction", "Construction", "As in: plied"),
        ("gauge", "Gauge on the label", "As in: 22 sts / 10 cm"),
        ("needle", "Needles", "As in: 4 mm"),
        ("strands", "Strands held together", "As in: 2"),
        (
            "held-with",
            "Other yarn in the strand",
            "Only where two yarns are held together: the key of the one above, as in: A",
        ),
    ];
    let more = [
        ("count", "Yarn count", "As in: 2/14 Nm"),
        ("plies", "Plies", "As in: 4"),
        ("care", "Washing", "As in: hand wash"),
        ("price", "Price", "As in: 6.50 GBP"),
    ];
    // The first has none above it.
    let main = main
        .iter()
        .filter(|(name, _, _)| yarn > 1 || *name != "held-with");
    let main = main.map(field).collect();
    (main, more.iter().map(field).collect())
}

/// One size: its name, and how much of each yarn it takes.
fn amount_fields(typed: &FormData, size: usize) -> Vec<Field> {
    let name = app::size_field(size, "name");
    let name = line(&name, &format!("Name of size {size}"), "As in: M");
    let shown = size_name(typed, size);
    let amounts = (1..=app::yarns_of_form(typed)).map(|yarn| {
        let label = format!("Yarn {} for size {shown}", key(typed, yarn));
        line(
            &app::need_field(size, yarn),
            &label,
            "As in: 10 skeins, 1200 m or 500 g",
        )
    });
    std::iter::once(name).chain(amounts).collect()
}

fn measure_fields(typed: &FormData, size: usize) -> Vec<Field> {
    let shown = size_name(typed, size);
    let field = |(name, label, hint): &(&str, &str, &str)| {
        let label = format!("{label} of size {shown}");
        line(&app::size_field(size, name), &label, hint)
    };
    let measures = [
        ("width", "Finished width", "As in: 98 cm"),
        ("height", "Finished height", "As in: 60 cm"),
        ("cast-on", "Stitches", "Of that width, as in: 216"),
        ("rows", "Rows", "Of that height, as in: 180"),
    ];
    measures.iter().map(field).collect()
}

fn rest_fields() -> Vec<Field> {
    vec![
        line("multiple", "Stitch multiple", "As in: 4 + 2"),
        line("care", "Washing it must take", "As in: machine wash"),
        line(
            "tolerance",
            "How far the metres per 100 g may differ",
            "Where the pattern says, as in: 8 %",
        ),
        Field::new("notes", "Notes", "", Kind::Area(3)),
    ]
}

/// The form of a new pattern, with these texts.
fn new_form(typed: &FormData) -> Form {
    PatternRecord::form_for(NEW.to_owned(), typed).filled(typed)
}

/// The text that is read into the fields.
fn reader_form(typed: &FormData) -> Form {
    let text = Field::new(
        "text",
        "Its materials, as the pattern prints them",
        "Yarns, amounts, gauge and sizes, as in: Umberlin DK (100% wool; 120 m / 50 g), 10 (11, 12) balls; 22 sts and 30 rows to 10 cm on 4 mm; sizes S (M, L). With several yarns, begin each with its key: MC: ...; CC1: ...",
        Kind::Area(5),
    );
    let fields = vec![line("name", "Name of the pattern", ""), text];
    Form::get("read", NEW, "Read it")
        .with(Head::None, fields)
        .filled(typed)
}

fn other_ways(body: &mut Body) {
    body.links(&[
        ("/patterns/new?by-hand=yes", "Fill in the fields yourself"),
        ("/patterns/text", "Write or upload a pattern file"),
    ]);
}

/// The first step, which asks for a text, or the fields that follow from it.
pub(super) async fn new(visit: Visit, sent: FormData) -> PageResult {
    let mut body = visit.body();
    body.heading(ADD.0);
    let text = sent.text("text");
    if text.trim().is_empty() && !sent.has("by-hand") {
        body.form(&reader_form(&sent));
        other_ways(&mut body);
        return Ok(visit.page(ADD, body));
    }
    let read = app::read_pattern_text(sent.text("name"), text)?;
    if !text.trim().is_empty() {
        let notice = Notice {
            done: "Read from the text. Correct what is wrong, fill in what is missing, then save."
                .to_owned(),
            warnings: read.notes,
            ..Notice::default()
        };
        body.notice(notice.page(&visit.style()));
    }
    body.form(&new_form(&read.typed));
    body.part("Read a different text");
    body.form(&reader_form(&sent));
    other_ways(&mut body);
    Ok(visit.page(ADD, body))
}

/// Saves a new pattern; or shows the form again with one more row, or with what is
/// wrong.
pub(super) async fn add(visit: Visit, typed: FormData) -> PageResult {
    if let Some(more) = app::with_another(&typed) {
        return Ok(form_page(&visit, ADD, new_form(&more), None, other_ways));
    }
    let kept = visit.keep(&typed, |records, typed| save(records, None, typed));
    let again = |refusal| form_page(&visit, ADD, new_form(&typed), Some(refusal), other_ways);
    Ok(kept.await?.unwrap_or_else(again))
}
