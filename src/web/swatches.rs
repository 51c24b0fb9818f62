//! Swatches of a yarn: kept, edited, removed.

use super::{
    form::Form,
    kept_record::{KeptRecord, Saved, form_page, keep},
    preferences::Preferences,
    refusal::ErrorPage,
    state::AppState,
};
use crate::app::{self, AppError, FormData, KeptFields, Records, SwatchRequest};
use axum::{
    extract::{Path, State},
    response::Response,
};
use std::sync::Arc;

const HERE: &str = "/yarns";

/// A swatch in its form.
pub(super) struct SwatchRecord;

impl KeptRecord for SwatchRecord {
    const HERE: &'static str = HERE;
    const PATH: &'static str = "/swatches";
    const WHAT: &'static str = "a swatch of ";
    const REMOVE: Option<&'static str> = Some("Remove this swatch");

    fn form(action: String) -> Form {
        Form::asking::<SwatchRequest>("swatch", action, "Keep").posted()
    }

    fn kept(records: &Records, number: i64) -> Result<KeptFields, AppError> {
        Ok(app::swatch_to_edit(records, number)?.1)
    }

    fn save(records: &mut Records, read: (i64, i64), typed: &FormData) -> Saved {
        let (yarn, _) = app::swatch_to_edit(records, read.0)?;
        saved(records, yarn, Some(read), typed)
    }

    fn remove(records: &mut Records, number: i64) -> Result<String, AppError> {
        let (yarn, _) = app::swatch_to_edit(records, number)?;
        app::remove_swatch(records, number)?;
        Ok(format!("{HERE}/{yarn}"))
    }
}

fn saved(records: &mut Records, yarn: i64, read: Option<(i64, i64)>, typed: &FormData) -> Saved {
    let change = app::save_swatch(records, yarn, read, &app::from_form(typed)?)?;
    Ok((format!("{HERE}/{yarn}"), change))
}

pub(super) async fn new(
    State(state): State<Arc<AppState>>,
    Path(yarn): Path<i64>,
    prefs: Preferences,
) -> Result<Response, ErrorPage> {
    page(&state, yarn, &prefs, &FormData::default(), None).await
}

pub(super) async fn add(
    State(state): State<Arc<AppState>>,
    Path(yarn): Path<i64>,
    prefs: Preferences,
    typed: FormData,
) -> Result<Response, ErrorPage> {
    let sent = typed.clone();
    let saving = move |records: &mut Records| saved(records, yarn, None, &sent);
    match keep(&state, &prefs, saving).await? {
        Ok(done) => Ok(done),
        Err(error) => page(&state, yarn, &prefs, &typed, Some(&error)).await,
    }
}

async fn page(
    state: &Arc<AppState>,
    yarn: i64,
    prefs: &Preferences,
    typed: &FormData,
    refused: Option<&AppError>,
) -> Result<Response, ErrorPage> {
    let kept = state
        .read(move |records| app::yarn_to_edit(records, yarn))
        .await??;
    let title = format!("A swatch of {}", kept.title);
    let form = SwatchRecord::form(format!("{HERE}/{yarn}/swatches/new")).filled(typed);
    Ok(form_page((&title, HERE), prefs, form, refused, |_| ()))
}
