//! A form as it was typed: every field kept, every fault beside its field.

use super::reader;
use crate::domain::words::faults::Fault;
use crate::quantity::{FromTyped, Typed, Units};

/// The field that says in which units a form was shown.
const SHOWN_IN: &str = "shown_in";

/// The pairs of a submitted form, in order.
pub(crate) type Pairs = Vec<(String, String)>;

/// What was typed, and what is wrong with it.
#[derive(Debug, Clone)]
pub(crate) struct Form {
    typed: Pairs,
    faults: Vec<Fault>,
    units: Units,
    theirs: Option<Theirs>,
}

/// What somebody else saved meanwhile, and what stood there when this form was opened.
#[derive(Debug, Clone)]
struct Theirs {
    now: Pairs,
    before: Pairs,
}

/// What a form of a record carries beside its fields, so that a save over somebody else's is told.
#[derive(Debug, Clone)]
pub(crate) struct Keeping {
    /// The version that was edited.
    pub(crate) version: String,
    /// What stood there then, as pairs in JSON.
    pub(crate) before: String,
    /// How many fields differ from what somebody else saved; none while nobody did.
    pub(crate) differ: Option<usize>,
}

/// What was typed under a name, trimmed; empty when it is not there.
fn under<'p>(pairs: &'p Pairs, at: &str) -> &'p str {
    pairs.iter().find(|(name, _)| name == at).map_or("", |(_, text)| text.trim())
}

impl Form {
    /// A form that nobody has filled in yet.
    pub(crate) fn empty(units: Units) -> Self {
        Self { typed: Vec::new(), faults: Vec::new(), units, theirs: None }
    }

    /// A form that starts out with what is recorded.
    pub(crate) fn filled(units: Units, values: Pairs) -> Self {
        Self { typed: values, faults: Vec::new(), units, theirs: None }
    }

    /// A form as it was sent. A bare number in it is of the units that it was shown in, whatever its reader chose since.
    pub(crate) fn of(units: Units, mut typed: Pairs) -> Self {
        let units = reader::named(under(&typed, SHOWN_IN)).unwrap_or(units);
        typed.retain(|(name, _)| name != SHOWN_IN);
        Self { typed, faults: Vec::new(), units, theirs: None }
    }

    /// The units its reader thinks in.
    pub(crate) const fn units(&self) -> Units {
        self.units
    }

    /// What was typed in a field; empty when it was not sent.
    pub(crate) fn text(&self, at: &str) -> &str {
        under(&self.typed, at)
    }

    /// What was typed in a field, untrimmed.
    pub(crate) fn raw(&self, at: &str) -> &str {
        self.typed.iter().find(|(name, _)| name == at).map_or("", |(_, text)| text)
    }

    /// The version that was edited; none that ever was, where the form does not say it.
    pub(crate) fn version(&self) -> i64 {
        self.text("version").parse().unwrap_or(-1)
    }

    /// The statement that was there when the form was opened; none where the form does not say.
    pub(crate) fn over(&self) -> Option<i64> {
        self.text("version").parse().ok()
    }

    /// Every pair, in order.
    pub(crate) fn pairs(&self) -> &Pairs {
        &self.typed
    }

    /// All that was chosen under one name.
    pub(crate) fn chosen(&self, at: &str) -> Vec<String> {
        self.typed.iter().filter(|(name, _)| name == at).map(|(_, text)| text.clone()).collect()
    }

    /// What was read in a field stands in it from now on, with its unit: the form may come back in other units.
    pub(crate) fn says(&mut self, at: &str, text: &str) {
        if let Some((_, typed)) = self.typed.iter_mut().find(|(name, _)| name == at) {
            text.clone_into(typed);
        }
    }

    /// Reads a field that must be there, or notes its fault.
    pub(crate) fn read<T: FromTyped>(&mut self, at: &str) -> Option<Typed<T>> {
        match Typed::read_as(self.text(at), self.units) {
            Ok(value) => {
                self.says(at, &value.text);
                Some(value)
            }
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

    /// Reads a field that may hold several, each ended by a semicolon or a line; none where one does not read.
    pub(crate) fn read_each<T: FromTyped>(&mut self, at: &str) -> Option<Vec<Typed<T>>> {
        let each = self.text(at).split([';', '\n']).map(str::trim).filter(|text| !text.is_empty());
        let read: Result<Vec<Typed<T>>, _> = each.map(|text| Typed::read_as(text, self.units)).collect();
        let read = read.map_err(|unreadable| self.faults.push(Fault::new(at, unreadable.to_string()))).ok()?;
        self.says(at, &read.iter().map(|typed| typed.text.as_str()).collect::<Vec<_>>().join("; "));
        Some(read)
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

    /// Adds what was chosen under a name.
    pub(crate) fn add(&mut self, at: &str, text: String) {
        self.typed.push((at.to_owned(), text));
    }

    /// Notes a fault beside its field.
    pub(crate) fn fault(&mut self, at: &str, why: impl Into<String>) {
        self.faults.push(Fault::new(at, why));
    }

    /// Notes what an action refused.
    pub(crate) fn refuse(&mut self, faults: Vec<Fault>) {
        self.faults.extend(faults);
    }

    /// Notes that somebody else saved `now`, its version among the pairs: where the two differ, the fields ask which stands.
    pub(crate) fn overtaken(&mut self, now: Pairs) {
        let before = serde_json::from_str(self.raw("before")).unwrap_or_default();
        let version = under(&now, "version").to_owned();
        self.typed.retain(|(name, _)| name != "version" && name != "before");
        let seen = serde_json::to_string(&now).unwrap_or_default();
        self.typed.extend([("version".to_owned(), version), ("before".to_owned(), seen)]);
        self.theirs = Some(Theirs { now, before });
    }

    /// What somebody else saved under a name, where they saved meanwhile and it is not what was typed here.
    pub(crate) fn theirs(&self, at: &str) -> Option<&str> {
        let theirs = self.theirs.as_ref().map(|theirs| under(&theirs.now, at))?;
        (theirs != self.text(at)).then_some(theirs)
    }

    /// What the form carries beside its fields.
    pub(crate) fn keeping(&self) -> Keeping {
        let sent = self.raw("before");
        let before =
            if sent.is_empty() { serde_json::to_string(&self.typed).unwrap_or_default() } else { sent.to_owned() };
        let differ = self.theirs.as_ref().map(|theirs| {
            let mut names: Vec<&String> = self.typed.iter().chain(&theirs.now).map(|(name, _)| name).collect();
            names.sort();
            names.dedup();
            let differs = |name: &&&String| **name != "before" && self.text(name) != under(&theirs.now, name);
            names.iter().filter(differs).count()
        });
        Keeping { version: self.text("version").to_owned(), before, differ }
    }

    /// Yours and theirs of a field on which the two differ, and what stood there before.
    fn either(&self, at: &str) -> Option<(Vec<Choice>, String)> {
        let theirs = self.theirs.as_ref()?;
        let (mine, now, before) = (self.text(at), under(&theirs.now, at), under(&theirs.before, at));
        if mine == now {
            return None;
        }
        let choice = |text: &str, chosen| Choice { value: text.to_owned(), words: text.to_owned(), chosen };
        // Who did not touch the field does not mind the other's figure in it.
        Some((vec![choice(mine, mine != before), choice(now, mine == before)], before.to_owned()))
    }

    /// Whether something is wrong at a field.
    pub(crate) fn has_fault(&self, at: &str) -> bool {
        self.faults.iter().any(|fault| fault.at == at)
    }

    /// Whether anything is wrong so far.
    pub(crate) fn is_faulty(&self) -> bool {
        !self.faults.is_empty()
    }

    /// A field as the page shows it: as typed, its fault beside it.
    pub(crate) fn field(&self, name: &'static str, label: impl Into<String>) -> Field {
        self.field_named(name.to_owned(), label)
    }

    /// The field that is typed in first: it has the cursor, but where something is faulty, that has it.
    pub(crate) fn begins(&self, name: &'static str, label: impl Into<String>) -> Field {
        let field = self.field(name, label);
        Field { first: field.first || self.faults.is_empty(), ..field }
    }

    /// A field whose name is made up on the way.
    pub(crate) fn field_named(&self, name: String, label: impl Into<String>) -> Field {
        let fault = self.faults.iter().find(|fault| fault.at == name).map(|fault| fault.why.clone());
        let first = self.faults.first().is_some_and(|fault| fault.at == name);
        let either = self.either(&name);
        let kind = if either.is_some() { EITHER } else { "text" };
        let (choices, before) = either.unwrap_or_default();
        Field {
            value: self.raw(&name).to_owned(),
            name,
            label: label.into(),
            hint: String::new(),
            fault,
            first,
            kind,
            choices,
            before,
            completes: "off",
        }
    }

    /// The faults that belong to none of the fields shown, for the head of the form.
    pub(crate) fn other_faults(&self, shown: &[&Field]) -> Vec<String> {
        let at_a_field = |fault: &&Fault| shown.iter().any(|field| field.name == fault.at);
        self.faults.iter().filter(|fault| !at_a_field(fault)).map(|fault| fault.why.clone()).collect()
    }
}

/// A field on which two people differ: one of the two is chosen.
const EITHER: &str = "either";

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
    /// Whether it gets the cursor: the first faulty one, else the one that is typed in first.
    pub(crate) first: bool,
    /// `text`, `password`, `date`, `area`, `choice`, or `either` where somebody else saved something else.
    pub(crate) kind: &'static str,
    /// What there is to choose from.
    pub(crate) choices: Vec<Choice>,
    /// What stood here before either of two people saved.
    pub(crate) before: String,
    /// What a browser may fill in (HTML, autocomplete).
    pub(crate) completes: &'static str,
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

    /// Whether somebody else saved something else here.
    pub(crate) fn differs(&self) -> bool {
        self.kind == EITHER
    }

    /// As a name to sign in with.
    #[must_use]
    pub(crate) fn username(self) -> Self {
        Self { completes: "username", ..self }
    }

    /// As a password, which is never given back.
    #[must_use]
    pub(crate) fn password(self) -> Self {
        Self { kind: "password", value: String::new(), completes: "current-password", ..self }
    }

    /// As a password that is chosen here.
    #[must_use]
    pub(crate) fn new_password(self) -> Self {
        Self { completes: "new-password", ..self.password() }
    }

    /// As a day.
    #[must_use]
    pub(crate) fn day(self) -> Self {
        self.of_kind("date")
    }

    /// As running text.
    #[must_use]
    pub(crate) fn area(self) -> Self {
        self.of_kind("area")
    }

    fn of_kind(self, kind: &'static str) -> Self {
        Self { kind: if self.kind == EITHER { EITHER } else { kind }, ..self }
    }

    /// As a choice of `(value, words)`.
    #[must_use]
    pub(crate) fn choice(self, choices: impl IntoIterator<Item = (String, String)>) -> Self {
        let chosen = self.value.clone();
        let line = |(value, words): (String, String)| Choice { chosen: value == chosen, value, words };
        let lines: Vec<Choice> = choices.into_iter().map(line).collect();
        if self.kind != EITHER {
            return Self { kind: "choice", choices: lines, ..self };
        }
        let words = |value: &str| lines.iter().find(|line| line.value == value).map(|line| line.words.clone());
        let before = words(&self.before).unwrap_or(self.before);
        let named = self.choices.into_iter();
        let choices = named.map(|one| Choice { words: words(&one.value).unwrap_or(one.words), ..one }).collect();
        Self { choices, before, ..self }
    }
}
