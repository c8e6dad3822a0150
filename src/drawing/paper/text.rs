//! How wide words are in the project's type, and where a line of them may end.

use std::sync::LazyLock;

use ttf_parser::Face;
use unicode_linebreak::{BreakOpportunity, linebreaks};

use crate::drawing::Weight;
use crate::quantity::Length;

/// The regular face, as it is embedded in every document.
pub const REGULAR: &[u8] = include_bytes!("../../../static/fonts/DejaVuSansCondensed.ttf");
/// The bold face, as it is embedded in every document.
pub const BOLD: &[u8] = include_bytes!("../../../static/fonts/DejaVuSansCondensed-Bold.ttf");

/// Height of a capital as a share of the type's size, for centring words on a line.
pub const CAPITAL: f64 = 0.73;
/// From one line of a paragraph to the next, as a share of the type's size.
pub const LEADING: f64 = 1.3;

static REGULAR_FACE: LazyLock<Option<Face<'static>>> = LazyLock::new(|| Face::parse(REGULAR, 0).ok());
static BOLD_FACE: LazyLock<Option<Face<'static>>> = LazyLock::new(|| Face::parse(BOLD, 0).ok());

fn face(weight: Weight) -> Option<&'static Face<'static>> {
    match weight {
        Weight::Regular => REGULAR_FACE.as_ref(),
        Weight::Bold => BOLD_FACE.as_ref(),
    }
}

/// Whether the type has this letter or sign.
pub fn has(letter: char) -> bool {
    face(Weight::Regular).is_some_and(|face| face.glyph_index(letter).is_some())
}

/// The width of one line of words.
pub fn width(words: &str, size: Length, weight: Weight) -> Length {
    let Some(face) = face(weight) else {
        return size * 0.5;
    };
    let em = f64::from(face.units_per_em());
    let advance = |letter: char| {
        let glyph = face.glyph_index(letter).or_else(|| face.glyph_index('\u{fffd}'));
        glyph.and_then(|glyph| face.glyph_hor_advance(glyph)).map_or(0.5, |units| f64::from(units) / em)
    };
    size * words.chars().map(advance).sum::<f64>()
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
        // hmtx of DejaVu Sans Condensed 2.37 (2048 units to the em): "m" 1795, "i" 512; bold "m" 1920.
        let near = |got: Length, units: f64| (got.mm() - units / 2048.0 * 3.5).abs() < 1e-9;
        assert!(near(width("m", SIZE, Weight::Regular), 1795.0), "{:?}", width("m", SIZE, Weight::Regular));
        assert!(near(width("mi", SIZE, Weight::Regular), 1795.0 + 512.0));
        assert!(near(width("m", SIZE, Weight::Bold), 1920.0), "{:?}", width("m", SIZE, Weight::Bold));
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
