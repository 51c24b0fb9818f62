//! Tables out: all that is kept of one kind, as a file.

use super::{files::download, shop::Shop, trouble::Trouble};
use crate::app::{self, AppError};
use axum::{extract::State, response::Response};
use std::sync::Arc;

/// A table that is saved whole.
async fn saved(
    shop: &Arc<Shop>,
    name: &'static str,
    write: impl FnOnce(&app::Records, &mut Vec<u8>) -> Result<String, AppError> + Send + 'static,
) -> Result<Response, Trouble> {
    let bytes = shop
        .read(move |records| {
            let mut bytes = Vec::new();
            write(records, &mut bytes).map(|_| bytes)
        })
        .await??;
    Ok(download("text/csv; charset=utf-8", name, bytes))
}

pub(super) async fn yarns(State(shop): State<Arc<Shop>>) -> Result<Response, Trouble> {
    saved(&shop, "yarns.csv", |records, bytes| {
        app::export_yarns(records, "yarns.csv", bytes)
    })
    .await
}

pub(super) async fn stock(State(shop): State<Arc<Shop>>) -> Result<Response, Trouble> {
    saved(&shop, "stock.csv", |records, bytes| {
        app::export_stock(records, "stock.csv", bytes)
    })
    .await
}

pub(super) async fn swatches(State(shop): State<Arc<Shop>>) -> Result<Response, Trouble> {
    saved(&shop, "swatches.csv", |records, bytes| {
        app::export_swatches(records, "swatches.csv", bytes)
    })
    .await
}
