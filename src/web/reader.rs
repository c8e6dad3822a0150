//! Who is looking, in which units.

use axum::http::HeaderMap;
use headers::HeaderMapExt as _;

use super::carried::Carried;
use crate::quantity::Units;

/// A cookie: on https under a name that browsers let only this very host set, over https (RFC 6265bis, 4.1.3.2); on plain
/// http under another, so that neither passes for the other.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Cookie {
    plain: &'static str,
    sealed: &'static str,
}

/// The session's token.
pub(crate) const SESSION: Cookie = Cookie::named("tackbook", "__Host-tackbook");
/// The reader's units.
pub(crate) const UNITS: Cookie = Cookie::named("tackbook-units", "__Host-tackbook-units");

impl Cookie {
    /// By its two names.
    pub(crate) const fn named(plain: &'static str, sealed: &'static str) -> Self {
        Self { plain, sealed }
    }

    const fn name(self, carried: Carried) -> &'static str {
        match carried {
            Carried::Http => self.plain,
            Carried::Https => self.sealed,
        }
    }
}

/// A cookie's value among a request's headers.
pub(crate) fn cookie(headers: &HeaderMap, carried: Carried, cookie: Cookie) -> Option<String> {
    headers.typed_get::<headers::Cookie>()?.get(cookie.name(carried)).map(str::to_owned)
}

/// The units this reader chose, if any.
pub(crate) fn units(headers: &HeaderMap, carried: Carried) -> Option<Units> {
    named(&cookie(headers, carried, UNITS)?)
}

/// The units of a name in a cookie or a form.
pub(crate) fn named(name: &str) -> Option<Units> {
    match name {
        "metric" => Some(Units::Metric),
        "inch" => Some(Units::Inch),
        _ => None,
    }
}

/// The line that sets a cookie for `seconds`; scripts cannot read it, other sites cannot send it along.
pub(crate) fn set_cookie(cookie: Cookie, carried: Carried, value: &str, seconds: u32) -> String {
    let name = cookie.name(carried);
    let secure = if carried == Carried::Https { "; Secure" } else { "" };
    format!("{name}={value}; Path=/; Max-Age={seconds}; HttpOnly; SameSite=Lax{secure}")
}
