//! The headers of resumable uploads (IETF draft-ietf-httpbis-resumable-upload) and of digests (RFC 9530), read and said.

use axum::http::{HeaderMap, HeaderName, HeaderValue, StatusCode, header};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;

use super::refusal::{OFFSET, Refusal};
use crate::domain::words::limits;

/// Most bytes of one request.
pub(super) const MOST_AT_ONCE: u64 = 4 << 20;
/// How long a part is kept for its rest, in seconds.
const MOST_AGE: i64 = limits::PART_DAYS * 24 * 3_600;
/// The kind of a part's body (draft, 6).
const PARTIAL: &str = "application/partial-upload";

const LENGTH: HeaderName = HeaderName::from_static("upload-length");
const COMPLETE: HeaderName = HeaderName::from_static("upload-complete");
const LIMIT: HeaderName = HeaderName::from_static("upload-limit");
const CONTENT_DIGEST: HeaderName = HeaderName::from_static("content-digest");
const REPR_DIGEST: HeaderName = HeaderName::from_static("repr-digest");

/// What a phone says of the bytes it sends.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Part {
    /// Where they begin.
    pub(super) offset: u64,
    /// Whether they are the last.
    pub(super) last: bool,
    /// The whole photograph's bytes, where it says so.
    pub(super) length: Option<u64>,
    /// SHA-256 of them, as a dictionary's member (RFC 9530, 2).
    pub(super) digest: Option<String>,
}

impl Part {
    /// Reads what is said of a part.
    pub(super) fn of(headers: &HeaderMap) -> Result<Self, Refusal> {
        let kind = headers.get(header::CONTENT_TYPE).map_or(&[][..], HeaderValue::as_bytes);
        if kind != PARTIAL.as_bytes() {
            let why = format!("A part of a photo comes as {PARTIAL}.");
            return Err(Refusal::new(StatusCode::UNSUPPORTED_MEDIA_TYPE, why));
        }
        let wrong =
            |name: &HeaderName| Refusal::new(StatusCode::BAD_REQUEST, format!("{name} is missing or unreadable."));
        let offset = number(headers, &OFFSET).ok_or_else(|| wrong(&OFFSET))?;
        let length = number(headers, &LENGTH);
        if length.is_none() && headers.contains_key(&LENGTH) {
            return Err(wrong(&LENGTH));
        }
        let last = match headers.get(&COMPLETE).map(HeaderValue::as_bytes) {
            Some(b"?1") => true,
            Some(b"?0") => false,
            _ => return Err(wrong(&COMPLETE)),
        };
        if number(headers, &header::CONTENT_LENGTH).is_some_and(|bytes| bytes > MOST_AT_ONCE) {
            return Err(too_much());
        }
        let digest = headers.get(&CONTENT_DIGEST).and_then(|digest| digest.to_str().ok()).map(str::to_owned);
        Ok(Self { offset, last, length, digest })
    }

    /// Whether these bytes are the ones the digest names; digests of other kinds say nothing.
    pub(super) fn is_digest_of(&self, sha256: &str) -> bool {
        let named =
            self.digest.as_ref().and_then(|all| all.split(',').find_map(|one| one.trim().strip_prefix("sha-256=")));
        named.is_none_or(|named| Some(named) == binary(sha256).as_deref())
    }
}

/// More than one request may carry.
pub(super) fn too_much() -> Refusal {
    let why = format!("At most {MOST_AT_ONCE} bytes at once.");
    Refusal::new(StatusCode::PAYLOAD_TOO_LARGE, why)
}

/// A header's number; none when it is not there or does not read.
fn number(headers: &HeaderMap, name: &HeaderName) -> Option<u64> {
    let value = headers.get(name)?;
    // no sign, no blank, at most 15 figures (RFC 9651, 3.3.1)
    let text = value.to_str().ok().filter(|text| text.len() <= 15 && text.bytes().all(|byte| byte.is_ascii_digit()));
    text?.parse().ok()
}

/// The headers that say where an upload stands.
pub(super) fn standing(offset: u64, size: u64, kept: bool) -> HeaderMap {
    let limit = format!("max-size={}, max-append-size={MOST_AT_ONCE}, max-age={MOST_AGE}", limits::PHOTO_BYTES);
    let mut headers = HeaderMap::new();
    headers.insert(OFFSET, HeaderValue::from(offset));
    headers.insert(LENGTH, HeaderValue::from(size));
    headers.insert(COMPLETE, HeaderValue::from_static(if kept { "?1" } else { "?0" }));
    if let Ok(limit) = HeaderValue::from_str(&limit) {
        headers.insert(LIMIT, limit);
    }
    headers.insert(header::CACHE_CONTROL, HeaderValue::from_static("no-store"));
    headers
}

/// Adds the digest of the whole (RFC 9530, 3): with it, the answer is the receipt.
pub(super) fn say_digest(headers: &mut HeaderMap, sha256: &str) {
    let digest = binary(sha256).and_then(|binary| HeaderValue::from_str(&format!("sha-256={binary}")).ok());
    if let Some(digest) = digest {
        headers.insert(REPR_DIGEST, digest);
    }
}

/// Hexadecimal as a binary item of a header (RFC 9651, 3.3.5): base64 (RFC 4648, 4) between colons.
fn binary(hex: &str) -> Option<String> {
    let byte = |at| hex.get(at..at + 2).and_then(|two| u8::from_str_radix(two, 16).ok());
    let bytes: Vec<u8> = (0..hex.len()).step_by(2).map(byte).collect::<Option<_>>()?;
    Some(format!(":{}:", STANDARD.encode(bytes)))
}

#[cfg(test)]
mod tests {
    use axum::http::HeaderMap;

    use super::{Part, binary};
    use crate::domain::words::fingerprint::Fingerprint;

    fn part(pairs: &[(&'static str, &'static str)]) -> Result<Part, super::Refusal> {
        let mut headers = HeaderMap::new();
        for (name, value) in pairs {
            headers.insert(*name, value.parse().unwrap());
        }
        Part::of(&headers)
    }

    #[test]
    fn digests_are_written_as_the_standards_print_them() {
        // RFC 4648, 10
        for (hex, letters) in
            [("", "::"), ("66", ":Zg==:"), ("666f", ":Zm8=:"), ("666f6f", ":Zm9v:"), ("666f6f62", ":Zm9vYg==:")]
        {
            assert_eq!(binary(hex).as_deref(), Some(letters), "{hex}");
        }
        // RFC 9530, appendix B.1: {"hello": "world"} and a line end
        let sha256 = Fingerprint::of(b"{\"hello\": \"world\"}\n");
        assert_eq!(binary(sha256.text()).as_deref(), Some(":RK/0qy18MlBSVnWgjwz6lZEWjP/lF5HF9bvEF8FabDg=:"));
    }

    #[test]
    fn a_part_says_where_it_begins_and_whether_it_is_the_last() {
        let kind = ("content-type", "application/partial-upload");
        let read = part(&[kind, ("upload-offset", "12"), ("upload-complete", "?1"), ("upload-length", "20")]).unwrap();
        assert_eq!(read, Part { offset: 12, last: true, length: Some(20), digest: None });
        let none: &[(&str, &str)] = &[];
        for wrong in [none, &[kind], &[kind, ("upload-offset", "12")], &[kind, ("upload-complete", "?1")]] {
            assert!(part(wrong).is_err(), "{wrong:?}");
        }
        for offset in ["-1", "+1", " 1x", "1.0", "9999999999999999"] {
            assert!(part(&[kind, ("upload-offset", offset), ("upload-complete", "?0")]).is_err(), "{offset}");
        }
        assert!(part(&[kind, ("upload-offset", "0"), ("upload-complete", "yes")]).is_err());
        let large = ("content-length", "4194305");
        assert!(part(&[kind, ("upload-offset", "0"), ("upload-complete", "?0"), large]).is_err());
    }
}
