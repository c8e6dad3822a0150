//! What a browser says that it has already, and the part of a file that it asks for (RFC 9110, 13 and 14).

use axum::http::{HeaderMap, HeaderName, header};

/// Whether a browser has what this tag names: one of the tags it knows is the same, weak or not, or it knows any (`*`)
/// (RFC 9110, 13.1.2 and 8.8.3.2).
pub(crate) fn known(asked: &HeaderMap, tag: &str) -> bool {
    let lines = asked.get_all(header::IF_NONE_MATCH).iter().filter_map(|line| line.to_str().ok());
    lines.into_iter().any(|line| line.trim() == "*" || tags(line).any(|one| one == opaque(tag)))
}

/// A tag without its mark of weakness.
fn opaque(tag: &str) -> &str {
    tag.strip_prefix("W/").unwrap_or(tag)
}

/// The tags of a list, without their marks of weakness, in their quotation marks. A comma may stand inside a tag.
fn tags(list: &str) -> impl Iterator<Item = &str> {
    let mut rest = list;
    std::iter::from_fn(move || {
        rest = opaque(rest.trim_start_matches([' ', '\t', ',']));
        let end = rest.strip_prefix('"')?.find('"')?;
        let (tag, after) = rest.split_at_checked(end + 2)?;
        rest = after;
        Some(tag)
    })
}

/// What of a file is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Wanted {
    /// All of it.
    Whole,
    /// So many bytes from one on.
    Part {
        /// The first.
        from: u64,
        /// How many; never none.
        length: u64,
    },
    /// Only what lies behind its end.
    Nothing,
}

/// What is asked for of a file so long under this tag. Several parts at once, other units and what does not read are
/// answered with the whole, as is a part of another file than this (`If-Range`; RFC 9110, 14.2 and 13.1.5).
pub(crate) fn wanted(asked: &HeaderMap, tag: &str, length: u64) -> Wanted {
    let text = |name: HeaderName| asked.get(name).and_then(|value| value.to_str().ok());
    // only a strong tag says that the bytes are the same; of a day we say nothing
    if text(header::IF_RANGE).is_some_and(|of| of.trim() != tag || of.starts_with("W/")) {
        return Wanted::Whole;
    }
    text(header::RANGE).and_then(|range| part(range, length)).unwrap_or(Wanted::Whole)
}

fn part(range: &str, length: u64) -> Option<Wanted> {
    let (unit, wanted) = range.split_once('=')?;
    if !unit.trim().eq_ignore_ascii_case("bytes") {
        return None;
    }
    let (first, last) = wanted.trim().split_once('-')?;
    let wanted = match (first, last) {
        // the last so many
        ("", last) => {
            let many = number(last)?.min(length);
            Wanted::Part { from: length - many, length: many }
        }
        (first, last) => {
            let first = number(first)?;
            let last = if last.is_empty() { u64::MAX } else { number(last)? };
            if last < first {
                return None;
            }
            let end = last.saturating_add(1).min(length);
            Wanted::Part { from: first, length: end.saturating_sub(first) }
        }
    };
    Some(if matches!(wanted, Wanted::Part { length: 0, .. }) { Wanted::Nothing } else { wanted })
}

/// A whole number: figures alone. More than fits is as good as without an end.
fn number(text: &str) -> Option<u64> {
    let figures = !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    figures.then(|| text.parse().unwrap_or(u64::MAX))
}

#[cfg(test)]
mod tests {
    use axum::http::{HeaderMap, HeaderName, header};

    use super::{Wanted, known, wanted};

    fn headers(pairs: &[(HeaderName, &str)]) -> HeaderMap {
        let mut headers = HeaderMap::new();
        for (name, value) in pairs {
            headers.append(name.clone(), value.parse().unwrap());
        }
        headers
    }

    #[test]
    fn a_tag_is_known_in_any_list_and_weakly() {
        // the tags of RFC 9110, 13.1.2, and what a proxy makes of one
        for (list, expected) in [
            ("\"xyzzy\"", true),
            ("W/\"xyzzy\"", true),
            ("\"xyzzy\", \"r2d2xxxx\", \"c3piozzzz\"", true),
            ("W/\"r2d2xxxx\", W/\"xyzzy\"", true),
            ("\"a, b\",\"xyzzy\"", true),
            (" * ", true),
            ("\"r2d2xxxx\"", false),
            ("xyzzy", false),
            ("\"xyzzy", false),
            ("\"a,\"xyzzy\"", false),
            ("", false),
        ] {
            for tag in ["\"xyzzy\"", "W/\"xyzzy\""] {
                assert_eq!(known(&headers(&[(header::IF_NONE_MATCH, list)]), tag), expected, "{list} of {tag}");
            }
        }
        let lines = headers(&[(header::IF_NONE_MATCH, "\"a\""), (header::IF_NONE_MATCH, "\"xyzzy\"")]);
        assert!(known(&lines, "\"xyzzy\""));
        assert!(!known(&HeaderMap::new(), "\"xyzzy\""));
    }

    #[test]
    fn a_part_is_read_as_the_standard_has_it() {
        let part = |from, length| Wanted::Part { from, length };
        // RFC 9110, 14.1.2: of 10,000 bytes
        for (range, expected) in [
            ("bytes=0-499", part(0, 500)),
            ("bytes=500-999", part(500, 500)),
            ("bytes=-500", part(9_500, 500)),
            ("bytes=9500-", part(9_500, 500)),
            ("bytes=0-0", part(0, 1)),
            ("bytes=-1", part(9_999, 1)),
            ("Bytes=9999-20000", part(9_999, 1)),
            ("bytes=-20000", part(0, 10_000)),
            ("bytes=0-99999999999999999999999", part(0, 10_000)),
            ("bytes=10000-", Wanted::Nothing),
            ("bytes=99999999999999999999999-", Wanted::Nothing),
            ("bytes=-0", Wanted::Nothing),
            ("bytes=0-0,-1", Wanted::Whole),
            ("bytes=5-4", Wanted::Whole),
            ("bytes=", Wanted::Whole),
            ("bytes=-", Wanted::Whole),
            ("bytes=a-b", Wanted::Whole),
            ("bytes=+1-2", Wanted::Whole),
            ("lines=0-4", Wanted::Whole),
        ] {
            assert_eq!(wanted(&headers(&[(header::RANGE, range)]), "\"t\"", 10_000), expected, "{range}");
        }
        assert_eq!(wanted(&headers(&[(header::RANGE, "bytes=0-")]), "\"t\"", 0), Wanted::Nothing, "an empty file");
    }

    #[test]
    fn a_part_of_another_file_is_answered_with_the_whole() {
        for (of, expected) in [
            ("\"t\"", Wanted::Part { from: 2, length: 3 }),
            ("\"u\"", Wanted::Whole),
            ("W/\"t\"", Wanted::Whole),
            ("Sat, 29 Oct 1994 19:43:31 GMT", Wanted::Whole),
        ] {
            let asked = headers(&[(header::RANGE, "bytes=2-4"), (header::IF_RANGE, of)]);
            assert_eq!(wanted(&asked, "\"t\"", 10), expected, "{of}");
        }
    }
}
