//! The faces that papers are set in: Barlow Semi Condensed, and behind it one that has the signs it lacks. Figures are its
//! lining figures of one width, a fraction is one group of its small figures round its bar.

use std::sync::LazyLock;

use ttf_parser::gsub::{SingleSubstitution, SubstitutionSubtable};
use ttf_parser::{Face, GlyphId, Tag};

use crate::drawing::Weight;

/// A face as it is embedded in every document that uses it.
pub struct Typeface {
    /// Its name in a document's list of faces.
    pub name: &'static str,
    /// Its file, TrueType.
    pub bytes: &'static [u8],
}

macro_rules! face {
    ($name:literal, $file:literal) => {
        Typeface { name: $name, bytes: include_bytes!($file) }
    };
}

/// Faces of one weight.
const EACH: usize = 3;

/// All faces, the regular ones before the bold ones: of each weight the Latin letters (400 and 600 in weight), those that
/// people's names bring, and the signs that neither has.
pub const FACES: [Typeface; 2 * EACH] = [
    face!("BarlowSemiCondensed-Regular", "type/barlow-semi-condensed-latin-400.ttf"),
    face!("BarlowSemiCondensed-Regular-Ext", "type/barlow-semi-condensed-latin-ext-400.ttf"),
    face!("DejaVuSansCondensed", "../../../static/fonts/DejaVuSansCondensed.ttf"),
    face!("BarlowSemiCondensed-SemiBold", "type/barlow-semi-condensed-latin-600.ttf"),
    face!("BarlowSemiCondensed-SemiBold-Ext", "type/barlow-semi-condensed-latin-ext-600.ttf"),
    face!("DejaVuSansCondensed-Bold", "../../../static/fonts/DejaVuSansCondensed-Bold.ttf"),
];

/// What stands for a letter that no face has, so that it can be seen and asked about.
const UNKNOWN: char = '\u{fffd}';
/// What the room before a fraction is of a space: "2 3/8" reads as one figure.
const BEFORE_FRACTION: f64 = 0.6;

/// One sign of a set line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Glyph {
    /// The face it is of, by its place among all.
    pub face: usize,
    /// Its place in that face.
    pub id: u16,
    /// How far it goes by its face, in its size.
    pub own: f64,
    /// How far it goes here, in its size.
    pub advance: f64,
    /// The letter that is read for it.
    pub letter: char,
}

/// How a letter is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Style {
    Plain,
    Over,
    Bar,
    Under,
    /// A space before a fraction.
    Close,
}

struct Cut {
    face: Face<'static>,
    /// Figures of one width, over a bar and under it; none in a face without.
    figures: Option<[[GlyphId; 10]; 3]>,
}

impl Cut {
    fn of(face: &Typeface) -> Option<Self> {
        let face = Face::parse(face.bytes, 0).ok()?;
        let figures = figures(&face);
        Some(Self { face, figures })
    }

    fn glyph(&self, letter: char, style: Style) -> Option<GlyphId> {
        let row = match style {
            Style::Plain => 0,
            Style::Over => 1,
            Style::Under => 2,
            Style::Bar => return self.face.glyph_index('\u{2044}'),
            Style::Close => return self.face.glyph_index(letter),
        };
        let own = self.figures.as_ref().and_then(|rows| {
            let digit = usize::try_from(letter.to_digit(10)?).ok()?;
            rows.get(row)?.get(digit).copied()
        });
        own.or_else(|| self.face.glyph_index(letter))
    }
}

static CUTS: LazyLock<Vec<Option<Cut>>> = LazyLock::new(|| FACES.iter().map(Cut::of).collect());

/// The figures a face has of one width, for over a bar and for under one, by its own tables (OpenType `tnum`, `numr`, `dnom`).
fn figures(face: &Face<'_>) -> Option<[[GlyphId; 10]; 3]> {
    let plain = ('0'..='9').map(|digit| face.glyph_index(digit)).collect::<Option<Vec<GlyphId>>>()?;
    let of = |feature: &[u8; 4]| -> Option<[GlyphId; 10]> {
        let changed = plain.iter().map(|glyph| instead(face, *feature, *glyph));
        changed.collect::<Option<Vec<GlyphId>>>()?.try_into().ok()
    };
    Some([of(b"tnum")?, of(b"numr")?, of(b"dnom")?])
}

/// What a feature puts in a glyph's place.
fn instead(face: &Face<'_>, feature: [u8; 4], glyph: GlyphId) -> Option<GlyphId> {
    let table = face.tables().gsub?;
    let feature = table.features.find(Tag::from_bytes(&feature))?;
    feature.lookup_indices.into_iter().find_map(|lookup| {
        let lookup = table.lookups.get(lookup)?;
        lookup.subtables.into_iter::<SubstitutionSubtable<'_>>().find_map(|subtable| {
            let SubstitutionSubtable::Single(single) = subtable else { return None };
            match single {
                SingleSubstitution::Format1 { coverage, delta } => {
                    coverage.get(glyph)?;
                    Some(GlyphId(glyph.0.wrapping_add_signed(delta)))
                }
                SingleSubstitution::Format2 { coverage, substitutes } => substitutes.get(coverage.get(glyph)?),
            }
        })
    })
}

fn of_weight(weight: Weight) -> std::ops::Range<usize> {
    match weight {
        Weight::Regular => 0..EACH,
        Weight::Bold => EACH..2 * EACH,
    }
}

/// Whether a face of the type has this letter or sign.
pub fn has(letter: char) -> bool {
    found(letter, Style::Plain, Weight::Regular).is_some()
}

/// The plain signs of the first letters, which make up most words, found once.
static FIRST: LazyLock<[Vec<Option<Glyph>>; 2]> = LazyLock::new(|| {
    [Weight::Regular, Weight::Bold]
        .map(|weight| (0..128_u8).map(|letter| look_for(char::from(letter), Style::Plain, weight)).collect())
});

fn found(letter: char, style: Style, weight: Weight) -> Option<Glyph> {
    if style == Style::Plain && letter.is_ascii() {
        let [regular, bold] = &*FIRST;
        let of = if weight == Weight::Bold { bold } else { regular };
        return usize::try_from(u32::from(letter)).ok().and_then(|at| of.get(at).copied().flatten());
    }
    look_for(letter, style, weight)
}

fn look_for(letter: char, style: Style, weight: Weight) -> Option<Glyph> {
    of_weight(weight).find_map(|at| {
        let cut = CUTS.get(at)?.as_ref()?;
        let glyph = cut.glyph(letter, style)?;
        let own = f64::from(cut.face.glyph_hor_advance(glyph)?) / f64::from(cut.face.units_per_em());
        let advance = if style == Style::Close { own * BEFORE_FRACTION } else { own };
        Some(Glyph { face: at, id: glyph.0, own, advance, letter })
    })
}

/// The signs of one line of words. A letter that no face has gives a sign that says so.
pub fn set(words: &str, weight: Weight) -> Vec<Glyph> {
    let letters: Vec<char> = words.chars().collect();
    let mut styles = vec![Style::Plain; letters.len()];
    if letters.contains(&'/') {
        for (at, letter) in letters.iter().enumerate() {
            if *letter == '/' {
                write_fraction(&letters, at, &mut styles);
            }
        }
    }
    let glyph =
        |letter: char, style: Style| found(letter, style, weight).or_else(|| found(UNKNOWN, Style::Plain, weight));
    letters.into_iter().zip(styles).filter_map(|(letter, style)| glyph(letter, style)).collect()
}

/// Writes the figures round this bar small where they are a fraction of an inch: halves to sixty-fourths, standing alone.
fn write_fraction(letters: &[char], bar: usize, styles: &mut [Style]) {
    let digits = |range: &[char]| range.iter().take_while(|letter| letter.is_ascii_digit()).count();
    let before: Vec<char> = letters.iter().take(bar).rev().copied().collect();
    let (over, under) = (digits(&before), digits(letters.get(bar + 1..).unwrap_or_default()));
    let number = |from: usize, count: usize| {
        letters.iter().skip(from).take(count).collect::<String>().parse::<u32>().unwrap_or(u32::MAX)
    };
    let first = bar - over;
    let stands_alone =
        |letter: Option<&char>| !letter.is_some_and(|letter| letter.is_alphanumeric() || "./,".contains(*letter));
    let after = letters.get(bar + 1 + under);
    let ends = after.is_none_or(|letter| !letter.is_alphanumeric() && *letter != '/');
    let (top, bottom) = (number(first, over), number(bar + 1, under));
    let is_one = matches!(bottom, 2 | 4 | 8 | 16 | 32 | 64) && (1..bottom).contains(&top);
    if !is_one || over > 2 || under > 2 || !ends || !stands_alone(before.get(over)) {
        return;
    }
    let mut write = |from: usize, count: usize, style: Style| {
        styles.iter_mut().skip(from).take(count).for_each(|one| *one = style);
    };
    write(first, over, Style::Over);
    write(bar, 1, Style::Bar);
    write(bar + 1, under, Style::Under);
    if before.get(over) == Some(&' ') && before.get(over + 1).is_some_and(char::is_ascii_digit) {
        write(first - 1, 1, Style::Close);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn widths(words: &str) -> Vec<f64> {
        set(words, Weight::Regular).iter().map(|glyph| glyph.advance).collect()
    }

    #[test]
    fn figures_are_of_one_width() {
        let all = widths("0123456789");
        assert!(all.iter().all(|one| (one - all[0]).abs() < 1e-9), "{all:?}");
        // in the regular face a plain "1" is 303 of 1000 wide (its hmtx), a figure of the tabular set is not
        assert!((all[1] - 0.303).abs() > 0.05);
    }

    #[test]
    fn a_fraction_is_written_small_and_read_as_it_was_typed() {
        let plain = set("3 8", Weight::Regular);
        for (words, fraction) in [("12 3/8 in", 3..6), ("1/64 in", 0..4), ("2 × 11/16", 4..9), ("-7/8 in", 1..4)] {
            let line = set(words, Weight::Regular);
            assert_eq!(line.iter().map(|glyph| glyph.letter).collect::<String>(), words);
            let small = &line[fraction];
            assert!(
                small.iter().all(|glyph| glyph.face == 0 && glyph.advance < plain[0].advance),
                "{words}: {small:?}"
            );
        }
        for words in ["3/7", "9/8", "2026/11/12", "1/2/4", "A1/2", "1/2b", "1.1/2", "1/128", "/2", "1/"] {
            let line = set(words, Weight::Regular);
            let slash = line.iter().find(|glyph| glyph.letter == '/').unwrap();
            assert_eq!(*slash, set("/", Weight::Regular)[0], "{words}");
        }
    }

    #[test]
    fn what_the_type_lacks_comes_from_another_or_is_marked() {
        let faces = |words: &str| set(words, Weight::Bold).iter().map(|glyph| glyph.face).collect::<Vec<_>>();
        assert_eq!(faces("aö–"), [3, 3, 3]);
        assert_eq!(faces("čő"), [4, 4]);
        assert_eq!(faces("≤→"), [5, 5]);
        let unknown = set("漢", Weight::Bold);
        assert_eq!((unknown[0].letter, unknown[0].face), (UNKNOWN, 5));
    }
}
