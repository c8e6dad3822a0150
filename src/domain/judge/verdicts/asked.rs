//! Whether a rule is asked of this car at all: where what decides that is not known, neither is the answer.

use std::cmp::Ordering;

use crate::domain::book::terms::bound::Value;
use crate::domain::book::{Compare, NeededIf, Of, Rule};
use crate::domain::measure::amounts::Amount;
use crate::domain::measure::figures::Figure;
use crate::domain::measure::guard;
use crate::domain::measure::guard::Acceptance;
use crate::domain::measure::measures::Measure;
use crate::domain::words::ids::Balloon;

use super::known::Known;
use super::parts::{of_part_of_bar, parts_of, straight};
use super::verdict::{Answer, Verdict};

/// How a rule's own condition stands.
enum Condition {
    /// It holds, or there is none.
    Holds,
    /// It does not.
    Not,
    /// What decides it is not known.
    Unknown,
    /// A figure lies nearer to the value than it can be told.
    TooClose(String),
}

fn condition(rule: &Rule, known: &Known<'_>) -> Condition {
    match &rule.needed_if {
        None => Condition::Holds,
        Some(NeededIf::Fitted(role)) if known.members.iter().any(|bar| bar.role == *role) => Condition::Holds,
        Some(NeededIf::Fitted(_)) if known.laid_out() => Condition::Not,
        Some(NeededIf::Fitted(_)) => Condition::Unknown,
        Some(NeededIf::Figure { measure, of, compare, value, .. }) => {
            of_figure((*measure, *of), (*compare, *value), known)
        }
    }
}

fn of_figure((measure, of): (Measure, Of), wanted: (Compare, Value), known: &Known<'_>) -> Condition {
    let parts = parts_of(measure, of, known);
    let figures = parts.iter().flat_map(|part| known.of_part(measure, *part));
    let mut close = None;
    for figure in figures {
        match held(figure, wanted, known) {
            Some((true, false)) => return Condition::Holds,
            Some((_, true)) => close = Some(figure),
            Some((false, false)) | None => {}
        }
    }
    let without = |part: &Balloon| known.of_part(measure, *part).next().is_none();
    let unmeasured = parts.iter().any(|part| without(part) && !straight(measure, *part, known));
    // A bar that a laid out cage does not have has no figure that could ask for anything; but what a person reads off the
    // car is there whichever bars were chosen.
    let absent = matches!(of, Of::Role(_)) && !of_part_of_bar(measure) && !measure.measured() && known.laid_out();
    match close {
        Some(figure) => Condition::TooClose(format!(
            "The {} of {} is nearer to the value that decides it than can be told.",
            measure.word(),
            figure.of
        )),
        None if unmeasured || (parts.is_empty() && !absent) => Condition::Unknown,
        None => Condition::Not,
    }
}

/// Whether a figure stands so to the value, and whether the doubt of it reaches over; none when the two are not of a kind.
fn held(figure: &Figure, (compare, value): (Compare, Value), known: &Known<'_>) -> Option<(bool, bool)> {
    let edge = value.beside(figure, known.figures)?;
    let order = figure.amount.compare(edge)?;
    let holds = match compare {
        Compare::MoreThan => order == Ordering::Greater,
        Compare::AtLeast => order != Ordering::Less,
        Compare::LessThan => order == Ordering::Less,
        Compare::AtMost => order != Ordering::Greater,
    };
    let doubt = figure.doubt().filter(|doubt| *doubt > 0.0);
    let apart = figure.amount.apart(edge).map(Amount::in_base_unit);
    let close = doubt.zip(apart).is_some_and(|(doubt, apart)| Acceptance::of(apart, doubt, holds).too_close());
    Some((holds, close))
}

/// The verdict of a rule that is not asked, or of which it is not known whether it is.
pub(super) fn unasked(rule: &Rule, known: &Known<'_>) -> Option<Verdict> {
    let not_asked = |because: String| Some(Verdict::new(rule, None, Answer::NotAsked).because(because));
    if let Some(when) = &rule.applies_when {
        // A date that is still to come is a slip of whoever wrote it down: it decides nothing.
        let to_come = known.car.of(when.car).filter(|date| date.surely_after(known.today));
        let holds = if to_come.is_some() { None } else { when.holds(known.car) };
        match (holds, known.car.of(when.car)) {
            (Some(true), _) => {}
            (Some(false), Some(date)) => {
                return not_asked(format!("It is asked of cars {}; this one has {date}.", when.text()));
            }
            (_, date) => {
                let description = date.map_or_else(
                    || format!("“{}” is not recorded for this car.", when.car.asked()),
                    |date| {
                        let why = if to_come.is_some() { "is still to come" } else { "does not say" };
                        format!("“{}” is recorded as {date}, which {why}.", when.car.asked())
                    },
                );
                let asked = format!("It is asked of cars {}. {description}", when.text());
                let verdict = Verdict::new(rule, None, Answer::NotMeasured).because(asked);
                return Some(Verdict { car_date: Some(when.car), ..verdict });
            }
        }
    }
    match condition(rule, known) {
        Condition::Holds => None,
        Condition::Not => not_asked("Its condition does not hold here.".to_owned()),
        Condition::TooClose(why) => {
            let verdict = Verdict::new(rule, None, Answer::TooClose).because("Whether this is asked cannot be told.");
            Some(Verdict { also: deciding(rule, known), ..verdict.because(why).because(guard::RULE) })
        }
        Condition::Unknown => {
            let missing = match &rule.needed_if {
                Some(NeededIf::Figure { measure, of, .. }) => format!("{} of {}", measure.word(), of.word()),
                Some(NeededIf::Fitted(role)) => format!("whether there is a {}", role.word()),
                None => "its condition".to_owned(),
            };
            let because = format!("Whether this is asked depends on what is not known yet: {missing}.");
            let verdict = Verdict::new(rule, None, Answer::NotMeasured).because(because);
            Some(Verdict { also: deciding(rule, known), ..verdict })
        }
    }
}

/// The figures that decide whether a rule is asked.
fn deciding(rule: &Rule, known: &Known<'_>) -> Vec<(Measure, Balloon)> {
    let Some(NeededIf::Figure { measure, of, .. }) = &rule.needed_if else { return Vec::new() };
    parts_of(*measure, *of, known).into_iter().map(|part| (*measure, part)).collect()
}
