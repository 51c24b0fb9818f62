//! Pages of other sites change nothing here.

use tower_http::csrf::CsrfLayer;

/// Refuses what changes something and comes from a page of another site, which the
/// browser tells by `Sec-Fetch-Site` and `Origin`.
pub(super) fn check() -> CsrfLayer {
    CsrfLayer::new()
}
