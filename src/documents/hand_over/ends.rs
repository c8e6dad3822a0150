//! What ends on which day: kit by its labels, the edition; and what the scrutineer ruled, which ends by no day.

use jiff::civil::Date;

use super::HandOver;
use crate::documents::chapters::Chapters;
use crate::documents::teller::Teller as _;
use crate::domain::book::kinds::KitRule;
use crate::domain::recorded::kit::KitItem;
use crate::domain::recorded::kit::life::{Good, good_through};
use crate::domain::recorded::rulings::NO_MORE;
use crate::domain::words::label_dates::LabelDate;

/// Something that ends: its last good day where that is known, what it is, by what it ends.
type End = (Option<Date>, String, String);

pub(super) fn tell(chapters: &mut Chapters<'_>, of: &HandOver<'_>) {
    chapters.chapter("What ends when", "ends");
    let mut ends: Vec<End> = of.facts.kit.iter().flat_map(|item| of_kit(of, item)).collect();
    if let Some(book) = of.found.worked.rules.as_ref().map(|rules| &rules.book) {
        ends.extend(
            book.valid_to.map(|to| (Some(to), format!("The edition {}", book.describe()), "the book".to_owned())),
        );
    }
    // What ends first stands first; what nobody knows the end of stands last.
    ends.sort_by(|one, other| (one.0.is_none(), one.0, &one.1).cmp(&(other.0.is_none(), other.0, &other.1)));
    if ends.is_empty() {
        chapters.said(
            "Nothing with an end is recorded: no kit with a date, and no edition that says until when it is in force.",
        );
    } else {
        let rows = ends.into_iter().map(|(last, what, by)| vec![describe(last, of.day), what, by]).collect();
        chapters.grid(&["Last good day", "What", "By"], rows);
    }
    rulings(chapters, of);
}

fn describe(last: Option<Date>, day: Date) -> String {
    match last {
        None => "not known".to_owned(),
        Some(last) if last < day => format!("{last}: over"),
        Some(last) => last.to_string(),
    }
}

/// Each end of an item by each rule that speaks of it; by its label alone where none does.
fn of_kit(of: &HandOver<'_>, item: &KitItem) -> Vec<End> {
    let name = format!("K{}, {}", item.number, item.item);
    let rules = of.found.worked.rules.iter().flat_map(|rules| &rules.kit);
    let rules: Vec<&KitRule> = rules.filter(|rule| rule.speaks_of(&item.item)).collect();
    if rules.is_empty() {
        let printed = item.label.ends_printed.map(LabelDate::last_day);
        let by = if printed.is_some() {
            "its label; no rule speaks of it"
        } else {
            "no rule speaks of it, no end is printed"
        };
        return vec![(printed, name, by.to_owned())];
    }
    let mut ends: Vec<End> = Vec::new();
    for rule in rules {
        let by = |words: &str| format!("clause {}{words}", rule.rule.clause);
        let end = match good_through(rule, item) {
            Good::Always => continue,
            Good::Through(last) => (Some(last), name.clone(), by("")),
            Good::TwoEnds(first, second) => {
                (Some(first), name.clone(), by(&format!("; its other label says {second}")))
            }
            Good::Unknown { at_most: Some(last), .. } => {
                (Some(last), name.clone(), by("; a date is missing, it may end before"))
            }
            Good::Unknown { .. } => (None, name.clone(), by("; a date is missing")),
        };
        if !ends.contains(&end) {
            ends.push(end);
        }
    }
    ends
}

fn rulings(chapters: &mut Chapters<'_>, of: &HandOver<'_>) {
    if of.facts.rulings.is_empty() {
        return;
    }
    chapters.subheading("Ruled by the scrutineer: no day ends these, a change of what they are of does");
    let mut all: Vec<_> = of.facts.rulings.iter().collect();
    all.sort_by_key(|ruling| (ruling.ruled.given, ruling.place));
    let rows = all.into_iter().map(|ruling| {
        let state = match &ruling.taken_back {
            Some((at, by, why)) => format!("Taken back by {by}, {}: {why}", (of.day_of)(*at)),
            None if ruling.stands_in(&of.found.worked.verdicts) => "It stands.".to_owned(),
            None => NO_MORE.to_owned(),
        };
        let part = ruling.ruled.of.map(|part| part.to_string()).unwrap_or_default();
        vec![ruling.ruled.given.to_string(), part, ruling.describe(), state]
    });
    let rows = rows.collect();
    chapters.grid(&["Given", "At", "What", "Now"], rows);
}
