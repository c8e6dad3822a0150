//! The figures that a rule's fields hold, each with its number as the book prints it and the side it bounds.

use crate::domain::book::kinds::{
    ClassEdge, GussetRule, KitRule, Limit, MemberNeeded, PlateRule, SteelRule, TubeRow, WeightClass,
};
use crate::domain::book::terms::bound::{Bound, Check, Value};
use crate::domain::book::terms::rule::{Compare, NeededIf, Rule};
use crate::domain::measure::amounts::{Amount, Dimension};
use crate::quantity::Length;

use super::side::{Kind, Side};

/// A figure that a rule's fields hold.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Held {
    /// The number as the book prints it.
    pub(super) number: f64,
    /// Its kind, and how many base units of it; none of what only has a number.
    pub(super) base: Option<(Kind, f64)>,
    /// Which side it bounds.
    pub(super) side: Side,
    /// It in words.
    pub(super) text: String,
}

/// The last number in a text as a book prints it: 12 of `12 in²`, 5 of `grade 5`, 0.6 of `3/5`.
fn number_in(printed: &str) -> f64 {
    let read = |word: &str| match word.split_once('/') {
        Some((above, below)) => Some(above.parse::<f64>().ok()? / below.parse::<f64>().ok()?),
        None => word.parse().ok(),
    };
    printed.split_whitespace().rev().find_map(read).unwrap_or(f64::NAN)
}

fn base(value: Value) -> Option<(Kind, f64)> {
    match value {
        Value::Amount(Amount::Count(_) | Amount::Ratio(_) | Amount::Grade(_)) | Value::Share(..) => None,
        Value::Amount(amount) => Some((Kind::Of(amount.dimension()), amount.in_base_unit())),
        Value::Diameters(times) => Some((Kind::Diameters, times)),
        // so long times the diameter: the words give the length
        Value::PerDiameter(length) => Some((Kind::Of(Dimension::Length), length.mm())),
    }
}

fn of_bound(bound: &Bound, least: bool) -> Held {
    let (side, text) = match (least, bound.included) {
        (true, true) => (Side::AtLeast, bound.least_text()),
        (true, false) => (Side::MoreThan, bound.least_text()),
        (false, true) => (Side::AtMost, bound.most_text()),
        (false, false) => (Side::LessThan, bound.most_text()),
    };
    Held { number: number_in(&bound.printed), base: base(bound.value), side, text }
}

fn of_bounds<'b>(least: Option<&'b Bound>, most: Option<&'b Bound>) -> impl Iterator<Item = Held> + use<'b> {
    least.map(|bound| of_bound(bound, true)).into_iter().chain(most.map(|bound| of_bound(bound, false)))
}

fn of_checks(checks: &[Check]) -> impl Iterator<Item = Held> {
    checks.iter().flat_map(|check| of_bounds(check.least.as_ref(), check.most.as_ref()))
}

fn counted(least: u32) -> Held {
    Held { number: f64::from(least), base: None, side: Side::AtLeast, text: format!("at least {least}") }
}

/// What decides whether a rule is asked at all.
pub(super) fn of_condition(rule: &Rule) -> Option<Held> {
    let NeededIf::Figure { compare, value, printed, .. } = rule.needed_if.as_ref()? else { return None };
    let side = match compare {
        Compare::MoreThan => Side::MoreThan,
        Compare::AtLeast => Side::AtLeast,
        Compare::LessThan => Side::LessThan,
        Compare::AtMost => Side::AtMost,
    };
    let text = format!("{} {printed}", compare.word());
    Some(Held { number: number_in(printed), base: base(*value), side, text })
}

pub(super) fn of_limit(limit: &Limit) -> Vec<Held> {
    of_bounds(limit.least.as_ref(), limit.most.as_ref()).collect()
}

pub(super) fn of_steel(steel: &SteelRule) -> Vec<Held> {
    of_checks(&steel.checks).collect()
}

pub(super) fn of_member(member: &MemberNeeded) -> Vec<Held> {
    vec![counted(member.count)]
}

pub(super) fn of_gusset(gusset: &GussetRule) -> Vec<Held> {
    let most =
        gusset.count_most.map(|most| Held { side: Side::AtMost, text: format!("at most {most}"), ..counted(most) });
    [counted(gusset.count_least)].into_iter().chain(most).collect()
}

pub(super) fn of_plate(plate: &PlateRule) -> Vec<Held> {
    let share = plate.section.as_ref().map(|section| Held {
        number: section.share,
        base: None,
        side: Side::AtLeast,
        text: format!("at least {}", section.printed),
    });
    of_checks(&plate.checks).chain(of_checks(&plate.bolts)).chain(share).collect()
}

/// Every way to count a life: the years, those that the body adds, both together.
pub(super) fn of_kit(kit: &KitRule) -> Vec<Held> {
    let both = kit.life_years.saturating_add(kit.extend_years);
    let mut years = vec![kit.life_years, kit.extend_years, both];
    years.retain(|years| *years > 0);
    years.dedup();
    let held = |years: u32| {
        let number = f64::from(years);
        Held { number, base: Some((Kind::Years, number)), side: Side::Unsaid, text: format!("{years} years") }
    };
    years.into_iter().map(held).collect()
}

pub(super) fn of_class(class: &WeightClass) -> Vec<Held> {
    let edge = |edge: &ClassEdge, inside: Side, outside: Side, words: [&str; 2]| {
        let [in_words, out_words] = words;
        Held {
            number: edge.printed.split_whitespace().next().and_then(|number| number.parse().ok()).unwrap_or(f64::NAN),
            base: Some((Kind::Of(Dimension::Mass), edge.at.kg())),
            side: if edge.included { inside } else { outside },
            text: format!("{} {}", if edge.included { in_words } else { out_words }, edge.printed),
        }
    };
    let over = class.over.as_ref().map(|at| edge(at, Side::AtLeast, Side::MoreThan, ["at least", "more than"]));
    let upto = class.upto.as_ref().map(|at| edge(at, Side::AtMost, Side::LessThan, ["at most", "less than"]));
    let mut held: Vec<Held> = over.into_iter().chain(upto).collect();
    held.extend(class.hoop.iter().chain(&class.other).flat_map(of_row));
    held
}

/// A tube's two figures, and those of its bonus.
fn of_row(row: &TubeRow) -> Vec<Held> {
    let held = |length: Length| Held {
        number: match row.size.printed {
            crate::quantity::Units::Inch => length.inches(),
            crate::quantity::Units::Metric => length.mm(),
        },
        base: Some((Kind::Of(Dimension::Length), length.mm())),
        side: Side::Unsaid,
        text: length_text(row, length),
    };
    let sizes = [Some(row.size.outside), Some(row.size.wall), row.bonus_outside, row.bonus_wall];
    sizes.into_iter().flatten().map(held).collect()
}

fn length_text(row: &TubeRow, length: Length) -> String {
    match row.size.printed {
        crate::quantity::Units::Inch => format!("{} in", rounded(length.inches())),
        crate::quantity::Units::Metric => format!("{} mm", rounded(length.mm())),
    }
}

/// To four decimals: what is left of reckoning to and fro is not shown.
fn rounded(number: f64) -> f64 {
    (number * 1e4).round() / 1e4
}
