//! The choices of bars on the cage's sheet.

use serde_json::{Map, Value, json};

use super::turned::would;
use crate::domain::cage::{CageRecord, Options};
use crate::domain::derived::worked::Worked;
use crate::domain::derived::worked::asked_bars::Asking;
use crate::domain::steel::dies::Die;
use crate::domain::words::roles::MemberRole;
use crate::quantity::Units;
use crate::web::form::{Field, Form, Pairs};

/// How a choice is kept in the record.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kept {
    Word,
    YesOrNo,
    Count,
}

/// A choice of bars beside the basic structure.
pub(super) struct Choose {
    /// Its name in the record and the form.
    key: &'static str,
    /// What it asks.
    label: &'static str,
    hint: &'static str,
    kept: Kept,
    /// The bars it lays out; none where it only says which of them lies how.
    role: Option<MemberRole>,
    /// What there is to choose from, as stored and as read.
    lines: &'static [(&'static str, &'static str)],
}

const DIAGONALS: &[(&str, &str)] = &[("none", "none"), ("one", "one"), ("cross", "a cross")];
const DOORS: &[(&str, &str)] = &[("none", "none"), ("one", "one"), ("two", "two"), ("cross", "a cross")];
const ROOF: &[(&str, &str)] = &[
    ("none", "none"),
    ("one", "one"),
    ("cross", "a cross"),
    ("v_forward", "a V, open forward"),
    ("v_rearward", "a V, open rearward"),
];
const YES: &[(&str, &str)] = &[("no", "no"), ("yes", "yes")];
const SIDES: &[(&str, &str)] =
    &[("left", "the one that is high or rearward on the left"), ("right", "the one on the right")];
const AT_HOOP: &[(&str, &str)] =
    &[("high_at_hoop", "the one that is high at the hoop"), ("low_at_hoop", "the one that is low at the hoop")];
const COUNTS: &[(&str, &str)] = &[("0", "none"), ("1", "one"), ("2", "two"), ("3", "three"), ("4", "four")];

type Lines = &'static [(&'static str, &'static str)];

const fn choose(key: &'static str, label: &'static str, lines: Lines) -> Choose {
    Choose { key, label, hint: "", kept: Kept::Word, role: None, lines }
}

const fn yes_or_no(key: &'static str, label: &'static str, role: MemberRole) -> Choose {
    Choose { key, label, hint: "", kept: Kept::YesOrNo, role: Some(role), lines: YES }
}

impl Choose {
    const fn of(self, role: MemberRole) -> Self {
        Self { role: Some(role), ..self }
    }
}

/// What can be chosen on the sheet, in its order.
static CHOICES: [Choose; 13] = [
    choose("hoop_diagonal", "Hoop diagonals", DIAGONALS).of(MemberRole::HoopDiagonal),
    choose("roof_diagonal", "Roof diagonals", ROOF).of(MemberRole::RoofDiagonal),
    choose("backstay_diagonal", "Backstay diagonals", DIAGONALS).of(MemberRole::BackstayDiagonal),
    Choose {
        hint: "Of each cross of diagonals one bar runs through, the other is two pieces. A single diagonal lies as this one.",
        ..choose("through", "Diagonals: which one runs through", SIDES)
    },
    choose("door_left", "Door bars, left", DOORS).of(MemberRole::DoorBar),
    choose("door_right", "Door bars, right", DOORS).of(MemberRole::DoorBar),
    Choose {
        hint: "Where door bars cross, one runs through, the other is two pieces.",
        ..choose("door_through", "Crossed door bars: which one runs through", AT_HOOP)
    },
    yes_or_no("sill_bars", "Sill bars", MemberRole::SillBar),
    Choose {
        kept: Kept::Count,
        hint: "They run from sill bar to sill bar, evenly along them; with them there are sill bars.",
        ..choose("seat_cross_bars", "Seat cross bars", COUNTS).of(MemberRole::SeatCrossBar)
    },
    yes_or_no("harness_bar", "Harness bar", MemberRole::HarnessBar),
    yes_or_no("dash_bar", "Dash bar", MemberRole::DashBar),
    yes_or_no("hoop_cross_bar", "Hoop cross bar", MemberRole::HoopCrossBar),
    yes_or_no("pillar_struts", "Pillar struts", MemberRole::PillarStrut),
];

impl Choose {
    /// What is sent, as the record keeps it.
    fn value(&self, sent: &str) -> Value {
        match self.kept {
            Kept::Word => json!(sent),
            Kept::YesOrNo => json!(sent == "yes"),
            Kept::Count => sent.parse::<u8>().map_or(Value::Null, |count| json!(count)),
        }
    }
}

/// The options as the form's pairs.
pub(super) fn chosen(options: &Options) -> Pairs {
    let stored = serde_json::to_value(options).unwrap_or_default();
    let word = |value: &Value| match value {
        Value::Bool(true) => "yes".to_owned(),
        Value::Bool(false) => "no".to_owned(),
        Value::String(word) => word.clone(),
        other => other.to_string(),
    };
    CHOICES.iter().filter_map(|choice| Some((choice.key.to_owned(), word(stored.get(choice.key)?)))).collect()
}

/// Which clauses ask for what is chosen, and which of them it breaks.
pub(super) struct Clause {
    /// "3.9 asks for at least one", "not asked".
    pub(super) words: String,
    /// "3.9 would be short by 1"; empty where none is broken.
    pub(super) breaks: String,
}

/// What is at hand to choose by: this judging of the cage as it is chosen, and the shop's dies.
pub(super) struct AtHand<'w> {
    pub(super) worked: &'w Worked,
    /// Whether the choices are only typed.
    pub(super) typed: bool,
    pub(super) units: Units,
    /// The shop's.
    pub(super) dies: &'w [Die],
    /// The figures of the car that the build was begun from.
    pub(super) pattern: Option<&'w CageRecord>,
}

impl AtHand<'_> {
    fn of(&self, choice: &Choose) -> Clause {
        let said = |words: &str| Clause { words: words.to_owned(), breaks: String::new() };
        if self.worked.rules.is_none() {
            return said(if self.worked.unread_book.is_empty() { "no book chosen" } else { "the book does not read" });
        }
        let asking = choice.role.and_then(|role| self.worked.asking_for(role)).unwrap_or_default();
        if asking.is_empty() {
            return said("not asked");
        }
        let broken = asking.iter().filter(|asking| asking.verdict.state().fails()).map(|asking| self.broken(asking));
        let broken = broken.collect::<Vec<_>>().join("; ");
        Clause { words: asking.iter().map(Asking::describe).collect::<Vec<_>>().join("; "), breaks: broken }
    }

    fn broken(&self, asking: &Asking<'_>) -> String {
        let words = if self.typed {
            would(asking.verdict, self.units)
        } else {
            format!("is {}", asking.verdict.describe_state(self.units))
        };
        format!("{} {words}", asking.needed.rule.clause)
    }
}

/// What the book says of each field, in their order.
pub(super) fn clauses(book: &AtHand<'_>) -> Vec<Clause> {
    CHOICES.iter().map(|choice| book.of(choice)).collect()
}

/// The fields as typed.
pub(super) fn fields(form: &Form) -> Vec<Field> {
    let line = |(value, words): &(&str, &str)| ((*value).to_owned(), (*words).to_owned());
    let field = |choice: &'static Choose| {
        form.field(choice.key, choice.label).hint(choice.hint).choice(choice.lines.iter().map(line))
    };
    CHOICES.iter().map(field).collect()
}

/// The options as chosen; what is not in a list is noted at its field, and the rest stays as it was.
pub(super) fn read(form: &mut Form, before: &Options) -> Options {
    let mut stored = match serde_json::to_value(before) {
        Ok(Value::Object(options)) => options,
        _ => Map::new(),
    };
    for choice in &CHOICES {
        if choice.lines.iter().any(|line| line.0 == form.text(choice.key)) {
            stored.insert(choice.key.to_owned(), choice.value(form.text(choice.key)));
        } else {
            form.fault(choice.key, "Choose one of the list.");
        }
    }
    serde_json::from_value(Value::Object(stored)).unwrap_or_else(|_| before.clone())
}
