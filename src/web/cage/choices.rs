//! The choices of bars on the cage's sheet.

use serde_json::{Map, Value, json};

use crate::domain::cage::Options;
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
    Choose { key, label, hint: "", kept: Kept::Word, lines }
}

const fn yes_or_no(key: &'static str, label: &'static str) -> Choose {
    Choose { key, label, hint: "", kept: Kept::YesOrNo, lines: YES }
}

/// What can be chosen on the sheet, in its order.
static CHOICES: [Choose; 13] = [
    choose("hoop_diagonal", "Hoop diagonals", DIAGONALS),
    choose("roof_diagonal", "Roof diagonals", ROOF),
    choose("backstay_diagonal", "Backstay diagonals", DIAGONALS),
    Choose {
        hint: "Of each cross of diagonals one bar runs through, the other is two pieces. A single diagonal lies as this one.",
        ..choose("through", "Diagonals: which one runs through", SIDES)
    },
    choose("door_left", "Door bars, left", DOORS),
    choose("door_right", "Door bars, right", DOORS),
    Choose {
        hint: "Where door bars cross, one runs through, the other is two pieces.",
        ..choose("door_through", "Crossed door bars: which one runs through", AT_HOOP)
    },
    yes_or_no("sill_bars", "Sill bars"),
    Choose {
        kept: Kept::Count,
        hint: "They run from sill bar to sill bar, evenly along them; with them there are sill bars.",
        ..choose("seat_cross_bars", "Seat cross bars", COUNTS)
    },
    yes_or_no("harness_bar", "Harness bar"),
    yes_or_no("dash_bar", "Dash bar"),
    yes_or_no("hoop_cross_bar", "Hoop cross bar"),
    yes_or_no("pillar_struts", "Pillar struts"),
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
