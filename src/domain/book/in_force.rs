//! Whether the edition that a build is judged by is in force on the day that counts.

use jiff::civil::Date;

use super::BookHead;

/// On which side of the day that counts an edition lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Its first day is this later one.
    NotYet(Date),
    /// Its last day was this earlier one.
    NoMore(Date),
}

/// An edition that is not in force on the day that counts: what it says then is no answer for that day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OutOfForce {
    /// The body, the book and the edition.
    pub edition: String,
    /// The event's day; today where none is set.
    pub day: Date,
    /// Whether it is the event's.
    pub event: bool,
    /// Why it is not in force.
    pub side: Side,
}

impl OutOfForce {
    /// None where the edition is in force on the event's day, today where none is set, and where it does not say from when
    /// to when it is.
    pub fn of(book: &BookHead, event_day: Option<Date>, today: Date) -> Option<Self> {
        let day = event_day.unwrap_or(today);
        let not_yet = book.valid_from.filter(|from| day < *from).map(Side::NotYet);
        let no_more = book.valid_to.filter(|to| day > *to).map(Side::NoMore);
        let side = not_yet.or(no_more)?;
        Some(Self { edition: book.describe(), day, event: event_day.is_some(), side })
    }

    /// In sentences.
    pub fn describe(&self) -> String {
        let Self { edition, day, event, side } = self;
        let day = if *event {
            format!("the event day, {day}")
        } else {
            format!("today, {day}, which counts as no event day is set")
        };
        let why = match side {
            Side::NotYet(from) => format!("its first day is {from}"),
            Side::NoMore(to) => format!("its last day was {to}"),
        };
        format!("The edition “{edition}” is not in force on {day}: {why}.")
    }
}

/// From when to when an edition is in force, in words.
pub fn describe(book: &BookHead) -> String {
    match (book.valid_from, book.valid_to) {
        (Some(from), Some(to)) => format!("in force from {from} to {to}"),
        (Some(from), None) => format!("in force from {from}"),
        (None, Some(to)) => format!("in force to {to}"),
        (None, None) => "it does not say from when to when it is in force".to_owned(),
    }
}
