//! Cuts typed text into numbers, fraction signs, marks and words.

use std::iter::Peekable;
use std::str::Chars;

use super::fraction::Fraction;

/// The most digits before the point, and after it, that anything in a shop needs.
const MOST_DIGITS: usize = 9;

/// One thing typed.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Token {
    /// A number; `whole` when it has no point.
    Number { value: Fraction, whole: bool, digits: usize },
    /// A character that is a fraction by itself: `½`.
    Vulgar(Fraction),
    /// `/` between the figures of a fraction.
    Slash,
    /// `-`, a sign in front or a joint between a whole number and its fraction.
    Hyphen,
    /// `+` before what is over a mark of the tape.
    Plus,
    /// `:` between hours and minutes.
    Colon,
    /// A word or a mark in small letters: `mm`, `"`, `°`, `in2`.
    Word(String),
}

/// One thing typed, and whether a space stands before it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Piece {
    pub(super) token: Token,
    pub(super) gap: bool,
}

impl std::fmt::Display for Piece {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match &self.token {
            Token::Number { value, .. } | Token::Vulgar(value) => write!(f, "{}", value.to_f64()),
            Token::Slash => f.write_str("/"),
            Token::Hyphen => f.write_str("-"),
            Token::Plus => f.write_str("+"),
            Token::Colon => f.write_str(":"),
            Token::Word(word) => f.write_str(word),
        }
    }
}

/// All things typed in a text, or a sentence saying which character stands in the way.
pub(super) fn pieces(text: &str) -> Result<Vec<Piece>, String> {
    let mut letters = text.chars().peekable();
    let mut found = Vec::new();
    let mut gap = false;
    while let Some(&letter) = letters.peek() {
        if letter.is_whitespace() {
            letters.next();
            gap = true;
            continue;
        }
        found.push(Piece { token: token(letter, &mut letters)?, gap });
        gap = false;
    }
    Ok(found)
}

fn token(letter: char, letters: &mut Peekable<Chars<'_>>) -> Result<Token, String> {
    if letter.is_ascii_digit() || matches!(letter, '.' | ',') {
        return number(&run(letters, |next| next.is_ascii_digit() || matches!(next, '.' | ',')));
    }
    if letter.is_alphabetic() {
        return Ok(Token::Word(word(letters)));
    }
    letters.next();
    if let Some(value) = vulgar(letter) {
        return Ok(Token::Vulgar(value));
    }
    if letter == '⅟' {
        let below = run(letters, |next| next.is_ascii_digit());
        let value = below.parse().ok().and_then(|below| Fraction::new(1, below));
        return value.map(Token::Vulgar).ok_or_else(|| "a lower figure is wanted after “⅟”".to_owned());
    }
    match letter {
        '/' | '⁄' | '∕' => Ok(Token::Slash),
        '-' | '−' | '‐' | '‑' | '–' => Ok(Token::Hyphen),
        '+' => Ok(Token::Plus),
        ':' => Ok(Token::Colon),
        '"' | '″' | '”' | '“' => Ok(Token::Word("\"".to_owned())),
        '\'' | '′' | '’' | '‘' => {
            let doubled = letters.next_if(|next| matches!(next, '\'' | '′' | '’' | '‘')).is_some();
            Ok(Token::Word(if doubled { "\"" } else { "'" }.to_owned()))
        }
        '°' | 'º' => Ok(Token::Word("°".to_owned())),
        other => Err(format!("“{other}” has no place in it")),
    }
}

fn run(letters: &mut Peekable<Chars<'_>>, belongs: impl Fn(char) -> bool) -> String {
    let mut taken = String::new();
    while let Some(letter) = letters.next_if(|next| belongs(*next)) {
        taken.push(letter);
    }
    taken
}

/// A word, its full stop left out, its square kept as `2`: `in.`, `in²`, `in^2`, `in2`.
fn word(letters: &mut Peekable<Chars<'_>>) -> String {
    let mut word = run(letters, char::is_alphabetic).to_lowercase();
    let mut ahead = letters.clone();
    let squared = match ahead.next() {
        Some('²') => true,
        Some('^') => ahead.next() == Some('2'),
        // the 2 of `in2` at the end is a square, the 2 of `5ft2in` or `5ft2 1/2` begins the inches
        Some('2') => ahead.clone().all(char::is_whitespace),
        _ => false,
    };
    if squared {
        word.push('2');
        *letters = ahead;
    }
    let mut ahead = letters.clone();
    if ahead.next() == Some('.') && ahead.next().is_none_or(char::is_whitespace) {
        letters.next();
    }
    word
}

fn number(typed: &str) -> Result<Token, String> {
    let marks = typed.chars().filter(|letter| matches!(letter, '.' | ',')).count();
    if marks > 1 {
        return Err(format!("“{typed}” has more than one point or comma; leave out marks between thousands"));
    }
    let Some((whole, decimals)) = typed.split_once(['.', ',']) else {
        return counted(typed, "");
    };
    if decimals.is_empty() {
        return Err(format!("a digit is missing after “{typed}”"));
    }
    let may_be_thousands =
        typed.contains(',') && decimals.len() == 3 && (1..=3).contains(&whole.len()) && !whole.starts_with('0');
    if may_be_thousands {
        return Err(format!(
            "the comma may stand for a decimal point or between thousands; write {whole}.{decimals} or {whole}{decimals}"
        ));
    }
    counted(whole, decimals)
}

fn counted(whole: &str, decimals: &str) -> Result<Token, String> {
    let too_long = || format!("it has more than {MOST_DIGITS} digits before or after the point");
    if whole.len() > MOST_DIGITS || decimals.len() > MOST_DIGITS {
        return Err(too_long());
    }
    let below = decimals.chars().fold(1_i128, |below, _| below * 10);
    let above = whole.chars().chain(decimals.chars()).filter_map(|letter| letter.to_digit(10));
    let above = above.fold(0_i128, |above, digit| above * 10 + i128::from(digit));
    let value = Fraction::new(above, below).ok_or_else(too_long)?;
    Ok(Token::Number { value, whole: decimals.is_empty(), digits: whole.len() })
}

/// The fractions that Unicode holds as one character (Number Forms block and Latin-1 supplement).
fn vulgar(letter: char) -> Option<Fraction> {
    let (above, below) = match letter {
        '½' => (1, 2),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅐' => (1, 7),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        '⅑' => (1, 9),
        '⅒' => (1, 10),
        '↉' => (0, 3),
        _ => return None,
    };
    Fraction::new(above, below)
}
