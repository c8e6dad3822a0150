//! The die of a kind of bar: chosen from the shop's own, or another one's radius typed in the same place.

use crate::domain::cage::TubeRole;
use crate::domain::steel::dies::Die;
use crate::quantity::{Length, Typed, Units};
use crate::web::form::{Choice, Form, Pairs};

/// What is sent where none of the shop's dies is chosen: then the radius is as typed, or no die is named.
const NONE: &str = "none";
/// Two radii within this are one (own choice: dies are made to a tenth of a millimetre).
const SAME: Length = Length::from_mm(0.1);

/// The choice of a die beside the field of its radius.
pub(super) struct DieChoice {
    pub(super) name: String,
    /// The shop's dies, and that it is none of them; empty where the shop has none.
    pub(super) choices: Vec<Choice>,
    /// What stands in the field of the radius: nothing where a die is chosen.
    pub(super) typed: String,
    /// What there is to know of what is chosen; empty where nothing is.
    pub(super) note: &'static str,
    /// Whether the radius is of none of the shop's dies: then there is a way to where they are recorded.
    pub(super) unrecorded: bool,
}

/// The field of a die's radius.
pub(super) fn radius_of(role: TubeRole) -> String {
    format!("bend_radius_{}", role.key())
}

fn name_of(role: TubeRole) -> String {
    format!("die_{}", role.key())
}

/// A die that was chosen stands in the field of its radius from now on. A form without the choice says the radius itself.
pub(super) fn taken(typed: &mut Pairs) {
    for role in TubeRole::BOTH {
        let (name, radius) = (name_of(role), radius_of(role));
        let chosen = typed.iter().find(|(there, _)| *there == name).map(|(_, text)| text.clone());
        typed.retain(|(there, _)| *there != name);
        let text = match chosen.as_deref() {
            None | Some(NONE) => continue,
            Some(radius) => radius.to_owned(),
        };
        typed.retain(|(there, _)| *there != radius);
        typed.push((radius, text));
    }
}

impl DieChoice {
    /// The shop's dies that are in use, those for tube of this diameter first; each radius once.
    pub(super) fn of(form: &Form, role: TubeRole, dies: &[Die], outside: Length) -> Self {
        let text = form.text(&radius_of(role));
        let read: Option<Length> = Typed::read_as(text, form.units()).ok().map(|typed| typed.value);
        let (fit, others): (Vec<&Die>, Vec<&Die>) =
            dies.iter().filter(|die| die.in_use).partition(|die| (die.outside.value - outside).abs() <= SAME);
        let mut offered: Vec<&Die> = Vec::new();
        for die in fit.into_iter().chain(others) {
            if !offered.iter().any(|there| (there.radius.value - die.radius.value).abs() <= SAME) {
                offered.push(die);
            }
        }
        let own = read.and_then(|read| offered.iter().find(|die| (die.radius.value - read).abs() <= SAME).copied());
        let unrecorded = own.is_none() && !text.is_empty();
        let choice = |value: &str, words: String, chosen| Choice { value: value.to_owned(), words, chosen };
        let none =
            (!offered.is_empty()).then(|| choice(NONE, "none of these: type its radius".to_owned(), own.is_none()));
        let mut choices: Vec<Choice> = none.into_iter().collect();
        choices.extend(offered.iter().map(|die| {
            let chosen = own.is_some_and(|own| own.id == die.id);
            choice(&die.radius.text, describe(die, form.units()), chosen)
        }));
        let note = match (text.is_empty(), own) {
            (true, _) => "No die named: the bars that are bent are drawn pale.",
            (false, None) if read.is_some() => {
                "None of the shop’s dies has this radius: no bend marks until one is recorded."
            }
            (false, Some(own)) if (own.outside.value - outside).abs() > SAME => "This die is for other tube.",
            _ => "",
        };
        let typed = if own.is_some() { String::new() } else { form.raw(&radius_of(role)).to_owned() };
        Self { name: name_of(role), choices, typed, note, unrecorded: unrecorded && read.is_some() }
    }
}

fn describe(die: &Die, units: Units) -> String {
    let (radius, outside) = (die.radius.value.by_tape(units), die.outside.value.by_tape(units));
    format!("“{}”, {radius}, for tube of {outside}", die.name)
}
