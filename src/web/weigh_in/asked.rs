//! What is typed at a weighing: the pads at their wheels, and the rest by group.

use super::papers::Papers;
use crate::domain::book::RuleBook;
use crate::domain::weight::weigh_in::{Loads, USUAL_CONDITIONS};
use crate::quantity::{Show as _, Units};
use crate::web::form::{Field, Form};
use crate::web::gate::Seen;

/// The pads by name, in the order they are read, with where each stands and what it is called.
const PADS: [(&str, &str, &str); 4] = [
    ("left_front", "lf", "Left front"),
    ("right_front", "rf", "Right front"),
    ("left_rear", "lr", "Left rear"),
    ("right_rear", "rr", "Right rear"),
];

/// One pad at its wheel.
pub(super) struct Pad {
    pub(super) place: &'static str,
    pub(super) field: Field,
    /// Whether its figure stands without its unit, so that the unit stands behind it.
    pub(super) bare: bool,
    /// Whether the work begins here.
    pub(super) begins: bool,
}

/// The fields of a weighing.
pub(super) struct Asked {
    pub(super) pads: Vec<Pad>,
    pub(super) resolution: Field,
    pub(super) stood: Vec<Field>,
    pub(super) scale: Vec<Field>,
    pub(super) whole: Vec<Field>,
    pub(super) sure: Field,
}

impl Asked {
    pub(super) fn of(seen: &Seen, form: &Form) -> Self {
        let untouched = form.pairs().iter().all(|(name, _)| !PADS.iter().any(|pad| pad.0 == name));
        let pad = |(name, place, label)| {
            let field = form.field(name, label);
            let bare = !field.value.contains(char::is_alphabetic);
            Pad { place, bare, begins: untouched && place == "lf", field }
        };
        Self {
            pads: PADS.into_iter().map(pad).collect(),
            resolution: form.field("resolution", "Step of the scale's display, as 1 lb"),
            stood: vec![
                form.field("aboard", "Who is aboard").hint("As: nobody, or ballast of 80 kg in the driver's seat."),
                form.field("heights", "Hub or ride heights")
                    .hint("As they stand on the pads, if they were measured."),
                form.field("note", "Place, and what else there is to say").area(),
            ],
            scale: vec![
                form.field("scale", "Scale and its certificate")
                    .hint("Which scale, who checked it and when, the certificate's number."),
                Papers::choice(seen, form),
            ],
            whole: vec![
                form.field("total", "The total alone").hint("From a weighbridge: then no share of a wheel is known."),
                form.field("again", "Weighed again: the totals").hint(
                    "As 2,612 lb; 2,614 lb. Roll the car off and on between. The mean counts, the spread widens the doubt.",
                ),
            ],
            sure: form.field("sure", ""),
        }
    }
}

/// The pads of a recorded weighing, as typed; none when the car was weighed as a whole.
pub(super) fn pads(loads: &Loads, units: Units) -> Vec<Pad> {
    let Loads::Pads(pads) = loads else { return Vec::new() };
    let read = [&pads.left_front, &pads.right_front, &pads.left_rear, &pads.right_rear];
    let shown = Form::filled(
        units,
        PADS.iter().zip(read).map(|(pad, typed)| (pad.0.to_owned(), typed.value.show(units))).collect(),
    );
    let pad = |(name, place, label)| Pad { place, field: shown.field(name, label), bare: false, begins: false };
    PADS.into_iter().map(pad).collect()
}

/// What is ticked: the book's own conditions, or the usual ones where there is no book.
pub(super) fn conditions(book: Option<&RuleBook>, ticked: &[String]) -> Vec<(String, String, bool)> {
    let own = book.and_then(|book| book.weight.as_ref()).map(|weight| &weight.conditions);
    let all: Vec<(String, String)> = own.map_or_else(
        || USUAL_CONDITIONS.map(|(key, words)| (key.to_owned(), words.to_owned())).to_vec(),
        |own| own.iter().map(|condition| (condition.key.clone(), condition.words.clone())).collect(),
    );
    let tick = |(key, words): (String, String)| {
        let on = ticked.contains(&key);
        (key, words, on)
    };
    all.into_iter().map(tick).collect()
}
