//! What is wanted when a quantity is typed: its units, their sizes, and how a text of several amounts adds up.

use super::Unreadable;
use super::fraction::Fraction;
use super::reading::{COLON_HOURS, COLON_MINUTES, LONGEST, Part, amounts, is_foot};

/// One unit: its names in small letters, its size in the base unit as an exact fraction, and its system; a second
/// amount (`5' 3"`, `2 lb 3 oz`, `1 h 30 min`) must be of the same system and smaller.
pub(super) struct Unit(pub(super) &'static [&'static str], pub(super) (i128, i128), pub(super) Option<System>);

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum System {
    Tape,
    Pounds,
    Clock,
}

/// What is wanted when a quantity is typed.
pub(super) struct Kind {
    pub(super) wanted: &'static str,
    pub(super) example: &'static str,
    pub(super) units: &'static [Unit],
    pub(super) may_be_below_zero: bool,
}

impl Kind {
    pub(super) fn refused(&self, text: &str, because: String) -> Unreadable {
        let text = text.trim();
        let mut typed: String = text.chars().take(LONGEST).collect();
        if typed.len() < text.len() {
            typed.push('…');
        }
        Unreadable { typed, wanted: self.wanted, example: self.example, because: Some(because) }
    }

    /// The exact value in the base unit, and the unit of its first amount.
    pub(super) fn exact(
        &self,
        text: &str,
        bare: impl Fn(&Part) -> &'static str,
    ) -> Result<(Fraction, &'static str), Unreadable> {
        self.summed(text, bare).map_err(|because| self.refused(text, because))
    }

    /// The name of the unit that a bare number of it has; none where the text says it.
    pub(super) fn left_out(
        &self,
        text: &str,
        bare: impl Fn(&Part) -> &'static str,
    ) -> Result<&'static str, Unreadable> {
        let parts = amounts(text).map_err(|because| self.refused(text, because))?.parts;
        Ok(match parts.as_slice() {
            [only] if only.unit.is_empty() => bare(only),
            [.., greater, last] if last.unit.is_empty() && is_foot(&greater.unit) => "in",
            _ => "",
        })
    }

    fn summed(&self, text: &str, bare: impl Fn(&Part) -> &'static str) -> Result<(Fraction, &'static str), String> {
        let reading = amounts(text)?;
        let mut sum = Fraction::whole(0).ok_or_else(too_large)?;
        let mut before: Option<(&Part, &Unit)> = None;
        let mut first = None;
        for part in &reading.parts {
            let name = match before {
                _ if !part.unit.is_empty() => part.unit.as_str(),
                None => bare(part),
                Some((greater, _)) if is_foot(&greater.unit) => "in",
                Some(_) => return Err("the last number has no unit".to_owned()),
            };
            let unit = self.unit(name)?;
            let value = unit.size().and_then(|size| size.times(part.amount)).ok_or_else(too_large)?;
            if let Some((greater, greater_unit)) = before {
                unit.may_follow(value, greater, greater_unit)?;
            }
            sum = sum.plus(value).ok_or_else(too_large)?;
            first = first.or(unit.0.first().copied());
            before = Some((part, unit));
        }
        if reading.below_zero && !self.may_be_below_zero && sum.above() != 0 {
            return Err("it cannot be less than nothing".to_owned());
        }
        Ok((if reading.below_zero { sum.negative() } else { sum }, first.unwrap_or_default()))
    }

    fn unit(&self, name: &str) -> Result<&'static Unit, String> {
        self.units.iter().find(|unit| unit.0.contains(&name)).ok_or_else(|| match name {
            COLON_HOURS | COLON_MINUTES => "a colon stands between hours and minutes only".to_owned(),
            name => format!("“{name}” is no unit of it"),
        })
    }
}

fn too_large() -> String {
    "it is larger than anything in a shop".to_owned()
}

impl Unit {
    fn size(&self) -> Option<Fraction> {
        Fraction::new(self.1.0, self.1.1)
    }

    /// Says what is wrong with `value` of this unit after a `greater` amount: `5.5' 3"`, `5' 14"`, `1 m 3 in`.
    fn may_follow(&self, value: Fraction, greater: &Part, greater_unit: &Self) -> Result<(), String> {
        let (whole, one) = (greater.amount.below() == 1, greater_unit.size().ok_or_else(too_large)?);
        if self.2.is_none() || self.2 != greater_unit.2 || !self.size().is_some_and(|size| size.is_less_than(one)) {
            return Err("these units do not follow each other in one amount".to_owned());
        }
        if !whole || greater.fraction {
            return Err("only the last number of an amount can have a fraction or a point".to_owned());
        }
        if !value.is_less_than(one) {
            return Err("the second amount is as much as one of the first, or more".to_owned());
        }
        Ok(())
    }
}

/// A unit as it is written behind a number.
pub(super) fn behind(name: &'static str) -> &'static str {
    match name {
        "mm" => " mm",
        "in" => " in",
        "kg" => " kg",
        "lb" => " lb",
        "cm2" => " cm²",
        "in2" => " in²",
        "h" => " h",
        other => other,
    }
}

/// A number with at most so many places, none of them idle.
pub(super) fn short(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}
