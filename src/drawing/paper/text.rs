//! How wide words are in the project's type, and where a line of them may end.

use unicode_linebreak::{BreakOpportunity, linebreaks};

use super::faces;
pub use super::faces::has;
use crate::drawing::Weight;
use crate::quantity::Length;

/// A size of type in points, 72 to the inch.
pub const fn points(points: f64) -> Length {
    Length::from_mm(points * 25.4 / 72.0)
}

/// The sizes that papers are set in: labels over figures, small type, running type, headings inside a page, large figures
/// and a sheet's heading, the build's name on a cover.
pub const LABEL: Length = points(7.4);
/// Small type: captions, clauses, remarks.
pub const SMALL: Length = points(8.4);
/// Running type.
pub const TYPE: Length = points(9.6);
/// A heading inside a page.
pub const SUBHEADING: Length = points(12.5);
/// A sheet's heading, a figure that matters.
pub const HEADING: Length = points(18.0);
/// The one thing a cover is of.
pub const LARGE: Length = points(24.0);

/// Height of a capital as a share of the type's size, for centring words on a line (its own tables: 700 of 1000).
pub const CAPITAL: f64 = 0.7;
/// From one line of a paragraph to the next, as a share of the type's size.
pub const LEADING: f64 = 1.3;

/// The width of one line of words.
pub fn width(words: &str, size: Length, weight: Weight) -> Length {
    size * faces::set(words, weight).iter().map(|glyph| glyph.advance).sum::<f64>()
}

/// Breaks words into lines no wider than `room`; a word wider than that is cut.
pub fn wrap(words: &str, size: Length, weight: Weight, room: Length) -> Vec<String> {
    let wide = |part: &str| width(part.trim_end(), size, weight) > room;
    let mut lines = Vec::new();
    let mut line = String::new();
    let mut from = 0;
    for (to, break_here) in linebreaks(words) {
        let piece = words.get(from..to).unwrap_or_default();
        from = to;
        // most pieces fit whole
        if break_here == BreakOpportunity::Allowed && !wide(&format!("{line}{piece}")) {
            line.push_str(piece);
            continue;
        }
        if !line.is_empty() && wide(&format!("{line}{piece}")) {
            lines.push(std::mem::take(&mut line).trim_end().to_owned());
        }
        for letter in piece.chars() {
            if !line.is_empty() && !letter.is_whitespace() && wide(&format!("{line}{letter}")) {
                lines.push(std::mem::take(&mut line).trim_end().to_owned());
            }
            line.push(letter);
        }
        if break_here == BreakOpportunity::Mandatory {
            lines.push(std::mem::take(&mut line).trim_end().to_owned());
        }
    }
    lines
}

/// Shortens words to one line no wider than `room`, ending in an ellipsis where something was left out.
pub fn shortened(words: &str, size: Length, weight: Weight, room: Length) -> String {
    if width(words, size, weight) <= room {
        return words.to_owned();
    }
    let mut kept = String::new();
    for letter in words.chars() {
        if width(&format!("{kept}{letter}…"), size, weight) > room {
            break;
        }
        kept.push(letter);
    }
    format!("{}…", kept.trim_end())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const SIZE: Length = Length::from_mm(3.5);

    #[test]
    fn widths_are_the_faces_own() {
        // hmtx of Barlow Semi Condensed (1000 units to the em): "m" 737, "i" 232 at 400; "m" 747 at 600.
        let near = |got: Length, units: f64| (got.mm() - units / 1000.0 * 3.5).abs() < 1e-9;
        assert!(near(width("m", SIZE, Weight::Regular), 737.0), "{:?}", width("m", SIZE, Weight::Regular));
        assert!(near(width("mi", SIZE, Weight::Regular), 737.0 + 232.0));
        assert!(near(width("m", SIZE, Weight::Bold), 747.0), "{:?}", width("m", SIZE, Weight::Bold));
    }

    #[test]
    fn the_signs_the_shop_writes_are_in_the_type() {
        for sign in "⌀°′″±×≤≥−→½⅛✓✗□▲●☐☑⚠∠⊥Łčő…".chars() {
            assert!(has(sign), "{sign}");
        }
        assert!(!has('漢'));
    }

    #[test]
    fn lines_end_between_words() {
        let lines = wrap("main hoop onto the floor plate", SIZE, Weight::Regular, Length::from_mm(25.0));
        assert_eq!(lines.join(" "), "main hoop onto the floor plate");
        assert!(lines.len() > 1, "{lines:?}");
        assert_eq!(wrap("one\ntwo", SIZE, Weight::Regular, Length::from_mm(90.0)), ["one", "two"]);
    }

    proptest! {
        #[test]
        fn no_line_is_wider_than_its_room_and_no_letter_is_lost(words in "[a-zA-Z0-9 .,-]{0,80}", room in 6.0..80.0_f64) {
            let lines = wrap(&words, SIZE, Weight::Regular, Length::from_mm(room));
            for line in &lines {
                prop_assert!(width(line, SIZE, Weight::Regular).mm() <= room + 1e-9, "{line}");
            }
            let letters = |text: &str| text.chars().filter(|letter| !letter.is_whitespace()).collect::<String>();
            prop_assert_eq!(letters(&lines.concat()), letters(&words));
            let short = shortened(&words, SIZE, Weight::Regular, Length::from_mm(room));
            prop_assert!(width(&short, SIZE, Weight::Regular).mm() <= room + 1e-9);
        }
    }
}
