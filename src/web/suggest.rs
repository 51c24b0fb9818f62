//! Names of yarns while one types.

use super::{sent::Sent, shop::Shop, trouble::Trouble};
use crate::app;
use axum::{
    extract::State,
    http::header,
    response::{IntoResponse, Response},
};
use std::sync::Arc;

/// How many names are offered.
const MOST: usize = 8;

pub(super) async fn names(State(shop): State<Arc<Shop>>, sent: Sent) -> Result<Response, Trouble> {
    let text = sent.text("text").to_owned();
    let names = shop
        .read(move |records| app::suggest_yarns(records, &text, MOST))
        .await??;
    let json = serde_json::to_string(&names)
        .map_err(|_| Trouble::failed("the names cannot be written; go on without"))?;
    Ok(([(header::CONTENT_TYPE, "application/json")], json).into_response())
}
