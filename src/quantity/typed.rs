//! Reading what a person typed: the value beside the very text, or a sentence that says what was wanted.

use serde::{Deserialize, Serialize};

use super::Units;

/// A value and the text it was typed as; the text is evidence and is never rewritten.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Typed<T> {
    /// What was meant, in the base unit.
    pub value: T,
    /// What was typed, trimmed.
    pub text: String,
}

impl<T: FromTyped> Typed<T> {
    /// Reads `text`, keeping it beside its value.
    pub fn read(text: &str) -> Result<Self, Unreadable> {
        Ok(Self { value: T::from_typed(text)?, text: text.trim().to_owned() })
    }

    /// Reads `text` as a reader of these units means it, keeping it beside its value.
    pub fn read_as(text: &str, units: Units) -> Result<Self, Unreadable> {
        Ok(Self { value: T::from_typed_as(text, units)?, text: text.trim().to_owned() })
    }
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
}
