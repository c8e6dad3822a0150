//! Reading what a person typed: the value beside the very text, or a sentence that says what was wanted.

use std::ops::Deref;

use serde::{Deserialize, Serialize};

use super::Units;

/// A value and the text it was typed as, which always names its unit: whoever reads it again, in whatever units, reads
/// the same value. Nobody but this file can put the two together.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(transparent, bound(deserialize = "T: FromTyped + PartialEq + Deserialize<'de>"))]
pub struct Typed<T>(#[serde(deserialize_with = "stored")] Said<T>);

/// What a [`Typed`] lets everybody read and nobody alter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Said<T> {
    /// What was meant, in the base unit.
    pub value: T,
    /// What was typed, trimmed, with the unit that a bare number was meant in.
    pub text: String,
}

impl<T> Deref for Typed<T> {
    type Target = Said<T>;

    fn deref(&self) -> &Said<T> {
        &self.0
    }
}

impl<T: FromTyped> Typed<T> {
    /// Reads `text`, a bare number in metric units, keeping it beside its value with its unit.
    pub fn read(text: &str) -> Result<Self, Unreadable> {
        Self::read_as(text, Units::Metric)
    }

    /// Reads `text` as a reader of these units means it, keeping it beside its value with its unit.
    pub fn read_as(text: &str, units: Units) -> Result<Self, Unreadable> {
        // What does not read is told in the very words that were typed.
        T::from_typed_as(text, units)?;
        let text = with_unit::<T>(text, units)?;
        Ok(Self(Said { value: T::from_typed_as(&text, units)?, text }))
    }

    /// A value that is known, and the text it is said to be typed as. A text without its unit gets the one in which it
    /// reads as this value; a text that reads as it in none was never typed, and the value is written out instead.
    pub fn of(value: T, text: impl AsRef<str>) -> Self
    where
        T: PartialEq,
    {
        let reads = |units| Self::read_as(text.as_ref(), units).ok().filter(|read| read.value == value);
        let text = match reads(Units::Metric).or_else(|| reads(Units::Inch)) {
            Some(read) => read.0.text,
            None => value.written(),
        };
        Self(Said { value, text })
    }

    /// A value that nobody typed, written out.
    pub fn written(value: T) -> Self {
        let text = value.written();
        Self(Said { value, text })
    }
}

/// A stored text may be from before texts kept their unit.
fn stored<'de, D, T>(input: D) -> Result<Said<T>, D::Error>
where
    D: serde::Deserializer<'de>,
    T: FromTyped + PartialEq + Deserialize<'de>,
{
    let said = Said::<T>::deserialize(input)?;
    Ok(Typed::of(said.value, &said.text).0)
}

/// The text, trimmed, with the unit that a reader of these units means by a bare number of it.
pub fn with_unit<T: FromTyped>(text: &str, units: Units) -> Result<String, Unreadable> {
    Ok(format!("{}{}", text.trim(), T::unit_meant(text, units)?))
}

/// Why a text could not be read, in words for the person who typed it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unreadable {
    /// What was typed.
    pub typed: String,
    /// What would have been read: "a length".
    pub wanted: &'static str,
    /// An example that reads: `43 5/8`.
    pub example: &'static str,
    /// What exactly stood in the way, where that is known: "there is no fraction with more above than below".
    pub because: Option<String>,
}

impl std::fmt::Display for Unreadable {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "“{}” does not read as {}", self.typed, self.wanted)?;
        if let Some(because) = &self.because {
            write!(f, ": {because}")?;
        }
        write!(f, ". Try {}.", self.example)
    }
}

/// Something a person can type.
pub trait FromTyped: Sized {
    /// Reads it, a bare number in the units of this reader, or says what was wanted.
    fn from_typed_as(text: &str, units: Units) -> Result<Self, Unreadable>;

    /// Reads it, a bare number in metric units (as in every file of ours), or says what was wanted.
    fn from_typed(text: &str) -> Result<Self, Unreadable> {
        Self::from_typed_as(text, Units::Metric)
    }

    /// What this reader means by a bare number of the text, as it is written behind it: ` mm`, `°`. Empty where the text
    /// names its unit itself and where there is none to name.
    fn unit_meant(text: &str, units: Units) -> Result<&'static str, Unreadable>;

    /// The value in a text with its unit that reads as it, to the last digit that anybody types.
    fn written(&self) -> String;
}
