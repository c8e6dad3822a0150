//! Puts typed pieces together as amounts, each with the unit written after it.

use super::fraction::Fraction;
use super::tokens::{Piece, Token, pieces};

/// The longest text that is looked at; no quantity needs as much.
pub(super) const LONGEST: usize = 60;
/// What the figures of `1:30` are called, since a colon stands for hours and minutes only.
pub(super) const COLON_HOURS: &str = ":h";
/// The second figure of `1:30`.
pub(super) const COLON_MINUTES: &str = ":min";

/// One amount as typed.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Part {
    /// How many.
    pub(super) amount: Fraction,
    /// Of what, in small letters; empty where none was typed.
    pub(super) unit: String,
    /// True when it was typed with a fraction.
    pub(super) fraction: bool,
}

/// All amounts of one text: `5' 3 1/2"` has two.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Reading {
    /// True when a minus stands in front.
    pub(super) below_zero: bool,
    /// The amounts in the order typed, at least one.
    pub(super) parts: Vec<Part>,
}

/// True for the names of a foot, after which a bare number is inches.
pub(super) fn is_foot(unit: &str) -> bool {
    matches!(unit, "'" | "ft" | "foot" | "feet")
}

/// Reads the amounts of a text, or says what stands in the way.
pub(super) fn amounts(text: &str) -> Result<Reading, String> {
    if text.chars().count() > LONGEST {
        return Err(format!("it is longer than {LONGEST} characters"));
    }
    let typed = pieces(text)?;
    let (below_zero, mut rest) = match typed.as_slice() {
        [] => return Err("nothing was typed".to_owned()),
        [Piece { token: Token::Hyphen, .. }, rest @ ..] => (true, rest),
        rest => (false, rest),
    };
    if let Some(parts) = clock(rest)? {
        return Ok(Reading { below_zero, parts });
    }
    let mut parts: Vec<Part> = Vec::new();
    loop {
        let (part, tail) = part(rest)?;
        rest = match tail {
            // 5'-3 1/2": after a foot mark the hyphen can only join
            [Piece { token: Token::Hyphen, .. }, after @ ..] if is_foot(&part.unit) && !after.is_empty() => after,
            tail => tail,
        };
        if let (true, Some(next)) = (part.unit.is_empty(), rest.first()) {
            return Err(match next.token {
                Token::Number { .. } | Token::Vulgar(_) => "two numbers stand side by side".to_owned(),
                Token::Hyphen => "a hyphen joins a whole number and its fraction only, as in 1-3/4".to_owned(),
                _ => format!("“{next}” cannot follow the number"),
            });
        }
        parts.push(part);
        if rest.is_empty() {
            return Ok(Reading { below_zero, parts });
        }
    }
}

/// Hours and minutes around a colon, the minutes in two digits.
fn clock(rest: &[Piece]) -> Result<Option<Vec<Part>>, String> {
    let [
        Piece { token: Token::Number { value: hours, whole: true, .. }, .. },
        Piece { token: Token::Colon, .. },
        tail @ ..,
    ] = rest
    else {
        return Ok(None);
    };
    let [Piece { token: Token::Number { value: minutes, whole: true, digits: 2 }, gap: false }] = tail else {
        return Err("after a colon two digits of minutes are wanted, and nothing more".to_owned());
    };
    Ok(Some(vec![
        Part { amount: *hours, unit: COLON_HOURS.to_owned(), fraction: false },
        Part { amount: *minutes, unit: COLON_MINUTES.to_owned(), fraction: false },
    ]))
}

/// The next amount and the words after it.
fn part(rest: &[Piece]) -> Result<(Part, &[Piece]), String> {
    let (mut amount, mut fraction, mut rest) = amount(rest)?;
    if let [Piece { token: Token::Plus, .. }, after @ ..] = rest {
        (amount, rest) = with_over(amount, after)?;
        fraction = true;
    }
    let mut words: Vec<&str> = Vec::new();
    while let [Piece { token: Token::Word(word), .. }, tail @ ..] = rest {
        words.push(word);
        rest = tail;
    }
    Ok((Part { amount, unit: words.join(" "), fraction }, rest))
}

/// A mark of the tape with what is over it: `124 1/2 + 1/64`.
fn with_over(mark: Fraction, after: &[Piece]) -> Result<(Fraction, &[Piece]), String> {
    match amount(after)? {
        (over, true, rest) => Ok((mark.plus(over).ok_or("it is larger than anything in a shop")?, rest)),
        _ => Err("after a plus a fraction is wanted, as in 3 1/2 + 1/64".to_owned()),
    }
}

/// The next amount, whether it is written with a fraction, and what follows it.
fn amount(rest: &[Piece]) -> Result<(Fraction, bool, &[Piece]), String> {
    let (whole, after) = match rest {
        [Piece { token: Token::Vulgar(value), .. }, tail @ ..] => return Ok((*value, true, tail)),
        [Piece { token: Token::Number { value, whole, .. }, .. }, tail @ ..] => ((*value, *whole), tail),
        [other, ..] => return Err(format!("“{other}” stands where a number is wanted")),
        [] => return Err("the number is missing".to_owned()),
    };
    if let Some((below, tail)) = slashed(after) {
        return Ok((over(whole, below)?, true, tail));
    }
    // the fraction of a mixed number comes after a space or a joining hyphen
    let fraction = match after {
        [Piece { token: Token::Hyphen, gap: false }, joined @ ..] if joined.first().is_some_and(|next| !next.gap) => {
            joined
        }
        after => after,
    };
    let (value, tail) = match fraction {
        [Piece { token: Token::Vulgar(value), .. }, tail @ ..] => (*value, tail),
        [Piece { token: Token::Number { value, whole: is_whole, .. }, .. }, more @ ..] => match slashed(more) {
            Some((below, tail)) => (over((*value, *is_whole), below)?, tail),
            None => return Ok((whole.0, false, after)),
        },
        _ => return Ok((whole.0, false, after)),
    };
    if !whole.1 {
        return Err("a fraction follows a number that already has a point".to_owned());
    }
    if !Fraction::whole(1).is_some_and(|one| value.is_less_than(one)) {
        return Err("after a whole number the upper figure of the fraction must be less than the lower".to_owned());
    }
    let sum = whole.0.plus(value).ok_or("it is larger than anything in a shop")?;
    Ok((sum, true, tail))
}

/// The lower figure of a fraction whose upper one stands just before, and what follows it.
fn slashed(after: &[Piece]) -> Option<((Fraction, bool), &[Piece])> {
    match after {
        [
            Piece { token: Token::Slash, gap: false },
            Piece { token: Token::Number { value, whole, .. }, gap: false },
            tail @ ..,
        ] => Some(((*value, *whole), tail)),
        _ => None,
    }
}

fn over(above: (Fraction, bool), below: (Fraction, bool)) -> Result<Fraction, String> {
    if !above.1 || !below.1 {
        return Err("the figures of a fraction are whole numbers".to_owned());
    }
    if below.0.above() == 0 {
        return Err("the lower figure of a fraction cannot be 0".to_owned());
    }
    Fraction::new(above.0.above(), below.0.above()).ok_or_else(|| "it is larger than anything in a shop".to_owned())
}
