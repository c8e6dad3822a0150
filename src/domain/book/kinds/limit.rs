//! A limit on a figure: at least, at most, or between, each edge in or out.

use crate::domain::book::terms::bound::{Bound, Value, edges_text};
use crate::domain::book::terms::fields::Fields;
use crate::domain::book::{Of, Rule};
use crate::domain::cage::GussetKind;
use crate::domain::measure::amounts::Dimension;
use crate::domain::measure::measures::Measure;

/// A limit on a figure.
#[derive(Debug, Clone, PartialEq)]
pub struct Limit {
    /// What every rule carries.
    pub rule: Rule,
    /// Which figure.
    pub measure: Measure,
    /// Of what.
    pub of: Of,
    /// The least allowed.
    pub least: Option<Bound>,
    /// The most allowed.
    pub most: Option<Bound>,
    /// Of gussets made so; of all, when empty. Not read for what is no figure of a gusset.
    pub gusset_kinds: Vec<GussetKind>,
}

/// What a gusset is made of, as a book writes it.
pub const GUSSET_KINDS: [(&str, GussetKind); 3] = [
    (GussetKind::Saddle.word(), GussetKind::Saddle),
    (GussetKind::Flat.word(), GussetKind::Flat),
    (GussetKind::Tube.word(), GussetKind::Tube),
];

impl Limit {
    pub(in crate::domain::book) fn read(fields: &Fields<'_>) -> Option<Self> {
        let rule = Rule::read(fields);
        let measure = fields.measure("measure");
        let of = fields.word("of", &Of::words());
        let (least, most) = (fields.number_maybe("least"), fields.number_maybe("most"));
        let (least_included, most_included) = (fields.flag("least_included", true), fields.flag("most_included", true));
        let diameters = fields.flag("times_diameter", false);
        let share_of = if fields.has("share_of") { fields.measure("share_of") } else { None };
        if measure.is_some_and(|measure| measure.dimension() == Dimension::Grade) {
            let wanted = "Write a [[plate]] rule with bolt_grade.";
            fields.slip("measure", "A bolt's grade is asked for by its plate.", wanted);
        }
        let made = measure.map(|measure| match share_of {
            Some(other) => read_share(fields, measure, other),
            None => read_value(fields, measure, diameters),
        });
        fields.known("unit");
        let gusset_kinds = fields.words("gusset_kinds", &GUSSET_KINDS);
        let of_gusset = [Measure::GussetLeg, Measure::GussetThickness, Measure::GussetHole];
        if fields.has("gusset_kinds") && measure.is_some_and(|measure| !of_gusset.contains(&measure)) {
            let wanted = "Leave “gusset_kinds” out, or name a figure of a gusset.";
            fields.slip("gusset_kinds", "Only a gusset's figure can be of gussets made so.", wanted);
        }
        if !fields.has("least") && !fields.has("most") {
            fields.slip("", "A limit has neither “least” nor “most”.", "Give at least one of them.");
        }
        for (flag, edge) in [("least_included", "least"), ("most_included", "most")] {
            if fields.has(flag) && !fields.has(edge) {
                fields.slip(
                    flag,
                    format!("“{flag}” speaks of an edge that is not there."),
                    format!("Give “{edge}” too."),
                );
            }
        }
        if let (Some(least), Some(most)) = (least, most)
            && (least > most || (least >= most && !(least_included && most_included)))
        {
            fields.slip("most", "Nothing lies between these edges.", "Make “most” more than “least”.");
        }
        fields.finish();
        let made = made??;
        let bound = |number: Option<f64>, included| number.and_then(|number| made(number, included));
        Some(Self {
            rule: rule?,
            measure: measure?,
            of: of?,
            least: bound(least, least_included),
            most: bound(most, most_included),
            gusset_kinds,
        })
    }

    /// What it is of, in words: "every bar", "gusset, as flat plate".
    pub fn of_words(&self) -> String {
        let kinds: Vec<&str> = self.gusset_kinds.iter().map(|kind| kind.word()).collect();
        let made = if kinds.is_empty() { String::new() } else { format!(", as {}", kinds.join(" or ")) };
        format!("{}{made}", self.of.word())
    }

    /// The limit in words: "at least 2 diameters, at most 4 diameters".
    pub fn text(&self) -> String {
        edges_text(self.least.as_ref(), self.most.as_ref())
    }
}

type Make = Box<dyn Fn(f64, bool) -> Option<Bound>>;

/// How a number of this limit becomes so much of another figure.
fn read_share(fields: &Fields<'_>, measure: Measure, other: Measure) -> Option<Make> {
    for name in ["unit", "times_diameter"] {
        if fields.has(name) {
            let wanted = format!("Leave “{name}” out, or “share_of”.");
            fields.slip(name, "A limit that is a share of another figure is nothing else.", wanted);
        }
    }
    let kinds = [Dimension::Length, Dimension::Area, Dimension::Angle];
    if measure.dimension() != other.dimension() || !kinds.contains(&measure.dimension()) || measure == other {
        let what = format!("“{}” is no share of “{}”.", measure.word(), other.word());
        fields.slip("share_of", what, "Name another figure of the same part, a length for a length.");
        return None;
    }
    Some(Box::new(move |number, included| {
        let printed = format!("{number} of the {}", other.word());
        Some(Bound { value: Value::Share(number, other), included, printed })
    }))
}

/// How a number of this limit becomes an edge: by its unit, or in diameters.
fn read_value(fields: &Fields<'_>, measure: Measure, diameters: bool) -> Option<Make> {
    if !diameters {
        let unit = fields.unit_of(measure.dimension());
        return Some(Box::new(move |number, included| {
            let value = Value::Amount(unit.amount(number)?);
            Some(Bound { value, included, printed: unit.printed(number) })
        }));
    }
    if measure.dimension() != Dimension::Length {
        let wanted = "Only a length can be given in diameters of the tube.";
        fields.slip("times_diameter", format!("“{}” is no length.", measure.word()), wanted);
        return None;
    }
    if fields.has("unit") {
        fields.slip("unit", "A limit in diameters has no unit.", "Leave “unit” out, or “times_diameter”.");
    }
    Some(Box::new(|number, included| {
        let printed =
            if (number - 1.0).abs() < f64::EPSILON { "1 diameter".to_owned() } else { format!("{number} diameters") };
        Some(Bound { value: Value::Diameters(number), included, printed })
    }))
}
