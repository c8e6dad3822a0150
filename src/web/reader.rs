//! Who is looking, in which units.

use axum::http::HeaderMap;
use axum::http::header::COOKIE;

use crate::quantity::Units;

/// The cookie with the session's token.
pub(crate) const SESSION: &str = "tackbook";
/// The cookie with the reader's units.
pub(crate) const UNITS: &str = "tackbook-units";

/// A cookie's value among a request's headers.
pub(crate) fn cookie<'h>(headers: &'h HeaderMap, name: &str) -> Option<&'h str> {
    let lines = headers.get_all(COOKIE).iter().filter_map(|line| line.to_str().ok());
    lines.flat_map(|line| line.split("; ")).find_map(|pair| pair.strip_prefix(name)?.strip_prefix('='))
}

/// The units this reader chose; inches until they say otherwise.
pub(crate) fn units(headers: &HeaderMap) -> Units {
    if cookie(headers, UNITS) == Some("metric") { Units::Metric } else { Units::Inch }
}

/// The line that sets a cookie for `seconds`; scripts cannot read it, other sites cannot send it along.
pub(crate) fn set_cookie(name: &str, value: &str, seconds: u32) -> String {
    format!("{name}={value}; Path=/; Max-Age={seconds}; HttpOnly; SameSite=Lax")
}
