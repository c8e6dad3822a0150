//! The hole in a gusset's flat side: nobody said, it has none, or one of so much.

use serde::{Deserialize, Serialize};

use crate::quantity::{Length, Typed};

/// The hole in a gusset's flat side, as far as anybody said. Having none is an answer; not having said is not.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(from = "Option<Written<L>>", into = "Option<Written<L>>")]
#[serde(bound(serialize = "L: Clone + Serialize", deserialize = "L: Deserialize<'de>"))]
pub enum GussetHole<L = Typed<Length>> {
    /// Nobody said whether it has one: what a record and a file without a word of it say.
    #[default]
    NotStated,
    /// It has none: somebody said so.
    NoHole,
    /// It has one of this diameter.
    Across(L),
}

/// As it is written: nothing, "none", or the diameter.
#[derive(Serialize, Deserialize)]
#[serde(untagged, expecting = "a hole's diameter, or \"none\" where there is no hole")]
enum Written<L> {
    Word(Nothing),
    Across(L),
}

#[derive(Serialize, Deserialize)]
enum Nothing {
    #[serde(rename = "none")]
    Nothing,
}

impl<L> From<Option<Written<L>>> for GussetHole<L> {
    fn from(written: Option<Written<L>>) -> Self {
        match written {
            None => Self::NotStated,
            Some(Written::Word(Nothing::Nothing)) => Self::NoHole,
            Some(Written::Across(across)) => Self::Across(across),
        }
    }
}

impl<L> From<GussetHole<L>> for Option<Written<L>> {
    fn from(hole: GussetHole<L>) -> Self {
        match hole {
            GussetHole::NotStated => None,
            GussetHole::NoHole => Some(Written::Word(Nothing::Nothing)),
            GussetHole::Across(across) => Some(Written::Across(across)),
        }
    }
}

impl<L> GussetHole<L> {
    /// The diameter; none where there is no hole, and where nobody said.
    pub fn across(self) -> Option<L> {
        match self {
            Self::Across(across) => Some(across),
            Self::NotStated | Self::NoHole => None,
        }
    }

    /// The same with the diameter looked at.
    pub const fn as_ref(&self) -> GussetHole<&L> {
        match self {
            Self::NotStated => GussetHole::NotStated,
            Self::NoHole => GussetHole::NoHole,
            Self::Across(across) => GussetHole::Across(across),
        }
    }

    /// The same with the diameter made into something else.
    pub fn map<M>(self, make: impl FnOnce(L) -> M) -> GussetHole<M> {
        match self {
            Self::NotStated => GussetHole::NotStated,
            Self::NoHole => GussetHole::NoHole,
            Self::Across(across) => GussetHole::Across(make(across)),
        }
    }

    /// What stands beside the word “hole”: its diameter, “none”, or “not stated”.
    pub fn answer(self, show: impl FnOnce(L) -> String) -> String {
        match self {
            Self::NotStated => "not stated".to_owned(),
            Self::NoHole => "none".to_owned(),
            Self::Across(across) => show(across),
        }
    }

    /// As part of a sentence: "hole 24 mm", "no hole", "hole not stated".
    pub fn clause(self, show: impl FnOnce(L) -> String) -> String {
        match self {
            Self::NoHole => "no hole".to_owned(),
            stated_or_not => format!("hole {}", stated_or_not.answer(show)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Records written before "none" could be said hold null, nothing or a diameter, and read as they did.
    #[test]
    fn what_was_written_before_reads_as_it_was() {
        #[derive(Debug, PartialEq, Serialize, Deserialize)]
        struct Holed {
            #[serde(default)]
            hole: GussetHole,
        }
        let read = |text: &str| serde_json::from_str::<Holed>(text).map(|holed| holed.hole);
        assert_eq!(read("{}").unwrap(), GussetHole::NotStated);
        assert_eq!(read(r#"{"hole":null}"#).unwrap(), GussetHole::NotStated);
        assert_eq!(read(r#"{"hole":"none"}"#).unwrap(), GussetHole::NoHole);
        let inch = Typed::of(Length::from_inches(1.0), "1 in");
        assert_eq!(read(r#"{"hole":{"value":25.4,"text":"1 in"}}"#).unwrap(), GussetHole::Across(inch.clone()));
        for refused in [r#"{"hole":"nothing"}"#, r#"{"hole":false}"#] {
            assert!(read(refused).is_err(), "{refused}");
        }
        for (hole, text) in [
            (GussetHole::NotStated, r#"{"hole":null}"#),
            (GussetHole::NoHole, r#"{"hole":"none"}"#),
            (GussetHole::Across(inch), r#"{"hole":{"value":25.4,"text":"1 in"}}"#),
        ] {
            assert_eq!(serde_json::to_string(&Holed { hole }).unwrap(), text);
        }
    }
}
