//! What is still open on a build: a pure function of what is recorded.

use jiff::civil::Date;

use super::facts::BuildFacts;
use super::hold::Hold;
use super::ids::{Balloon, Kind};

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
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// Weigh-in.
    WeighIn,
    /// Photographs.
    Photos,
    /// Questions.
    Questions,
    /// Rounds.
    Rounds,
    /// The log.
    Log,
}

/// One open thing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OpenItem {
    /// Which part it is about; none for the build as a whole.
    pub at: Option<Balloon>,
    /// What, in a sentence.
    pub what: String,
    /// Who it waits on.
    pub waits_on: Waits,
    /// Where it is settled.
    pub place: Place,
    /// The day it became open, where that is known.
    pub since: Option<Date>,
}

/// All that is open, in the order of work. `day_of` says which day a moment was in the shop.
pub fn of(facts: &BuildFacts, day_of: &dyn Fn(jiff::Timestamp) -> Date) -> Vec<OpenItem> {
    let mut open = Vec::new();
    if facts.book.is_some() {
        open.extend(weighing(facts));
        open.extend(photos(facts, day_of));
    }
    open.extend(questions(facts, day_of));
    if facts.book.is_some() {
        open.extend(rounds(facts, day_of));
    }
    open.extend(waiting(facts));
    open
}

fn item(what: impl Into<String>, waits_on: Waits, place: Place) -> OpenItem {
    OpenItem { at: None, what: what.into(), waits_on, place, since: None }
}

fn weighing(facts: &BuildFacts) -> Vec<OpenItem> {
    let Some(newest) = facts.weigh_ins.first() else {
        return vec![item("Weigh the car: the tube sizes follow from its weight", Waits::Fabricator, Place::WeighIn)];
    };
    let at = Balloon::new(Kind::WeighIn, newest.number);
    if newest.reading.conditions.is_empty() {
        let what = "Weighed with no condition ticked: weigh again, or the weight says nothing";
        return vec![OpenItem {
            at: Some(at),
            since: Some(newest.day),
            ..item(what, Waits::Fabricator, Place::WeighIn)
        }];
    }
    Vec::new()
}

fn photos(facts: &BuildFacts, day_of: &dyn Fn(jiff::Timestamp) -> Date) -> Vec<OpenItem> {
    let waiting: Vec<_> = facts.photos.iter().filter(|photo| photo.received.is_none()).collect();
    let Some(oldest) = waiting.iter().map(|photo| photo.declared).min() else { return Vec::new() };
    let what = match waiting.len() {
        1 => "1 photograph is still on somebody's phone, unsent".to_owned(),
        count => format!("{count} photographs are still on somebody's phone, unsent"),
    };
    vec![OpenItem { since: Some(day_of(oldest)), ..item(what, Waits::Fabricator, Place::Photos) }]
}

fn questions(facts: &BuildFacts, day_of: &dyn Fn(jiff::Timestamp) -> Date) -> Vec<OpenItem> {
    let open = facts.questions.iter().filter(|question| question.settled.is_none());
    open.map(|question| {
        let at = question.about.unwrap_or(Balloon::new(Kind::Question, question.number));
        let asks = match (question.answers.is_empty(), question.from_reply) {
            (true, true) => "Answer the scrutineer",
            (true, false) => "Answer",
            (false, true) => "Answered; goes to the scrutineer with the next round",
            (false, false) => "Answered; settle it or ask on",
        };
        let what = format!("{asks}: {}", question.text);
        OpenItem { at: Some(at), since: Some(day_of(question.asked)), ..item(what, Waits::Office, Place::Questions) }
    })
    .collect()
}

fn rounds(facts: &BuildFacts, day_of: &dyn Fn(jiff::Timestamp) -> Date) -> Option<OpenItem> {
    match Hold::of(&facts.rounds, &facts.replies) {
        Hold::NothingIssued | Hold::Released { .. } => None,
        Hold::Waiting(round) => {
            let issued = facts.rounds.last().map(|round| day_of(round.issued));
            let what = format!("Round {round} is out; the reply is awaited");
            Some(OpenItem { since: issued, ..item(what, Waits::Scrutineer, Place::Rounds) })
        }
        Hold::NotYet(round) => {
            let what = format!("The scrutineer has questions on round {round}: answer them and issue the next round");
            Some(item(what, Waits::Office, Place::Rounds))
        }
    }
}

fn waiting(facts: &BuildFacts) -> Option<OpenItem> {
    let newest = facts.notes.first()?;
    let what = format!("Waiting on: {}", newest.waiting_on);
    let open = !newest.waiting_on.is_empty();
    open.then(|| OpenItem { since: Some(newest.day), ..item(what, Waits::Outside, Place::Log) })
}
