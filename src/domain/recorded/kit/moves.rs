//! Kit that goes from car to car: where an item was when, and whether it lasts the season.

use jiff::Timestamp;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use super::KitItem;
use super::life::{Good, good_through};
use crate::domain::book::RuleBook;
use crate::domain::words::faults::Fault;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::{BuildId, KitId};
use crate::domain::words::limits;

/// A photograph that is kept of an item.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Pictured {
    /// The shot it answered.
    pub shot: String,
    /// Its content.
    pub sha256: Fingerprint,
    /// When it was told of.
    pub declared: Timestamp,
}

/// The time that an item spent in one car.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Stay {
    /// The car.
    pub build: BuildId,
    /// Its name.
    pub car: String,
    /// Its name in addresses; empty where it is not in this shop.
    pub slug: String,
    /// The item as it was there, with its number and what its label showed.
    pub item: KitItem,
    /// When it was recorded there.
    pub recorded: Timestamp,
    /// The day it came from another car; none in its first.
    pub came: Option<Date>,
    /// The day it went on, and why; none while it is there.
    pub went: Option<(Date, String)>,
    /// Its photographs from there, oldest first.
    pub photos: Vec<Pictured>,
}

/// An item's way through the cars, oldest first: all that is known of one thing under its different numbers.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Way {
    /// The item as it is, or was, in the car that is looked at.
    pub item: KitId,
    /// Where it was.
    pub stays: Vec<Stay>,
}

impl Way {
    fn at(&self) -> Option<usize> {
        self.stays.iter().position(|stay| stay.item.id == self.item)
    }

    /// Where it was before.
    pub fn before(&self) -> &[Stay] {
        self.at().and_then(|at| self.stays.get(..at)).unwrap_or_default()
    }

    /// Its time in the car that is looked at.
    pub fn here(&self) -> Option<&Stay> {
        self.stays.get(self.at()?)
    }

    /// Where it went from here.
    pub fn next(&self) -> Option<&Stay> {
        self.stays.get(self.at()? + 1)
    }
}

impl Stay {
    /// The day it came; in its first car the day it was recorded. `day_of` says which day a moment was in the shop.
    pub fn since(&self, day_of: &dyn Fn(Timestamp) -> Date) -> Date {
        self.came.unwrap_or_else(|| day_of(self.recorded))
    }

    /// Where and when, in words: "K1 in Teasel Coupe, from 2026-05-04 to 2026-06-01".
    pub fn describe(&self, day_of: &dyn Fn(Timestamp) -> Date) -> String {
        let until = self.went.as_ref().map(|(day, _)| format!(" to {day}")).unwrap_or_default();
        format!("K{} in {}, from {}{until}", self.item.number, self.car, self.since(day_of))
    }
}

/// A move as it is entered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Moving {
    /// The car it goes to.
    pub to: BuildId,
    /// The day it goes.
    pub day: Date,
    /// Why.
    pub why: String,
}

impl Moving {
    /// What is wrong with it, if anything: it goes to another car, not before it came and not on a day to come.
    pub fn faults(&self, from: BuildId, since: Date, today: Date) -> Vec<Fault> {
        let mut faults = limits::title_faults("move_why", &self.why);
        if self.to == from {
            faults.push(Fault::new("move_to", "It is in this car already. Choose another."));
        }
        if self.day > today {
            faults.push(Fault::new("move_day", "This day is still to come. Record the move when it is done."));
        } else if self.day < since {
            faults.push(Fault::new("move_day", format!("It came into this car on {since}; it cannot leave before.")));
        }
        faults
    }
}

/// An item that is good for the event and runs out before the season ends.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RunsOut {
    /// K1, K2 … in the build.
    pub number: u32,
    /// What it is.
    pub item: String,
    /// Its last good day.
    pub last: Date,
    /// The season's last day.
    pub season: Date,
    /// The rule's clause.
    pub clause: String,
}

impl RunsOut {
    /// In a sentence.
    pub fn describe(&self) -> String {
        format!("Runs out on {}, within the season, which ends on {}", self.last, self.season)
    }
}

/// The last day of the season that a day lies in: the last day that the book is in force, or where it does not say, or
/// ended already, 31 December (*common practice*).
pub fn season_end(rules: &RuleBook, day: Date) -> Date {
    rules.book.valid_to.filter(|end| *end >= day).unwrap_or_else(|| day.last_of_year())
}

/// The items that are good on a day and run out before the season ends, by number.
pub fn running_out(rules: &RuleBook, kit: &[KitItem], day: Date) -> Vec<RunsOut> {
    let season = season_end(rules, day);
    let mut found: Vec<RunsOut> = Vec::new();
    for item in kit {
        for rule in rules.kit.iter().filter(|rule| rule.speaks_of(&item.item)) {
            let last = match good_through(rule, item) {
                Good::Through(last) | Good::TwoEnds(last, _) => last,
                Good::Always | Good::Unknown { .. } => continue,
            };
            let known = found.iter().any(|known| known.number == item.number && known.last == last);
            if last >= day && last < season && !known {
                let clause = rule.rule.clause.clone();
                found.push(RunsOut { number: item.number, item: item.item.clone(), last, season, clause });
            }
        }
    }
    found
}
