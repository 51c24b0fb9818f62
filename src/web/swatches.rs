//! Swatches of a yarn: added, edited, removed. They are shown on the page of their yarn.

use super::{
    fields::{HELD_WITH, held_with, with_each_held},
    form::Form,
    kept_record::{KeptRecord, Removal, form_page},
    refusal::Refusal,
    visit::{PageResult, Saved, Visit},
};
use crate::app::{self, AppError, FormData, KeptFields, Records, SwatchRequest};
use axum::extract::Path;

const HERE: &str = "/yarns";

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
        let form = Form::asking::<SwatchRequest>("swatch", action, "Save").once();
        with_each_held(form.replaced(&[("yarn", HELD_WITH[0])]))
    }

    fn kept(records: &Records, number: i64) -> Result<KeptFields, AppError> {
        let (_, mut kept) = app::swatch_to_edit(records, number)?;
        let yarns = kept.typed.text(HELD_WITH[0]).to_owned();
        let mut yarns = yarns.lines();
        for field in HELD_WITH {
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
    request.held_with = held_with(typed);
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
