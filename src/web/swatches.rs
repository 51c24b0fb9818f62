//! Swatches of a yarn: added, edited, removed. They are shown on the page of their yarn.

use super::{
    form::{Field, Form, Head, Kind},
    kept_record::{KeptRecord, Removal, form_page},
    refusal::Refusal,
    visit::{PageResult, Saved, Visit},
};
use crate::app::{self, AppError, FormData, KeptFields, Records, SwatchRequest};
use axum::extract::Path;

const HERE: &str = "/yarns";

/// The yarns that were held with it, a field for each: names are offered in each.
const HELD: [&str; 2] = ["held-with", "held-with-too"];
const SECOND: &str = "A second yarn of yours, if you held two together";
const AND: &str = "And with";
const THIRD: &str = "A third, if you held three. Two strands of one yarn: name it in both fields.";

/// A swatch in its form.
pub(super) struct SwatchRecord;

impl KeptRecord for SwatchRecord {
    const HERE: &'static str = HERE;
    const PATH: &'static str = "/swatches";
    const WHAT: &'static str = "a swatch of ";
    const REMOVAL: Option<Removal> = Some(("Remove this swatch", |records, number| {
        let (yarn, _) = app::swatch_to_edit(records, number)?;
        let change = app::remove_swatch(records, number)?;
        Ok((format!("{HERE}/{yarn}"), change))
    }));

    fn form(action: String) -> Form {
        let [first, second] = HELD;
        let fields = app::request_fields::<SwatchRequest>().into_iter();
        let fields = fields.flat_map(|field| {
            let third = (field.name == first).then(|| Field::new(second, AND, THIRD, Kind::Names));
            [Field::from(field)].into_iter().chain(third)
        });
        Form::get("swatch", action, "Save")
            .with(Head::None, fields.collect())
            .once()
            .replaced(&[("yarn", first)])
            .change(first, |field| field.hint = SECOND.to_owned())
    }

    fn kept(records: &Records, number: i64) -> Result<KeptFields, AppError> {
        let (_, mut kept) = app::swatch_to_edit(records, number)?;
        let yarns = kept.typed.text(HELD[0]).to_owned();
        let mut yarns = yarns.lines();
        for field in HELD {
            kept.typed.set(field, yarns.next().unwrap_or_default());
        }
        Ok(kept)
    }

    fn save(records: &mut Records, read: (i64, i64), typed: &FormData) -> Saved {
        let (yarn, _) = app::swatch_to_edit(records, read.0)?;
        save_swatch(records, yarn, Some(read), typed)
    }
}

fn save_swatch(
    records: &mut Records,
    yarn: i64,
    read: Option<(i64, i64)>,
    typed: &FormData,
) -> Saved {
    let mut request: SwatchRequest = app::from_form(typed)?;
    request.held_with = HELD
        .iter()
        .filter_map(|field| typed.filled(field))
        .collect();
    let change = app::save_swatch(records, yarn, read, &request)?;
    Ok((format!("{HERE}/{yarn}"), change))
}

pub(super) async fn new(visit: Visit, Path(yarn): Path<i64>) -> PageResult {
    swatch_page(&visit, yarn, &FormData::default(), None).await
}

pub(super) async fn add(visit: Visit, Path(yarn): Path<i64>, typed: FormData) -> PageResult {
    let saving =
        move |records: &mut Records, typed: &FormData| save_swatch(records, yarn, None, typed);
    match visit.keep(&typed, saving).await? {
        Ok(done) => Ok(done),
        Err(refusal) => swatch_page(&visit, yarn, &typed, Some(refusal)).await,
    }
}

async fn swatch_page(
    visit: &Visit,
    yarn: i64,
    typed: &FormData,
    refused: Option<Refusal>,
) -> PageResult {
    let kept = visit
        .read(move |records| app::yarn_to_edit(records, yarn))
        .await?;
    let title = format!("A swatch of {}", kept.title);
    let form = SwatchRecord::form(format!("{HERE}/{yarn}/swatches/new")).filled(typed);
    Ok(form_page(visit, (title, HERE), form, refused, |_| ()))
}
