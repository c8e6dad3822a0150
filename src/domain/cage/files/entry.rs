//! A length in a cage file: a bare number of the file's unit, a text as a tape shows it, or a text with its unit said.

use std::fmt;

use serde::de::{self, MapAccess, Visitor, value::MapAccessDeserializer};
use serde::{Deserialize, Deserializer, Serialize};

use super::cage_file::Unit;
use crate::quantity::{Length, Typed, Unreadable};

/// One length as a file gives it.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(untagged)]
pub(in crate::domain::cage) enum Entry {
    /// In the file's unit.
    Number(f64),
    /// As typed; a bare number in it is of the file's unit.
    Text(String),
    /// As typed by somebody who reads another unit than the file's, as files had it before texts named their unit.
    Said(Said),
}

/// A text and the unit of a bare number in it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::domain::cage) struct Said {
    typed: String,
    unit: Unit,
}

impl Entry {
    /// The length with its text; a number is written out with the unit.
    pub(in crate::domain::cage) fn length(&self, unit: Unit) -> Result<Typed<Length>, Unreadable> {
        match self {
            Self::Number(number) => Typed::read(&format!("{number} {}", unit.word())),
            Self::Text(text) => Typed::read_as(text, unit.units()),
            Self::Said(said) => Typed::read_as(&said.typed, said.unit.units()),
        }
    }

    /// A length as every file gives it: its text, which names its unit.
    pub(in crate::domain::cage) fn of(typed: &Typed<Length>) -> Self {
        Self::Text(typed.text.clone())
    }
}

impl<'de> Deserialize<'de> for Entry {
    fn deserialize<D: Deserializer<'de>>(input: D) -> Result<Self, D::Error> {
        struct Reads;
        impl<'de> Visitor<'de> for Reads {
            type Value = Entry;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a length: a number, or a text as the tape shows it")
            }

            fn visit_f64<E: de::Error>(self, number: f64) -> Result<Entry, E> {
                Ok(Entry::Number(number))
            }

            #[expect(clippy::cast_precision_loss, reason = "a length of a car is a small number")]
            fn visit_u64<E: de::Error>(self, number: u64) -> Result<Entry, E> {
                Ok(Entry::Number(number as f64))
            }

            #[expect(clippy::cast_precision_loss, reason = "a length of a car is a small number")]
            fn visit_i64<E: de::Error>(self, number: i64) -> Result<Entry, E> {
                Ok(Entry::Number(number as f64))
            }

            fn visit_str<E: de::Error>(self, text: &str) -> Result<Entry, E> {
                Ok(Entry::Text(text.to_owned()))
            }

            fn visit_map<A: MapAccess<'de>>(self, fields: A) -> Result<Entry, A::Error> {
                Said::deserialize(MapAccessDeserializer::new(fields)).map(Entry::Said)
            }
        }
        input.deserialize_any(Reads)
    }
}
