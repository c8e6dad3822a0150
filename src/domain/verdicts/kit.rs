//! Judging kit: its standard, its label, its dates.

use std::cell::RefCell;

use jiff::Unit;
use jiff::civil::Date;

use crate::domain::basis::Basis;
use crate::domain::car_dates::CarDates;
use crate::domain::ids::{Balloon, Kind};
use crate::domain::kit::{Good, KitItem, good_through};
use crate::domain::rule_books::RuleBook;
use crate::domain::rule_books::kinds::KitRule;

use super::asked::unasked;
use super::known::Known;
use super::verdict::{Answer, LimitText, Verdict};

/// Judges every item that a rule speaks of.
pub(super) fn judge(kit: &KitRule, known: &Known<'_>) -> Vec<Verdict> {
    let rule = &kit.rule;
    if let Some(verdict) = unasked(rule, known) {
        return vec![verdict];
    }
    let items: Vec<&KitItem> = known.kit.iter().filter(|item| kit.speaks_of(&item.item)).collect();
    if items.is_empty() {
        let because = format!("Not recorded yet: {}.", kit.item);
        return vec![Verdict::new(rule, None, Answer::NotMeasured).because(because)];
    }
    items.into_iter().map(|item| of_item(kit, item, known).settled(rule, known)).collect()
}

/// What a book says of one item alone, for an event or for today: whether it would do in a car of that book.
pub fn judge_item(book: &RuleBook, item: &KitItem, event_day: Option<Date>, today: Date) -> Vec<Verdict> {
    let known = Known {
        figures: &[],
        members: &[],
        whole: false,
        joints: &[],
        gussets: &[],
        feet: &[],
        parts: &[],
        class: None,
        welded: &[],
        car: &CarDates::default(),
        met: RefCell::default(),
        kit: std::slice::from_ref(item),
        event_day,
        today,
        photographed: &|_, _| false,
    };
    book.kit.iter().filter(|rule| rule.speaks_of(&item.item)).flat_map(|rule| judge(rule, &known)).collect()
}

fn of_item(kit: &KitRule, item: &KitItem, known: &Known<'_>) -> Verdict {
    let verdict = |answer| Verdict::new(&kit.rule, Some(Balloon::new(Kind::Kit, item.number)), answer);
    let labels: Vec<_> = std::iter::once(&item.label).chain(&item.second_label).collect();
    let Some(label) = labels.iter().find(|label| label.accepted(kit)) else {
        if labels.iter().all(|label| label.standard.trim().is_empty()) {
            return verdict(Answer::NotMeasured).because("The label's standard is not recorded.");
        }
        let standards: Vec<&str> = labels.iter().map(|label| label.standard.as_str()).collect();
        let because = format!("Its standard is not among those the book accepts: {}.", standards.join(", "));
        let limit = LimitText::words(kit.standards.join(" or "));
        return verdict(Answer::ShortBy).limited(limit).because(because);
    };
    let missing = label.missing(&kit.label_fields);
    if !missing.is_empty() {
        let words: Vec<&str> = missing.iter().map(|field| field.word()).collect();
        return verdict(Answer::NotMeasured).because(format!("The label must show: {}.", words.join(", ")));
    }
    let (day, told) = match known.event_day {
        Some(day) => (day, format!("The event ends on {day}.")),
        None => (known.today, format!("No event day is set, so it is judged for today, {}.", known.today)),
    };
    match good_through(kit, item) {
        Good::Always => {
            verdict(Answer::Meets(Basis::Recorded)).because(format!("“{}” has no end by this rule.", label.standard))
        }
        Good::Unknown(field) => {
            verdict(Answer::NotMeasured).because(format!("When it ends is not known: “{}” is missing.", field.word()))
        }
        Good::Through(last) => verdict(dated(last, day))
            .limited(LimitText::words(format!("good through {last}")))
            .because(told)
            .because(days(last, day)),
        Good::TwoEnds(first, second) if dated(first, day) != dated(second, day) => verdict(Answer::ScrutineerDecides)
            .limited(LimitText::words(format!("good through {first} or {second}")))
            .because(told)
            .because("Its two labels end on different days, and the book does not say which counts."),
        Good::TwoEnds(first, second) => {
            let last = if day <= first { first } else { second };
            verdict(dated(last, day))
                .limited(LimitText::words(format!("good through {last}")))
                .because(told)
                .because(days(last, day))
        }
    }
}

fn dated(last: Date, day: Date) -> Answer {
    if day <= last { Answer::Meets(Basis::Recorded) } else { Answer::OverBy }
}

fn days(last: Date, day: Date) -> String {
    let between = last.until((Unit::Day, day)).map_or(0, |span| span.get_days());
    match between {
        0 => "That is its last day.".to_owned(),
        1 => "That is 1 day too late.".to_owned(),
        late if late > 0 => format!("That is {late} days too late."),
        -1 => "1 day is left then.".to_owned(),
        early => format!("{} days are left then.", early.unsigned_abs()),
    }
}
