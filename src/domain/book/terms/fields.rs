//! Reading one table of a book: each field asked for by name, every mistake noted at its place, no field left unread.

use std::cell::RefCell;
use std::ops::Range;

use jiff::civil::Date;
use toml::de::{DeTable, DeValue};

use crate::domain::measure::amounts::Dimension;
use crate::domain::measure::measures::Measure;
use crate::domain::words::limits;
use crate::domain::words::near_word::nearest;
use crate::domain::words::roles::MemberRole;

use super::bound::Unit;
use super::mistake::Slips;
use super::unit_of::UnitOf;

/// Largest number a book may hold; no limit of a cage comes near.
const LARGEST: f64 = 1e6;
/// Most entries of one list.
const MOST_ENTRIES: usize = 200;

/// A value and its place in the text.
type Found<'a> = (&'a DeValue<'a>, Range<usize>);

/// One table that is being read.
pub(in crate::domain::book) struct Fields<'a> {
    table: &'a DeTable<'a>,
    span: Range<usize>,
    path: String,
    kind: &'static str,
    asked: RefCell<Vec<&'static str>>,
    slips: &'a Slips,
}

impl<'a> Fields<'a> {
    /// The text's outermost table at a place; `kind` says what it is: "a rule book".
    pub(in crate::domain::book) fn new(
        table: &'a DeTable<'a>,
        span: Range<usize>,
        kind: &'static str,
        slips: &'a Slips,
    ) -> Self {
        Self { table, span, path: String::new(), kind, asked: RefCell::default(), slips }
    }

    /// A table within this one.
    fn inner(&self, table: &'a DeTable<'a>, span: Range<usize>, path: String, kind: &'static str) -> Self {
        Self { table, span, path, kind, asked: RefCell::default(), slips: self.slips }
    }

    /// Where a field stands: `limit.2.least`.
    fn path_of(&self, name: &str) -> String {
        match (self.path.is_empty(), name.is_empty()) {
            (true, _) => name.to_owned(),
            (false, true) => self.path.clone(),
            (false, false) => format!("{}.{name}", self.path),
        }
    }

    /// Notes a mistake at a place that is a field's.
    fn note(&self, span: Range<usize>, name: &str, what: impl Into<String>, wanted: impl Into<String>) {
        self.slips.add_at((span, self.path_of(name)), what, wanted);
    }

    /// Says that a field is known here, though it may go unread.
    pub(in crate::domain::book) fn known(&self, name: &'static str) {
        let mut asked = self.asked.borrow_mut();
        if !asked.contains(&name) {
            asked.push(name);
        }
    }

    /// Notes a mistake at a field, or at the table when it has no such field.
    pub(in crate::domain::book) fn slip(&self, name: &str, what: impl Into<String>, wanted: impl Into<String>) {
        let span = self.table.iter().find(|entry| entry.0.get_ref() == name).map(|entry| entry.1.span());
        self.note(span.unwrap_or_else(|| self.span.clone()), name, what, wanted);
    }

    /// How many mistakes were noted so far, here and elsewhere.
    pub(in crate::domain::book) fn mistakes(&self) -> usize {
        self.slips.count()
    }

    /// True when the field stands there.
    pub(in crate::domain::book) fn has(&self, name: &'static str) -> bool {
        self.known(name);
        self.table.iter().any(|entry| entry.0.get_ref() == name)
    }

    /// Notes fields that say something only beside another one, which is not there.
    pub(in crate::domain::book) fn without(&self, missing: &str, what: &str, only_with_it: &[&'static str]) {
        for name in only_with_it.iter().filter(|name| self.has(name)) {
            self.slip(name, format!("There is no {what} that this speaks of."), format!("Give “{missing}” too."));
        }
    }

    fn maybe(&self, name: &'static str) -> Option<Found<'a>> {
        self.known(name);
        let entry = self.table.iter().find(|entry| entry.0.get_ref() == name)?;
        Some((entry.1.get_ref(), entry.1.span()))
    }

    fn must(&self, name: &'static str, wanted: &str) -> Option<Found<'a>> {
        let found = self.maybe(name);
        if found.is_none() {
            self.note(self.span.clone(), name, format!("“{name}” is missing from {}.", self.kind), wanted);
        }
        found
    }

    fn wrong(&self, found: &Found<'a>, name: &str, wanted: &str) {
        let got = match found.0 {
            DeValue::String(_) => "a text",
            DeValue::Integer(_) | DeValue::Float(_) => "a number",
            DeValue::Boolean(_) => "true or false",
            DeValue::Datetime(_) => "a date",
            DeValue::Array(_) => "a list",
            DeValue::Table(_) => "a table",
        };
        self.note(found.1.clone(), name, format!("“{name}” is {got}."), wanted);
    }

    fn text_of(&self, found: &Found<'a>, name: &str, most: usize) -> Option<String> {
        let wanted = "Write a text in quotes.";
        let DeValue::String(text) = found.0 else {
            self.wrong(found, name, wanted);
            return None;
        };
        let (text, length) = (text.trim(), text.trim().chars().count());
        if length == 0 || length > most {
            let what = if length == 0 {
                format!("“{name}” is empty.")
            } else {
                format!("“{name}” has {length} characters.")
            };
            self.note(found.1.clone(), name, what, format!("Write a text of 1 to {most} characters."));
            return None;
        }
        Some(text.to_owned())
    }

    /// A running text that must be there.
    pub(in crate::domain::book) fn text(&self, name: &'static str) -> Option<String> {
        let found = self.must(name, "Write a text in quotes.")?;
        self.text_of(&found, name, limits::TEXT)
    }

    /// A short text that must be there.
    pub(in crate::domain::book) fn title(&self, name: &'static str) -> Option<String> {
        let found = self.must(name, "Write a short text in quotes.")?;
        self.text_of(&found, name, limits::TITLE)
    }

    /// A running text that may be left out.
    pub(in crate::domain::book) fn text_maybe(&self, name: &'static str) -> Option<String> {
        let found = self.maybe(name)?;
        self.text_of(&found, name, limits::TEXT)
    }

    /// A name within the book: small letters, digits, points and hyphens.
    pub(in crate::domain::book) fn key(&self, name: &'static str) -> Option<String> {
        let wanted = "Write a name of small letters, digits, points and hyphens: “tube-light”.";
        let found = self.must(name, wanted)?;
        let key = self.text_of(&found, name, limits::TITLE)?;
        let plain = |letter: char| letter.is_ascii_lowercase() || letter.is_ascii_digit() || ".-".contains(letter);
        if !key.chars().all(plain) {
            self.note(found.1, name, format!("“{key}” does not do as a name."), wanted);
            return None;
        }
        Some(key)
    }

    fn number_of(&self, found: &Found<'a>, name: &str) -> Option<f64> {
        let wanted = "Write a number from 0 to 1000000, with a point before the decimals.";
        let number = match found.0 {
            DeValue::Float(number) => number.as_str().parse::<f64>().ok(),
            // a whole number of at most seven digits is exact
            DeValue::Integer(number) if number.radix() == 10 => number.as_str().parse::<f64>().ok(),
            _ => {
                self.wrong(found, name, wanted);
                return None;
            }
        };
        let good = number.filter(|number| (0.0..=LARGEST).contains(number));
        if good.is_none() {
            self.note(found.1.clone(), name, format!("“{name}” is out of bounds."), wanted);
        }
        good
    }

    /// A number that must be there.
    pub(in crate::domain::book) fn number(&self, name: &'static str) -> Option<f64> {
        let found = self.must(name, "Write a number.")?;
        self.number_of(&found, name)
    }

    /// A number that may be left out.
    pub(in crate::domain::book) fn number_maybe(&self, name: &'static str) -> Option<f64> {
        let found = self.maybe(name)?;
        self.number_of(&found, name)
    }

    /// A whole number up to `most` that may be left out.
    pub(in crate::domain::book) fn whole_maybe(&self, name: &'static str, most: u32) -> Option<u32> {
        let found = self.maybe(name)?;
        let wanted = format!("Write a whole number from 0 to {most}.");
        let DeValue::Integer(number) = found.0 else {
            self.wrong(&found, name, &wanted);
            return None;
        };
        let whole = u32::from_str_radix(number.as_str(), number.radix()).ok().filter(|whole| *whole <= most);
        if whole.is_none() {
            self.note(found.1, name, format!("“{name}” is out of bounds."), wanted);
        }
        whole
    }

    /// A yes or no; `otherwise` when it is left out.
    pub(in crate::domain::book) fn flag(&self, name: &'static str, otherwise: bool) -> bool {
        let Some(found) = self.maybe(name) else { return otherwise };
        let DeValue::Boolean(flag) = found.0 else {
            self.wrong(&found, name, "Write true or false.");
            return otherwise;
        };
        *flag
    }

    /// A day that may be left out.
    pub(in crate::domain::book) fn day_maybe(&self, name: &'static str) -> Option<Date> {
        let found = self.maybe(name)?;
        let wanted = "Write a day without quotes: 2026-01-31.";
        let DeValue::Datetime(day) = found.0 else {
            self.wrong(&found, name, wanted);
            return None;
        };
        let read = day.to_string().parse::<Date>().ok().filter(|_| day.time.is_none());
        if read.is_none() {
            self.note(found.1, name, format!("“{name}” is no day."), wanted);
        }
        read
    }

    fn word_of<T: Copy>(&self, found: &Found<'a>, name: &str, words: &[(&'static str, T)]) -> Option<T> {
        let all = || words.iter().map(|entry| format!("“{}”", entry.0)).collect::<Vec<_>>().join(", ");
        let DeValue::String(typed) = found.0 else {
            self.wrong(found, name, &format!("Write one of {}.", all()));
            return None;
        };
        let word = words.iter().find(|entry| entry.0 == typed.as_ref()).map(|entry| entry.1);
        if word.is_none() {
            let wanted = nearest(typed, words.iter().map(|entry| entry.0))
                .map_or_else(|| format!("Write one of {}.", all()), |near| format!("Did you mean “{near}”?"));
            let shown: String = typed.chars().take(60).collect();
            self.note(found.1.clone(), name, format!("“{name}” knows no word “{shown}”."), wanted);
        }
        word
    }

    /// One of some words, which must be there.
    pub(in crate::domain::book) fn word<T: Copy>(&self, name: &'static str, words: &[(&'static str, T)]) -> Option<T> {
        let all = words.iter().map(|entry| format!("“{}”", entry.0)).collect::<Vec<_>>().join(", ");
        let found = self.must(name, &format!("Write one of {all}."))?;
        self.word_of(&found, name, words)
    }

    /// One of some words, which may be left out.
    pub(in crate::domain::book) fn word_maybe<T: Copy>(
        &self,
        name: &'static str,
        words: &[(&'static str, T)],
    ) -> Option<T> {
        let found = self.maybe(name)?;
        self.word_of(&found, name, words)
    }

    /// A bar's role, which must be there.
    pub(in crate::domain::book) fn role(&self, name: &'static str) -> Option<MemberRole> {
        self.word(name, &roles())
    }

    /// A measure, which must be there.
    pub(in crate::domain::book) fn measure(&self, name: &'static str) -> Option<Measure> {
        let words: Vec<_> = Measure::ALL.iter().map(|measure| (measure.word(), *measure)).collect();
        self.word(name, &words)
    }

    /// The field `unit`, for a kind of quantity.
    pub(in crate::domain::book) fn unit_of(&self, dimension: Dimension) -> UnitOf {
        if matches!(dimension, Dimension::Ratio | Dimension::Percent | Dimension::Count | Dimension::Grade) {
            if self.has("unit") {
                self.slip("unit", "This figure has no unit.", "Leave “unit” out.");
            }
            return UnitOf::Bare(dimension);
        }
        self.word("unit", &Unit::of(dimension)).map_or(UnitOf::Missing, UnitOf::Unit)
    }

    fn list(&self, name: &'static str) -> Vec<Found<'a>> {
        let Some(found) = self.maybe(name) else { return Vec::new() };
        let DeValue::Array(list) = found.0 else {
            self.wrong(&found, name, "Write a list in square brackets.");
            return Vec::new();
        };
        if list.len() > MOST_ENTRIES {
            let wanted = format!("Write at most {MOST_ENTRIES} entries.");
            self.note(found.1, name, format!("“{name}” has {} entries.", list.len()), wanted);
            return Vec::new();
        }
        list.iter().map(|entry| (entry.get_ref(), entry.span())).collect()
    }

    /// A list of short texts, empty when it is left out.
    pub(in crate::domain::book) fn texts(&self, name: &'static str) -> Vec<String> {
        self.list(name).iter().filter_map(|found| self.text_of(found, name, limits::TITLE)).collect()
    }

    /// A list of words, empty when it is left out.
    pub(in crate::domain::book) fn words<T: Copy>(&self, name: &'static str, words: &[(&'static str, T)]) -> Vec<T> {
        self.list(name).iter().filter_map(|found| self.word_of(found, name, words)).collect()
    }

    /// A list of roles, empty when it is left out.
    pub(in crate::domain::book) fn roles(&self, name: &'static str) -> Vec<MemberRole> {
        self.words(name, &roles())
    }

    /// A list of tables, empty when it is left out. The limit on entries is the caller's.
    pub(in crate::domain::book) fn tables(&self, name: &'static str, kind: &'static str) -> Vec<Self> {
        let Some(found) = self.maybe(name) else { return Vec::new() };
        let wanted = format!("Begin each of them with [[{name}]].");
        let DeValue::Array(list) = found.0 else {
            self.wrong(&found, name, &wanted);
            return Vec::new();
        };
        let mut tables = Vec::new();
        for (at, entry) in list.iter().enumerate() {
            match entry.get_ref() {
                DeValue::Table(table) => {
                    let path = self.path_of(&format!("{name}.{at}"));
                    tables.push(self.inner(table, entry.span(), path, kind));
                }
                other => self.wrong(&(other, entry.span()), name, &wanted),
            }
        }
        tables
    }

    /// A table that may be left out.
    pub(in crate::domain::book) fn table_maybe(&self, name: &'static str, kind: &'static str) -> Option<Self> {
        let found = self.maybe(name)?;
        let DeValue::Table(table) = found.0 else {
            self.wrong(&found, name, &format!("Write [{name}] on a line of its own, or {{ … }} behind the name."));
            return None;
        };
        Some(self.inner(table, found.1, self.path_of(name), kind))
    }

    /// Notes every field that nobody asked for.
    pub(in crate::domain::book) fn finish(&self) {
        let asked = self.asked.borrow();
        for (name, _) in self.table {
            let word = name.get_ref().as_ref();
            if asked.contains(&word) {
                continue;
            }
            let wanted = nearest(word, asked.iter().copied()).map_or_else(
                || format!("Fields here are {}.", asked.join(", ")),
                |near| format!("Did you mean “{near}”?"),
            );
            let shown: String = word.chars().take(60).collect();
            self.note(name.span(), word, format!("“{shown}” is no field of {}.", self.kind), wanted);
        }
    }
}

/// Every role and its word.
pub(in crate::domain::book) fn roles() -> Vec<(&'static str, MemberRole)> {
    MemberRole::ALL.into_iter().map(|role| (role.word(), role)).collect()
}
