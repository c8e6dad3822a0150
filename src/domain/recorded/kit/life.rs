//! Until which day an item of kit is good by a book's rule: by its printed end and by its life, whichever comes first.

use jiff::civil::Date;

use super::{KitItem, Label};
use crate::domain::book::kinds::{CountsFrom, Ends, KitRule, LabelField, TwoLabels};
use crate::domain::words::label_dates::LabelDate;

/// Until when something is good.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Good {
    /// It has no end.
    Always,
    /// Through this day, itself still good.
    Through(Date),
    /// A date is missing: good at least through one day, and no longer than through another, as far as either is known.
    Unknown {
        /// What must be known first.
        missing: LabelField,
        /// Good through this day whatever the missing date is.
        at_least: Option<Date>,
        /// Not good after this day whatever the missing date is.
        at_most: Option<Date>,
    },
    /// Two labels say different things, and the book does not say which counts: the earlier end, and the later.
    TwoEnds(Date, Date),
}

/// One end that a label has by a rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct EndBy {
    /// What it follows from: the printed end, or the date that its life counts from.
    pub field: LabelField,
    /// That date, as the label shows it.
    pub shown: LabelDate,
    /// The last good day.
    pub last: Date,
    /// Whether the date shows less than the rule needs, so that its first day counts.
    pub coarse: bool,
}

impl EndBy {
    /// In a sentence: "Made 2024-03: good through 2029-03-31."
    pub fn describe(&self) -> String {
        let Self { field, shown, last, coarse } = self;
        let first = if *coarse {
            format!(", counted from its first day, {}, as the day is not known", shown.first_day())
        } else {
            String::new()
        };
        let what = match field {
            LabelField::Printed => "Printed end",
            LabelField::Checked => "Checked",
            LabelField::Made | LabelField::Standard | LabelField::Serial => "Made",
        };
        format!("{what} {shown}{first}: good through {last}.")
    }
}

/// The last good day of a date, and whether the date shows less than is needed to say so. What the rule does not stretch to
/// a month's or a year's end is taken to end on the first day that the date can mean.
fn last_day(ends: Ends, date: LabelDate) -> (Date, bool) {
    let first = date.first_day();
    let last = match ends {
        Ends::Day => first,
        Ends::MonthEnd => first.last_of_month(),
        Ends::YearEnd => first.last_of_year(),
        Ends::LabelEnd => date.last_day(),
    };
    (last, last < date.last_day())
}

/// The end that is printed on a label. Where the book counts from it, the rule says when in its month or year that is;
/// where the book counts a life from something else, the rule stretches no date past what is printed.
fn printed(rule: &KitRule, label: &Label) -> Option<EndBy> {
    let shown = label.ends_printed?;
    let (last, coarse) = if rule.counts_from == Some(CountsFrom::Printed) {
        last_day(rule.ends, shown.later(rule.extend_years)?)
    } else {
        let (last, coarse) = last_day(rule.ends, shown);
        (last.min(shown.last_day()), coarse)
    };
    Some(EndBy { field: LabelField::Printed, shown, last, coarse })
}

/// The end of a label's life by a rule: none where the rule counts none, the missing field where its beginning is not known.
fn life(rule: &KitRule, label: &Label) -> Option<Result<EndBy, LabelField>> {
    let (shown, field) = match rule.counts_from? {
        CountsFrom::Made => (label.made, LabelField::Made),
        CountsFrom::Checked => (label.checked, LabelField::Checked),
        CountsFrom::Printed => return None,
    };
    let years = rule.life_years.saturating_add(rule.extend_years);
    let end = shown.and_then(|shown| Some((shown, last_day(rule.ends, shown.later(years)?))));
    Some(end.map(|(shown, (last, coarse))| EndBy { field, shown, last, coarse }).ok_or(field))
}

/// Every end that a label has by a rule, the earliest first.
pub fn ends_of(rule: &KitRule, label: &Label) -> Vec<EndBy> {
    let life = life(rule, label).and_then(Result::ok);
    let mut ends: Vec<EndBy> = printed(rule, label).into_iter().chain(life).collect();
    if !rule.included {
        for end in &mut ends {
            end.last = end.last.yesterday().unwrap_or(end.last);
        }
    }
    ends.sort_by_key(|end| end.last);
    ends
}

/// Until when a label is good by a rule: a printed end always ends, and so does a life.
pub fn good_by_label(rule: &KitRule, label: &Label) -> Good {
    let first = ends_of(rule, label).first().map(|end| end.last);
    let missing = match (life(rule, label), rule.counts_from) {
        (Some(Err(field)), _) => Some(field),
        (None, Some(CountsFrom::Printed)) if first.is_none() => Some(LabelField::Printed),
        _ => None,
    };
    match (missing, first) {
        (Some(missing), at_most) => Good::Unknown { missing, at_least: None, at_most },
        (None, Some(last)) => Good::Through(last),
        (None, None) => Good::Always,
    }
}

/// Until when an item is good by a rule, both its labels seen. A label of a standard that the rule does not accept
/// says nothing, unless it is the only one; nor does a label without an end beside one that has an end.
pub fn good_through(rule: &KitRule, item: &KitItem) -> Good {
    let second = item.second_label.as_ref().filter(|label| label.accepted(rule));
    let Some(second) = second else { return good_by_label(rule, &item.label) };
    if !item.label.accepted(rule) {
        return good_by_label(rule, second);
    }
    match (good_by_label(rule, &item.label), good_by_label(rule, second)) {
        (one, other) if one == other => one,
        (Good::Always, good) | (good, Good::Always) => good,
        (Good::Through(one), Good::Through(other)) => match rule.two_labels {
            Some(TwoLabels::Later) => Good::Through(one.max(other)),
            Some(TwoLabels::Each) => Good::Through(one.min(other)),
            None => Good::TwoEnds(one.min(other), one.max(other)),
        },
        (one, other) => bounded(rule.two_labels, &one, &other),
    }
}

/// Two labels, one of them at least with a date missing.
fn bounded(two_labels: Option<TwoLabels>, one: &Good, other: &Good) -> Good {
    let missing = [one, other].into_iter().find_map(|good| match good {
        Good::Unknown { missing, .. } => Some(*missing),
        _ => None,
    });
    let bounds = |good: &Good| match good {
        Good::Always => (Some(Date::MAX), None),
        Good::Through(last) => (Some(*last), Some(*last)),
        Good::Unknown { at_least, at_most, .. } => (*at_least, *at_most),
        Good::TwoEnds(first, second) => (Some(*first), Some(*second)),
    };
    let ((low, high), (other_low, other_high)) = (bounds(one), bounds(other));
    // Without a lower bound nothing is known to be good; without an upper one no day is known to be the last.
    let both = |one: Option<Date>, other: Option<Date>| Some((one?, other?));
    let (least, most) = (low.min(other_low), both(high, other_high).map(|(one, other)| one.max(other)));
    let (at_least, at_most) = match two_labels {
        Some(TwoLabels::Later) => (low.max(other_low), most),
        Some(TwoLabels::Each) => (least, [high, other_high].into_iter().flatten().min()),
        None => (least, most),
    };
    Good::Unknown { missing: missing.unwrap_or(LabelField::Printed), at_least, at_most }
}
