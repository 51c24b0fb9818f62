//! Who sent a request, and whether it came encrypted: from the connection, or from
//! what a proxy on this machine says where one was announced.

use super::state::AppState;
use axum::{
    extract::FromRequestParts,
    http::{HeaderMap, request::Parts},
};
use std::{
    convert::Infallible,
    net::{IpAddr, Ipv4Addr},
    sync::Arc,
};

/// The other end of a connection; each request of it carries this.
#[derive(Debug, Clone, Copy)]
pub(super) struct Peer(pub(super) IpAddr);

/// Who sent a request.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sender {
    pub(super) address: IpAddr,
    /// Whether nobody on the way can read it.
    pub(super) is_encrypted: bool,
}

impl FromRequestParts<Arc<AppState>> for Sender {
    type Rejection = Infallible;

    async fn from_request_parts(
        parts: &mut Parts,
        state: &Arc<AppState>,
    ) -> Result<Self, Infallible> {
        let peer = parts.extensions.get::<Peer>();
        let peer = peer.map_or(IpAddr::V4(Ipv4Addr::LOCALHOST), |peer| peer.0);
        // From anybody else these headers are a mere claim.
        let said = |name| {
            let is_proxy = state.is_behind_proxy && peer.to_canonical().is_loopback();
            is_proxy.then(|| last(&parts.headers, name)).flatten()
        };
        let address = said("x-forwarded-for").and_then(|text| text.parse().ok());
        Ok(Self {
            address: address.unwrap_or(peer),
            is_encrypted: said("x-forwarded-proto") == Some("https"),
        })
    }
}

/// The last value of a header that may be a list: the one that the nearest proxy added.
fn last<'h>(headers: &'h HeaderMap, name: &str) -> Option<&'h str> {
    let value = headers.get_all(name).iter().next_back()?.to_str().ok()?;
    value.rsplit(',').next().map(str::trim)
}
