//! A form as it was typed: every field kept, every fault beside its field.

use crate::domain::faults::Fault;
use crate::quantity::{FromTyped, Typed, Units};

/// The pairs of a submitted form, in order.
pub(crate) type Pairs = Vec<(String, String)>;

/// What was typed, and what is wrong with it.
#[derive(Debug, Clone)]
pub(crate) struct Form {
    typed: Pairs,
    faults: Vec<Fault>,
    units: Units,
}

impl Form {
    /// A form that nobody has filled in yet.
    pub(crate) fn empty(units: Units) -> Self {
        Self { typed: Vec::new(), faults: Vec::new(), units }
    }

    /// A form that starts out with what is recorded.
    pub(crate) fn filled(units: Units, values: Pairs) -> Self {
        Self { typed: values, faults: Vec::new(), units }
    }

    /// A form as it was sent.
    pub(crate) fn of(units: Units, typed: Pairs) -> Self {
        Self { typed, faults: Vec::new(), units }
    }

    /// What was typed in a field; empty when it was not sent.
    pub(crate) fn text(&self, at: &str) -> &str {
        self.typed.iter().find(|(name, _)| name == at).map_or("", |(_, text)| text.trim())
    }

    /// What was typed in a field, untrimmed.
    pub(crate) fn raw(&self, at: &str) -> &str {
        self.typed.iter().find(|(name, _)| name == at).map_or("", |(_, text)| text)
    }

    /// All that was chosen under one name.
    pub(crate) fn chosen(&self, at: &str) -> Vec<String> {
        self.typed.iter().filter(|(name, _)| name == at).map(|(_, text)| text.clone()).collect()
    }

    /// Reads a field that must be there, or notes its fault.
    pub(crate) fn read<T: FromTyped>(&mut self, at: &str) -> Option<Typed<T>> {
        match Typed::read_as(self.text(at), self.units) {
            Ok(value) => Some(value),
            Err(unreadable) => {
                self.faults.push(Fault::new(at, unreadable.to_string()));
                None
            }
        }
    }

    /// Reads a field that may be left empty.
    pub(crate) fn read_if_typed<T: FromTyped>(&mut self, at: &str) -> Option<Typed<T>> {
        if self.text(at).is_empty() { None } else { self.read(at) }
    }

    /// Reads a field with its type's own words, or notes `wanted` as its fault; empty gives none without a fault.
    pub(crate) fn parse<T: std::str::FromStr>(&mut self, at: &str, wanted: &str) -> Option<T> {
        let text = self.text(at);
        if text.is_empty() {
            return None;
        }
        let read = text.parse().ok();
        if read.is_none() {
            self.faults.push(Fault::new(at, wanted));
        }
        read
    }

    /// Notes a fault beside its field.
    pub(crate) fn fault(&mut self, at: &str, why: impl Into<String>) {
        self.faults.push(Fault::new(at, why));
    }

    /// Notes what an action refused.
    pub(crate) fn refuse(&mut self, faults: Vec<Fault>) {
        self.faults.extend(faults);
    }

    /// Whether anything is wrong so far.
    pub(crate) fn is_faulty(&self) -> bool {
        !self.faults.is_empty()
    }

    /// A field as the page shows it: as typed, its fault beside it.
    pub(crate) fn field(&self, name: &'static str, label: impl Into<String>) -> Field {
        self.field_named(name.to_owned(), label)
    }

    /// A field whose name is made up on the way.
    pub(crate) fn field_named(&self, name: String, label: impl Into<String>) -> Field {
        let fault = self.faults.iter().find(|fault| fault.at == name).map(|fault| fault.why.clone());
        let first = self.faults.first().is_some_and(|fault| fault.at == name);
        let raw = self.typed.iter().find(|(typed, _)| *typed == name).map(|(_, text)| text.clone());
        Field {
            value: raw.unwrap_or_default(),
            name,
            label: label.into(),
            hint: String::new(),
            fault,
            first,
            kind: "text",
            choices: Vec::new(),
        }
    }

    /// The faults that belong to none of the fields shown, for the head of the form.
    pub(crate) fn other_faults(&self, shown: &[&Field]) -> Vec<String> {
        let at_a_field = |fault: &&Fault| shown.iter().any(|field| field.name == fault.at);
        self.faults.iter().filter(|fault| !at_a_field(fault)).map(|fault| fault.why.clone()).collect()
    }
}

/// One field as a template places it.
#[derive(Debug, Clone)]
pub(crate) struct Field {
    /// Its name in the form.
    pub(crate) name: String,
    /// What it asks.
    pub(crate) label: String,
    /// The unit, an example, where to hold the tape.
    pub(crate) hint: String,
    /// What stands in it.
    pub(crate) value: String,
    /// What is wrong with it.
    pub(crate) fault: Option<String>,
    /// Whether it is the first faulty one, which gets the cursor.
    pub(crate) first: bool,
    /// `text`, `password`, `date`, `area` or `choice`.
    pub(crate) kind: &'static str,
    /// What there is to choose from.
    pub(crate) choices: Vec<Choice>,
}

/// One line of a choice.
#[derive(Debug, Clone)]
pub(crate) struct Choice {
    /// What is sent.
    pub(crate) value: String,
    /// What is read.
    pub(crate) words: String,
    /// Whether it is the one chosen.
    pub(crate) chosen: bool,
}

impl Field {
    /// With a hint under it.
    #[must_use]
    pub(crate) fn hint(self, hint: impl Into<String>) -> Self {
        Self { hint: hint.into(), ..self }
    }

    /// As a password, which is never given back.
    #[must_use]
    pub(crate) fn password(self) -> Self {
        Self { kind: "password", value: String::new(), ..self }
    }

    /// As a day.
    #[must_use]
    pub(crate) fn day(self) -> Self {
        Self { kind: "date", ..self }
    }

    /// As running text.
    #[must_use]
    pub(crate) fn area(self) -> Self {
        Self { kind: "area", ..self }
    }

    /// As a choice of `(value, words)`.
    #[must_use]
    pub(crate) fn choice(self, choices: impl IntoIterator<Item = (String, String)>) -> Self {
        let chosen = self.value.clone();
        let line = |(value, words): (String, String)| Choice { chosen: value == chosen, value, words };
        Self { kind: "choice", choices: choices.into_iter().map(line).collect(), ..self }
    }
}
