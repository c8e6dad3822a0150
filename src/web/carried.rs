//! How a request came: sealed by TLS, or plain; and from where.

use std::convert::Infallible;
use std::net::{IpAddr, Ipv4Addr, SocketAddr};

use axum::extract::{ConnectInfo, FromRequestParts};
use axum::http::Extensions;
use axum::http::request::Parts;

/// How a request came.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Carried {
    /// By plain http.
    Http,
    /// By https.
    Https,
}

impl Carried {
    /// As the connection says; plain where nothing is said.
    pub(crate) fn of(said: &Extensions) -> Self {
        said.get::<ConnectInfo<Self>>().map_or(Self::Http, |info| info.0)
    }
}

impl<S: Send + Sync> FromRequestParts<S> for Carried {
    type Rejection = Infallible;

    async fn from_request_parts(parts: &mut Parts, _state: &S) -> Result<Self, Infallible> {
        Ok(Self::of(&parts.extensions))
    }
}

/// The address a request came from; all that did not say are one.
#[derive(Debug, Clone, Copy)]
pub(crate) struct CameFrom(pub(crate) IpAddr);

impl<S: Send + Sync> FromRequestParts<S> for CameFrom {
    type Rejection = Infallible;

    async fn from_request_parts(parts: &mut Parts, _state: &S) -> Result<Self, Infallible> {
        let said = parts.extensions.get::<ConnectInfo<SocketAddr>>();
        Ok(Self(said.map_or(Ipv4Addr::UNSPECIFIED.into(), |info| info.0.ip())))
    }
}
