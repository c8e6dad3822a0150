//! What is still open on a build: a pure function of what is recorded and what follows from it.

mod found;
mod lowering;
mod named;
mod pieces;
mod recorded;
mod welds;
mod work;

pub use work::{Group, When};

use jiff::civil::Date;

use super::findings::Findings;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::words::ids::Balloon;
use crate::quantity::Units;

/// Who an open item waits on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Waits {
    /// On the shop floor.
    Fabricator,
    /// At the desk.
    Office,
    /// Elsewhere, with the packet.
    Scrutineer,
    /// Somebody outside, named in the sentence.
    Outside,
}

impl Waits {
    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Fabricator => "fabricator",
            Self::Office => "office",
            Self::Scrutineer => "scrutineer",
            Self::Outside => "outside",
        }
    }
}

/// The sheet of a build that settles an open item.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Place {
    /// Weigh-in.
    WeighIn,
    /// The cage's measurements and choices.
    Cage,
    /// The gussets, at one joint where it is known.
    Gussets(Option<Balloon>),
    /// Which stick each bar is cut from.
    Tube,
    /// What is read off the car.
    Measures,
    /// What every rule says.
    Verdicts,
    /// The scrutineer's rulings.
    Rulings,
    /// The car's own dates.
    Car,
    /// One shot, by its name, or the next one of the walk.
    Shot(Option<String>),
    /// Photographs.
    Photos,
    /// What the build is: its name, its event day.
    Build,
    /// Seat, belts, bottles.
    Kit,
    /// Questions.
    Questions,
    /// Rounds.
    Rounds,
    /// The lowering plan.
    Lowering,
    /// The weld log, at one joint where it is known.
    Welds(Option<Balloon>),
    /// The log.
    Log,
}

/// What kind of open thing it is; told by a shape beside the sentence.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sort {
    /// Something is missing, or waits.
    Missing,
    /// Something breaks a rule.
    Fails,
    /// Something is too near an edge to tell.
    TooClose,
}

/// One open thing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OpenItem {
    /// Which part it is about; none for the build as a whole.
    pub at: Option<Balloon>,
    /// What, in a sentence.
    pub what: String,
    /// What kind of thing.
    pub sort: Sort,
    /// Who it waits on.
    pub waits_on: Waits,
    /// Where it is settled.
    pub place: Place,
    /// The day it became open, where that is known.
    pub since: Option<Date>,
}

impl OpenItem {
    fn missing(what: impl Into<String>, waits_on: Waits, place: Place) -> Self {
        Self { at: None, what: what.into(), sort: Sort::Missing, waits_on, place, since: None }
    }

    fn at(self, balloon: Balloon) -> Self {
        Self { at: Some(balloon), ..self }
    }

    fn since(self, day: Date) -> Self {
        Self { since: Some(day), ..self }
    }

    fn sort(self, sort: Sort) -> Self {
        Self { sort, ..self }
    }
}

/// All that is open, in the order of work, figures in the reader's units. `day_of` says which day a moment was in the
/// shop.
pub fn of(
    facts: &BuildFacts,
    found: &Findings,
    units: Units,
    day_of: &dyn Fn(jiff::Timestamp) -> Date,
) -> Vec<OpenItem> {
    let mut open = welds::while_held(facts);
    if facts.book.is_some() {
        open.extend(recorded::book(found));
        open.extend(recorded::out_of_force(found));
        open.extend(recorded::event_day(facts, found));
        open.extend(recorded::weighing(facts, found));
        open.extend(recorded::finished(facts, found, units));
        open.extend(found::cage(found));
        open.extend(found::tube(facts, found));
        open.extend(found::cut_otherwise(facts, found));
        open.extend(found::verdicts(found, units));
        open.extend(pieces::measured(facts, found, units));
        open.extend(lowering::lowering(facts, found, units));
        open.extend(pieces::photographed(found, units));
        open.extend(found::shots(found));
        open.extend(recorded::running_out(found));
    }
    // With or without a book: a bar that does not fit is so in every car.
    open.extend(found::fits_no_more(facts, found, units));
    open.extend(recorded::unsent(facts, found, day_of));
    open.extend(recorded::bulk(facts));
    open.extend(recorded::questions(facts, day_of));
    if facts.book.is_some() {
        open.extend(recorded::rounds(facts, found, day_of));
    }
    open.extend(welds::log(facts, found));
    open.extend(recorded::waiting(facts));
    open
}
