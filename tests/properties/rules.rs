//! A rule book's reader never panics, whatever the text, and its mistakes point into the text.

use proptest::prelude::*;
use proptest::sample::Index;
use tackbook::domain::book::read;
use tackbook::domain::book::reading::shipped::SHIPPED;

use crate::long_books::long_books;

const DEMO: &str = include_str!("../../src/demo/book.toml");

/// Every book that comes with the program, the demo's among them.
fn books() -> Vec<&'static str> {
    std::iter::once(DEMO).chain(SHIPPED.iter().map(|shipped| shipped.toml)).collect()
}

/// Reads it; a refusal must tell at least one mistake, each at a place that exists.
fn read_and_look(toml: &str) -> Result<(), TestCaseError> {
    let Err(mistakes) = read(toml) else { return Ok(()) };
    prop_assert!(!mistakes.is_empty());
    let lines: Vec<&str> = toml.split('\n').collect();
    for mistake in &mistakes {
        let line = lines.get(mistake.line.saturating_sub(1));
        prop_assert!(line.is_some(), "line {} of {}", mistake.line, lines.len());
        let length = line.map_or(0, |line| line.chars().count());
        prop_assert!(mistake.column >= 1 && mistake.column <= length + 1, "{mistake:?}");
        let place = format!("book.toml:{}:{}: ", mistake.line, mistake.column);
        let shown = mistake.show(toml, "book.toml");
        prop_assert!(shown.starts_with(&place), "{}", shown);
    }
    Ok(())
}

/// A place in `text`, at the start of a character or at its end.
fn place(text: &str, at: Index) -> usize {
    let places: Vec<usize> = text.char_indices().map(|(at, _)| at).chain([text.len()]).collect();
    *at.get(&places)
}

/// A piece of text that could stand in a book where it should not.
fn piece() -> impl Strategy<Value = String> {
    prop_oneof![
        Just("[[".to_owned()),
        Just("]]\n".to_owned()),
        Just("\"\"\"".to_owned()),
        Just("= -1e999".to_owned()),
        Just("= nan\n".to_owned()),
        Just("= 0x7fffffffffffffff\n".to_owned()),
        Just("= [[[[[[{a={b={}}}]]]]]]\n".to_owned()),
        Just("= 1979-13-45T99:00:00Z\n".to_owned()),
        Just("é“²\u{0}\r\n\t".to_owned()),
        Just("[weight_class.tube.x]\n".to_owned()),
        "\\PC{0,20}",
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]

    #[test]
    fn any_text_is_read_or_refused(text in "(?s).{0,400}") {
        read_and_look(&text)?;
    }

    #[test]
    fn any_bytes_are_read_or_refused(bytes in prop::collection::vec(any::<u8>(), 0..600)) {
        read_and_look(&String::from_utf8_lossy(&bytes))?;
    }

    #[test]
    fn a_book_with_bytes_changed_is_read_or_refused(
        which in 0..2_usize,
        changes in prop::collection::vec((any::<Index>(), any::<u8>()), 1..30),
    ) {
        let mut bytes = books()[which].as_bytes().to_vec();
        let last = bytes.len();
        for (at, byte) in changes {
            bytes[at.index(last)] = byte;
        }
        read_and_look(&String::from_utf8_lossy(&bytes))?;
    }

    #[test]
    fn a_book_with_a_part_changed_is_read_or_refused(
        which in 0..2_usize,
        changes in prop::collection::vec((any::<Index>(), 0..60_usize, piece()), 1..4),
    ) {
        let mut toml = books()[which].to_owned();
        for (at, gone, piece) in changes {
            let from = place(&toml, at);
            let rest = toml.get(from..).unwrap_or("");
            let end = from + rest.char_indices().nth(gone).map_or(rest.len(), |(at, _)| at);
            toml.replace_range(from..end, &piece);
        }
        read_and_look(&toml)?;
    }

    #[test]
    fn a_book_with_a_value_changed_is_read_or_refused(
        line in 0..700_usize,
        value in prop_oneof![
            Just("-1".to_owned()), Just("1e300".to_owned()), Just("inf".to_owned()), Just("true".to_owned()),
            Just("[]".to_owned()), Just("{}".to_owned()), Just("\"\"".to_owned()), Just("99999999999".to_owned()),
            Just("2026-02-28".to_owned()), "\"[a-z ]{0,30}\"",
        ],
    ) {
        let toml: Vec<String> = DEMO
            .lines()
            .enumerate()
            .map(|(at, text)| match text.split_once(" = ") {
                Some((name, _)) if at == line => format!("{name} = {value}"),
                _ => text.to_owned(),
            })
            .collect();
        read_and_look(&toml.join("\n"))?;
    }
}

#[test]
fn what_is_long_or_deep_is_refused_at_a_line() {
    for (what, text) in long_books(DEMO) {
        assert!(read(&text).is_err(), "{what}");
        read_and_look(&text).unwrap_or_else(|why| panic!("{what}: {why}"));
    }
}
