//! The figures that a text names: those with a unit, and those that are compared with something.

use crate::domain::book::terms::bound::Unit;
use crate::domain::words::label_dates::MONTHS;

use super::side::{Kind, Side};

/// A figure that a text names.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Said {
    /// Its number.
    pub(super) number: f64,
    /// Its kind, and how many base units of it; none where no unit is written.
    pub(super) base: Option<(Kind, f64)>,
    /// From which side it is said to bound.
    pub(super) side: Side,
    /// It as it is written, with what it is compared by.
    pub(super) text: String,
}

/// A word of the text: as it is written, in small letters without its punctuation, its number, whether a stop follows.
#[derive(Debug)]
struct Word<'t> {
    written: &'t str,
    plain: String,
    number: Option<f64>,
    /// Whether the number is written in digits.
    digits: bool,
    stop: bool,
}

const NUMBERS: [&str; 13] =
    ["", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
const PARTS: [(&str, f64); 8] = [
    ("half", 2.0),
    ("halves", 2.0),
    ("third", 3.0),
    ("thirds", 3.0),
    ("quarters", 4.0),
    ("fifths", 5.0),
    ("tenth", 10.0),
    ("tenths", 10.0),
];
/// Words between two numbers that share the second's unit.
const JOINING: [&str; 8] = ["×", "x", "by", "to", "or", "and", "–", "-"];
const MORE: [&str; 11] =
    ["more", "longer", "larger", "higher", "wider", "further", "farther", "thicker", "greater", "bigger", "heavier"];
const LESS: [&str; 9] = ["less", "shorter", "smaller", "lower", "thinner", "narrower", "nearer", "closer", "lighter"];
const NOT: [&str; 4] = ["no", "not", "none", "never"];
/// After “2 in” these say that “in” is no inch.
const AFTER_IN: [&str; 14] =
    ["each", "the", "all", "front", "one", "place", "double", "either", "its", "any", "a", "an", "both", "every"];
/// So far back a “no” still belongs to a comparison.
const BACK: usize = 6;

/// Every figure of a text that has a unit or is compared.
pub(super) fn figures(text: &str) -> Vec<Said> {
    let words = words(text);
    (0..words.len()).filter_map(|at| figure(&words, at)).collect()
}

fn words(text: &str) -> Vec<Word<'_>> {
    let mut words: Vec<Word<'_>> = Vec::new();
    for written in text.split_whitespace() {
        let bare = written.trim_start_matches(['(', '“', '‘', '"', '±', '+']);
        let plain = bare.trim_end_matches(['.', ',', ';', ':', ')', '”', '’', '"', '!', '?']);
        let stop = plain.len() < bare.len();
        match with_unit(plain) {
            Some((number, "")) => {
                words.push(Word { written, plain: plain.to_lowercase(), number: Some(number), digits: true, stop });
            }
            Some((number, unit)) => {
                let plain = unit.to_owned();
                words.push(Word { written, plain: String::new(), number: Some(number), digits: true, stop: false });
                words.push(Word { written: "", plain, number: None, digits: false, stop });
            }
            None => {
                let plain = plain.to_lowercase();
                let number = (1_u32..)
                    .zip(NUMBERS.iter().skip(1))
                    .find(|entry| *entry.1 == plain)
                    .map(|entry| f64::from(entry.0));
                words.push(Word { written, plain, number, digits: false, stop });
            }
        }
    }
    parts(words)
}

/// Joins “1 1/2” and “two thirds” to one number each.
fn parts(words: Vec<Word<'_>>) -> Vec<Word<'_>> {
    let mut joined: Vec<Word<'_>> = Vec::new();
    for word in words {
        let part = PARTS.iter().find(|part| part.0 == word.plain).map(|part| part.1);
        let before = joined.last_mut().filter(|before| !before.stop);
        match (before, word.number, part) {
            (Some(before), Some(more), _) if before.digits && word.digits && is_part(&word.plain) && more < 1.0 => {
                before.number = before.number.map(|number| number + more);
                before.stop = word.stop;
            }
            (Some(before), None, Some(part)) if before.number.is_some() && !before.digits => {
                before.number = before.number.map(|number| number / part);
                before.stop = word.stop;
            }
            _ if word.plain == "half" => joined.push(Word { number: Some(0.5), ..word }),
            _ => joined.push(word),
        }
    }
    joined
}

fn is_part(plain: &str) -> bool {
    plain.contains('/')
}

/// A number in digits with the unit that is written against it: `95cm²`, `0.30%`, `3/16`, `1,120`.
fn with_unit(plain: &str) -> Option<(f64, &str)> {
    let end = plain.find(|letter: char| !(letter.is_ascii_digit() || ".,/".contains(letter))).unwrap_or(plain.len());
    let (digits, unit) = plain.split_at_checked(end)?;
    if !digits.contains(|letter: char| letter.is_ascii_digit()) || !(unit.is_empty() || unit_of_word(unit).is_some()) {
        return None;
    }
    let whole = |text: &str| -> Option<f64> {
        let thousands =
            text.split(',').skip(1).all(|group| group.split('.').next().is_some_and(|group| group.len() == 3));
        if thousands { text.replace(',', "").parse().ok() } else { None }
    };
    let number = match digits.split_once('/') {
        Some((above, below)) => {
            let below = whole(below).filter(|below| *below > 0.0)?;
            whole(above)? / below
        }
        None => whole(digits)?,
    };
    Some((number, unit))
}

fn unit_of_word(word: &str) -> Option<Unit> {
    Some(match word {
        "mm" | "millimetre" | "millimetres" => Unit::Millimetre,
        "cm" | "centimetre" | "centimetres" => Unit::Centimetre,
        "m" | "metre" | "metres" => Unit::Metre,
        "in" | "inch" | "inches" => Unit::Inch,
        "ft" => Unit::Foot,
        "kg" | "kilogram" | "kilograms" => Unit::Kilogram,
        "lb" | "lbs" | "pound" | "pounds" => Unit::Pound,
        "degrees" | "degree" | "°" => Unit::Degree,
        "mm²" => Unit::SquareMillimetre,
        "cm²" => Unit::SquareCentimetre,
        "in²" => Unit::SquareInch,
        "n/mm²" | "N/mm²" => Unit::NewtonPerSquareMillimetre,
        "mpa" | "MPa" => Unit::Megapascal,
        "ksi" => Unit::KilopoundPerSquareInch,
        _ => return None,
    })
}

/// The word at a place, where no stop lies before it since `from`.
fn plain<'w>(words: &'w [Word<'_>], from: usize, at: usize) -> Option<&'w str> {
    let stopped = words.get(from..at)?.iter().any(|word| word.stop);
    words.get(at).filter(|_| !stopped).map(|word| word.plain.as_str())
}

/// The unit written after the number at a place: its kind, and what one of it is in base units.
fn unit_after(words: &[Word<'_>], at: usize) -> Option<(Kind, f64)> {
    let next = |by: usize| plain(words, at, at + by);
    let of = |unit: Unit| {
        let one = unit.amount(1.0);
        Some((Kind::Of(one.dimension()), one.in_base_unit()))
    };
    let first = next(1)?;
    match (first, next(2)) {
        ("%", _) | ("per", Some("cent")) => {
            return Some((Kind::Of(crate::domain::measure::amounts::Dimension::Percent), 1.0));
        }
        ("square", Some(unit)) => {
            return match unit_of_word(unit)? {
                Unit::Millimetre => of(Unit::SquareMillimetre),
                Unit::Centimetre => of(Unit::SquareCentimetre),
                Unit::Inch => of(Unit::SquareInch),
                _ => None,
            };
        }
        ("year" | "years", _) | ("calendar" | "full", Some("year" | "years")) => return Some((Kind::Years, 1.0)),
        ("diameter" | "diameters", _) => return Some((Kind::Diameters, 1.0)),
        _ => {}
    }
    if ["times", "of"].contains(&first) {
        let near = (2..=BACK).map_while(next);
        let near: Vec<&str> = near.take_while(|word| !JOINING.contains(word)).collect();
        return near.iter().any(|word| ["diameter", "diameters"].contains(word)).then_some((Kind::Diameters, 1.0));
    }
    let digits = words.get(at).is_some_and(|word| word.digits);
    let preposition = first == "in" && next(2).is_some_and(|word| AFTER_IN.contains(&word));
    if preposition || (!digits && ["in", "m", "ft"].contains(&first)) {
        return None;
    }
    of(unit_of_word(first)?)
}

/// The unit of the number at a place: its own, or that of the number it is joined to.
fn unit(words: &[Word<'_>], at: usize) -> Option<(Kind, f64)> {
    if let Some(unit) = unit_after(words, at) {
        return Some(unit);
    }
    let joined = plain(words, at, at + 1).is_some_and(|word| JOINING.contains(&word));
    let next = words.get(at + 2).is_some_and(|word| word.number.is_some());
    let stopped = words.get(at..at + 2)?.iter().any(|word| word.stop);
    if joined && next && !stopped { unit(words, at + 2) } else { None }
}

/// The side that the words before a number say, and how many of them say it.
fn side_before(words: &[Word<'_>], at: usize) -> (Side, usize) {
    let before = |by: usize| {
        let place = at.checked_sub(by)?;
        plain(words, place, at).and(words.get(place)).map(|word| word.plain.as_str())
    };
    let no = |from: usize| (from..from + BACK).map_while(before).any(|word| NOT.contains(&word));
    let firm = words.get(at).is_some_and(|word| word.digits) || unit_after(words, at).is_some();
    let (Some(last), second) = (before(1), before(2)) else { return (Side::Unsaid, 0) };
    let negated = |yes: Side, from: usize| match (yes, no(from)) {
        (Side::MoreThan, true) => Side::AtMost,
        (Side::LessThan, true) => Side::AtLeast,
        (side, _) => side,
    };
    match (second, last) {
        (Some("at"), "least") => (Side::AtLeast, 2),
        (Some("at"), "most") => (Side::AtMost, 2),
        (Some("up"), "to") if firm => (Side::AtMost, 2),
        (_, "within") if firm => (Side::AtMost, 1),
        (_, "over" | "above") if firm => (negated(Side::MoreThan, 2), 1),
        (_, "under" | "below") if firm => (negated(Side::LessThan, 2), 1),
        (Some(word), "than") => {
            let (word, by) = if word == "together" { (before(3).unwrap_or_default(), 3) } else { (word, 2) };
            if MORE.contains(&word) {
                (negated(Side::MoreThan, by + 1), by)
            } else if LESS.contains(&word) {
                (negated(Side::LessThan, by + 1), by)
            } else {
                (Side::Unsaid, 0)
            }
        }
        _ => (Side::Unsaid, 0),
    }
}

/// “or more”, “or less” within three words after a number.
fn side_after(words: &[Word<'_>], at: usize) -> Side {
    for by in 1..=4 {
        match (plain(words, at, at + by), plain(words, at, at + by + 1)) {
            (Some("or"), Some("more")) => return Side::AtLeast,
            (Some("or"), Some("less")) => return Side::AtMost,
            (Some(_), _) if words.get(at + by).is_none_or(|word| word.number.is_none()) => {}
            _ => break,
        }
    }
    Side::Unsaid
}

/// True when a number is the day or the year of a date.
fn dated(words: &[Word<'_>], at: usize) -> bool {
    let month = |place: Option<usize>| {
        place.and_then(|place| words.get(place)).is_some_and(|word| MONTHS.contains(&word.plain.as_str()))
    };
    month(Some(at + 1)) || month(at.checked_sub(1))
}

fn figure(words: &[Word<'_>], at: usize) -> Option<Said> {
    let word = words.get(at)?;
    let number = word.number.filter(|_| !dated(words, at))?;
    let unit = unit(words, at);
    let (mut side, mut back) = side_before(words, at);
    if side == Side::Unsaid {
        side = side_after(words, at);
    }
    let (ranged, from) = in_range(words, at);
    if side == Side::Unsaid && unit.is_some() {
        (side, back) = (ranged, from);
    }
    if unit.is_none() && side == Side::Unsaid {
        return None;
    }
    let shown = words.get(at - back..)?.iter().take(back + 1 + usize::from(unit.is_some()));
    let shown: Vec<&str> = shown.map(|word| word.written).filter(|written| !written.is_empty()).collect();
    let text = shown.join(" ");
    let text = text.trim_end_matches(['.', ',', ';', ':']).to_owned();
    Some(Said { number, base: unit.map(|(kind, one)| (kind, number * one)), side, text })
}

/// The side of a number in a range, “2 to 4”, “between 2 and 4”, and how many words before it belong to it.
fn in_range(words: &[Word<'_>], at: usize) -> (Side, usize) {
    let number =
        |place: Option<usize>| place.and_then(|place| words.get(place)).is_some_and(|word| word.number.is_some());
    let is = |place: Option<usize>, what: &str| {
        place.and_then(|place| words.get(place)).is_some_and(|word| word.plain == what && !word.stop)
    };
    let back = |by: usize| at.checked_sub(by);
    let between = |first: Option<usize>| is(first.and_then(|first| first.checked_sub(1)), "between");
    if number(Some(at + 2)) && (is(Some(at + 1), "to") || (is(Some(at + 1), "and") && between(Some(at)))) {
        return (Side::AtLeast, 0);
    }
    if number(back(2)) && (is(back(1), "to") || (is(back(1), "and") && between(back(2)))) {
        return (Side::AtMost, 2);
    }
    (Side::Unsaid, 0)
}
