//! A length in a cage file: a bare number of the file's unit, a text as a tape shows it, or a text with its unit said.

use std::fmt;

use serde::de::{self, MapAccess, Visitor, value::MapAccessDeserializer};
use serde::{Deserialize, Deserializer, Serialize};

use super::cage_file::Unit;
use crate::quantity::{FromTyped as _, Length, Typed, Units, Unreadable};

/// One length as a file gives it.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(untagged)]
pub(super) enum Entry {
    /// In the file's unit.
    Number(f64),
    /// As typed; a bare number in it is of the file's unit.
    Text(String),
    /// As typed by somebody who reads the other unit.
    Said(Said),
}

/// A text and the unit of a bare number in it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Said {
    typed: String,
    unit: Unit,
}

impl Entry {
    /// The length with its text; a number is written out with the unit.
    pub(super) fn length(&self, unit: Unit) -> Result<Typed<Length>, Unreadable> {
        match self {
            Self::Number(number) => Typed::read(&format!("{number} {}", unit.word())),
            Self::Text(text) => Typed::read_as(text, unit.units()),
            Self::Said(said) => Typed::read_as(&said.typed, said.unit.units()),
        }
    }

    /// A length as a file of this unit gives it, its text kept. A text that reads as its value in neither unit was never
    /// typed in a form: the value stands for it.
    pub(super) fn of(typed: &Typed<Length>, unit: Unit) -> Self {
        let text = || typed.text.clone();
        if reads_as(typed, unit.units()) {
            return Self::Text(text());
        }
        let other = if unit == Unit::Inch { Unit::Millimetre } else { Unit::Inch };
        if reads_as(typed, other.units()) {
            return Self::Said(Said { typed: text(), unit: other });
        }
        let value = format!("{:.6}", typed.value.mm());
        Self::Text(format!("{} mm", value.trim_end_matches('0').trim_end_matches('.')))
    }
}

/// Whether a reader of these units means this value by this text.
pub(super) fn reads_as(typed: &Typed<Length>, units: Units) -> bool {
    Length::from_typed_as(&typed.text, units).is_ok_and(|read| read == typed.value)
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
