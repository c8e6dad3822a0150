//! The dates of a car that a rule book may go by.

use jiff::Timestamp;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use super::faults::Fault;
use super::label_dates::LabelDate;

/// A date of the car.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum CarDate {
    /// When it was first registered for the road.
    Registered,
    /// When its model was homologated.
    Homologated,
    /// When its first log book was issued.
    LogBook,
}

impl CarDate {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Registered, Self::Homologated, Self::LogBook];

    /// The word for it in a book.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Registered => "registered",
            Self::Homologated => "homologated",
            Self::LogBook => "first log book",
        }
    }

    /// What a person is asked for.
    pub const fn asked(self) -> &'static str {
        match self {
            Self::Registered => "First registered for the road",
            Self::Homologated => "Model homologated",
            Self::LogBook => "First log book issued",
        }
    }

    /// Its name in forms and tables.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Registered => "registered",
            Self::Homologated => "homologated",
            Self::LogBook => "log_book",
        }
    }
}

/// What is known of a car's dates, each as exactly as its papers say.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct CarDates {
    /// When it was first registered.
    pub registered: Option<LabelDate>,
    /// When its model was homologated.
    pub homologated: Option<LabelDate>,
    /// When its first log book was issued.
    pub log_book: Option<LabelDate>,
    /// When this was recorded; none before the first time.
    pub at: Option<Timestamp>,
}

impl CarDates {
    /// The date that is meant, where it is known.
    pub const fn of(&self, date: CarDate) -> Option<LabelDate> {
        match date {
            CarDate::Registered => self.registered,
            CarDate::Homologated => self.homologated,
            CarDate::LogBook => self.log_book,
        }
    }

    /// What is wrong with them as they are typed on a day, if anything: none of them is still to come.
    pub fn faults(&self, today: Date) -> Vec<Fault> {
        let later =
            CarDate::ALL.into_iter().filter(|date| self.of(*date).is_some_and(|known| known.surely_after(today)));
        later.map(|date| Fault::new(date.key(), "This is still to come. Look at the paper again.")).collect()
    }
}
