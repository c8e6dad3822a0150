//! The choices of bars on the cage's sheet, each with a picture of what stands in it.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

use serde_json::{Map, Value, json};

use crate::domain::cage::record::example::{TUBES, example_on};
use crate::domain::cage::solve;
use crate::domain::cage::{BasicStructure, CageRecord, Options};
use crate::domain::words::ids::Balloon;
use crate::drawing::car::cage::small;
use crate::quantity::Length;
use crate::web::form::{Field, Form, Pairs};
use crate::web::svg::Svg;

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
    /// How the keys of the bars begin that stand out in its picture.
    bars: &'static [&'static str],
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

const fn choose(key: &'static str, label: &'static str, lines: Lines, bars: &'static [&'static str]) -> Choose {
    Choose { key, label, hint: "", kept: Kept::Word, lines, bars }
}

const fn yes_or_no(key: &'static str, label: &'static str, bars: &'static [&'static str]) -> Choose {
    Choose { key, label, hint: "", kept: Kept::YesOrNo, lines: YES, bars }
}

/// What can be chosen on the sheet, in its order.
static CHOICES: [Choose; 13] = [
    choose("hoop_diagonal", "Hoop diagonals", DIAGONALS, &["hoop-diagonal"]),
    choose("roof_diagonal", "Roof diagonals", ROOF, &["roof-diagonal"]),
    choose("backstay_diagonal", "Backstay diagonals", DIAGONALS, &["backstay-diagonal"]),
    Choose {
        hint: "Of each cross of diagonals one bar runs through, the other is two pieces. A single diagonal lies as this one.",
        ..choose(
            "through",
            "Diagonals: which one runs through",
            SIDES,
            &["hoop-diagonal", "roof-diagonal", "backstay-diagonal"],
        )
    },
    choose("door_left", "Door bars, left", DOORS, &["door-bar/left"]),
    choose("door_right", "Door bars, right", DOORS, &["door-bar/right"]),
    Choose {
        hint: "Where door bars cross, one runs through, the other is two pieces.",
        ..choose("door_through", "Crossed door bars: which one runs through", AT_HOOP, &["door-bar"])
    },
    yes_or_no("sill_bars", "Sill bars", &["sill-bar"]),
    Choose {
        kept: Kept::Count,
        hint: "They run from sill bar to sill bar, evenly along them; with them there are sill bars.",
        ..choose("seat_cross_bars", "Seat cross bars", COUNTS, &["seat-cross-bar"])
    },
    yes_or_no("harness_bar", "Harness bar", &["harness-bar"]),
    yes_or_no("dash_bar", "Dash bar", &["dash-bar"]),
    yes_or_no("hoop_cross_bar", "Hoop cross bar", &["hoop-cross-bar"]),
    yes_or_no("pillar_struts", "Pillar struts", &["pillar-strut"]),
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

    /// Whether only the bar of a cross that runs through stands out.
    fn of_a_cross(&self) -> bool {
        matches!(self.key, "through" | "door_through")
    }

    /// The example's cage on a structure with this chosen, the bars it is about standing out; drawn once.
    fn picture(&'static self, on: BasicStructure, sent: &str) -> Svg {
        type Drawn = BTreeMap<(&'static str, &'static str, &'static str), Svg>;
        static DRAWN: Mutex<Drawn> = Mutex::new(BTreeMap::new());
        // What is not in the list is drawn as the first of it, so that nothing sent can grow the memory.
        let known = self.lines.iter().map(|line| line.0);
        let sent = known.clone().find(|known| *known == sent).or_else(|| known.clone().next()).unwrap_or_default();
        let place = (on.key(), self.key, sent);
        if let Some(drawn) = DRAWN.lock().unwrap_or_else(PoisonError::into_inner).get(&place) {
            return drawn.clone();
        }
        let drawn = self.draw(on, sent);
        DRAWN.lock().unwrap_or_else(PoisonError::into_inner).insert(place, drawn.clone());
        drawn
    }

    fn draw(&self, on: BasicStructure, sent: &str) -> Svg {
        let plain = if self.of_a_cross() {
            json!({ "hoop_diagonal": "cross", "door_left": "cross", "door_right": "cross" })
        } else {
            json!({})
        };
        let mut chosen = match plain {
            Value::Object(chosen) => chosen,
            _ => Map::new(),
        };
        chosen.insert(self.key.to_owned(), self.value(sent));
        let options = serde_json::from_value(Value::Object(chosen)).unwrap_or_default();
        let record = CageRecord { options, gussets: Vec::new(), ..example_on(on) };
        let cage = solve(&record.numbered_for(&TUBES), &TUBES);
        let pieces = |key: &str| key.ends_with("/1") || key.ends_with("/2");
        let own = cage.members.iter().filter(|member| self.bars.iter().any(|bar| member.key.starts_with(bar)));
        let own = own.filter(|member| !(self.of_a_cross() && pieces(&member.key)));
        let own: Vec<Balloon> = own.map(|member| member.balloon).collect();
        let frame = (Length::from_mm(96.0), Length::from_mm(66.0));
        Svg::of(&small(&cage, &own, frame), frame, |_| None)
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

/// The fields as typed, each with its picture on this structure.
pub(super) fn fields(form: &Form, on: BasicStructure) -> Vec<(Field, Svg)> {
    let line = |(value, words): &(&str, &str)| ((*value).to_owned(), (*words).to_owned());
    let field = |choice: &'static Choose| {
        let field = form.field(choice.key, choice.label).hint(choice.hint).choice(choice.lines.iter().map(line));
        (field, choice.picture(on, form.text(choice.key)))
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
