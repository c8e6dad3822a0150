//! Judging kit: its standard, its label, its dates.

use jiff::Unit;
use jiff::civil::Date;

use crate::domain::book::RuleBook;
use crate::domain::book::kinds::KitRule;
use crate::domain::measure::amounts::LimitText;
use crate::domain::recorded::kit::life::{EndBy, Good, ends_of, good_through};
use crate::domain::recorded::kit::{KitItem, Label};
use crate::domain::words::basis::Basis;
use crate::domain::words::car_dates::CarDates;
use crate::domain::words::ids::{Balloon, Kind};
use crate::domain::words::label_dates::LabelDate;

use super::asked::unasked;
use super::known::Known;
use super::verdict::{Answer, Verdict, Word};

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
    let accepted: Vec<&Label> = labels.iter().copied().filter(|label| label.accepted(kit)).collect();
    let Some(label) = accepted.first() else {
        if labels.iter().all(|label| label.standard.trim().is_empty()) {
            return verdict(Answer::NotMeasured).because("The label's standard is not recorded.");
        }
        let standards: Vec<&str> = labels.iter().map(|label| label.standard.as_str()).collect();
        let because = format!("Its standard is not among those the book accepts: {}.", standards.join(", "));
        let limit = LimitText::words(kit.standards.join(" or "));
        return verdict(Answer::ShortBy).limited(limit).because(because);
    };
    // Nothing was made or checked after the event, nor after the day of the judging.
    let last = known.event_day.map_or(known.today, |day| day.min(known.today));
    let wrong: Vec<String> =
        accepted.iter().flat_map(|label| label.contradictions(last)).map(|found| found.why).collect();
    if !wrong.is_empty() {
        let broken = verdict(Answer::OverBy).because("The dates recorded of its label cannot all be true.");
        return wrong.into_iter().fold(broken, Verdict::because);
    }
    let ended = by_day(verdict, (kit, item, &label.standard), known);
    let missing = label.missing(&kit.label_fields);
    if !missing.is_empty() && !ended.word.fails() {
        let words: Vec<&str> = missing.iter().map(|field| field.word()).collect();
        return verdict(Answer::NotMeasured).because(format!("The label must show: {}.", words.join(", ")));
    }
    match accepted.iter().filter_map(|label| label.checked).find_map(|checked| unsure(checked, known)) {
        Some(why) if ended.word == Word::Meets => verdict(Answer::NotMeasured).because(why),
        _ => ended,
    }
}

/// Why a check does not count that may have been after the event; none where it cannot.
fn unsure(checked: LabelDate, known: &Known<'_>) -> Option<String> {
    let event = known.event_day?;
    let may_be = checked.last_day().min(known.today) > event;
    may_be.then(|| format!("It was checked {checked}, which may be after the event of {event}: find out the day."))
}

/// What is said of an item by its ends and the day it must be good on.
fn by_day(
    verdict: impl Fn(Answer) -> Verdict,
    (kit, item, standard): (&KitRule, &KitItem, &str),
    known: &Known<'_>,
) -> Verdict {
    let (day, description) = match known.event_day {
        Some(day) => (day, format!("The event ends on {day}.")),
        // What is over today is over on any event to come; what is good today need not be.
        None => (known.today, "No event day is set: say it, and it is judged for that day.".to_owned()),
    };
    let dated = |last: Date, day: Date| match dated(last, day) {
        Answer::Meets(_) if known.event_day.is_none() => Answer::NotMeasured,
        answer => answer,
    };
    let through = |last: Date, answer: Answer| {
        let ended = verdict(answer).limited(LimitText::words(format!("good through {last}")));
        which_ends(kit, item)
            .into_iter()
            .fold(ended, Verdict::because)
            .because(description.clone())
            .because(days(last, day))
    };
    match good_through(kit, item) {
        Good::Always => {
            verdict(Answer::Meets(Basis::Recorded)).because(format!("“{standard}” has no end by this rule."))
        }
        Good::Unknown { at_most: Some(last), .. } if day > last => through(last, Answer::OverBy),
        Good::Unknown { at_least: Some(last), .. } if day <= last => through(last, dated(last, day)),
        Good::Unknown { missing, .. } => {
            verdict(Answer::NotMeasured).because(format!("When it ends is not known: “{}” is missing.", missing.word()))
        }
        Good::Through(last) => through(last, dated(last, day)),
        Good::TwoEnds(first, second) if dated(first, day) != dated(second, day) => verdict(Answer::ScrutineerDecides)
            .limited(LimitText::words(format!("good through {first} or {second}")))
            .because(description)
            .because("Its two labels end on different days, and the book does not say which counts."),
        Good::TwoEnds(first, second) => {
            let last = if day <= first { first } else { second };
            through(last, dated(last, day))
        }
    }
}

/// The ends that an item has by a rule, in sentences, where there is more than one or one counts from a first day.
fn which_ends(kit: &KitRule, item: &KitItem) -> Vec<String> {
    let labels = std::iter::once(&item.label).chain(&item.second_label).filter(|label| label.accepted(kit));
    let ends: Vec<EndBy> = labels.flat_map(|label| ends_of(kit, label)).collect();
    let worth = ends.len() > 1 || ends.iter().any(|end| end.coarse);
    if worth { ends.iter().map(EndBy::describe).collect() } else { Vec::new() }
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
