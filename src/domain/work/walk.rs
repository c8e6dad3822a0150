//! The walk round the car: how each shot stands, which one comes next, what is left where.

use std::collections::HashSet;

use crate::domain::judge::shots::{Area, Shot};
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::recorded::photos::Photo;
use crate::domain::words::ids::Balloon;

/// How a shot stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ShotState {
    /// A photograph is there.
    Taken,
    /// Somebody said that it cannot be taken; the question of this number waits for an answer.
    Cannot {
        /// The question.
        question: u32,
        /// Why, as it was said.
        why: String,
    },
    /// A phone told of a photograph and has not sent it yet.
    OnAPhone,
    /// A photograph came that cannot be shown; it answers nothing.
    Unreadable,
    /// It was photographed, and the part is another piece by now or stands elsewhere.
    OfEarlierPiece,
    /// It is asked for and not there.
    AskedFor,
}

impl ShotState {
    /// The words for it.
    pub const fn word(&self) -> &'static str {
        match self {
            Self::Taken => "photographed",
            Self::Cannot { .. } => "reported impossible",
            Self::OnAPhone => "on a phone, not sent yet",
            Self::Unreadable => "came, but cannot be shown",
            Self::OfEarlierPiece => "photographed, but of the earlier piece",
            Self::AskedFor => "asked for",
        }
    }

    /// Whether the walk still leads to it.
    pub const fn left(&self) -> bool {
        matches!(self, Self::Unreadable | Self::OfEarlierPiece | Self::AskedFor)
    }
}

/// How a question begins that says why a shot cannot be taken.
fn beginning(shot: &str) -> String {
    format!("The shot “{shot}” cannot be taken: ")
}

/// The question that says why a shot cannot be taken.
pub fn cannot_be_taken(shot: &str, why: &str) -> String {
    format!("{}{}", beginning(shot), why.trim())
}

/// How a shot stands.
pub fn state_of(shot: &Shot, facts: &BuildFacts) -> ShotState {
    if shot.taken() {
        return ShotState::Taken;
    }
    let name = shot.name();
    let said = facts.questions.iter().filter(|question| question.settled.is_none()).find_map(|question| {
        let why = question.text.strip_prefix(&beginning(&name))?;
        Some(ShotState::Cannot { question: question.number, why: why.to_owned() })
    });
    if let Some(said) = said {
        return said;
    }
    let of_it = || facts.photos.iter().filter(|photo| photo.shot == name);
    if of_it().any(Photo::waits) {
        return ShotState::OnAPhone;
    }
    if shot.earlier.is_some() {
        return ShotState::OfEarlierPiece;
    }
    if of_it().any(Photo::kept) { ShotState::Unreadable } else { ShotState::AskedFor }
}

/// The shot to take after this one, round and round; the first one without any. None when nothing else is left.
pub fn next<'s>(shots: &'s [Shot], facts: &BuildFacts, after: Option<&str>) -> Option<&'s Shot> {
    let at = after.and_then(|name| shots.iter().position(|shot| shot.name() == name));
    let begin = at.map_or(0, |at| at + 1);
    let round = shots.iter().skip(begin).chain(shots.iter().take(begin.saturating_sub(1)));
    round.into_iter().find(|shot| state_of(shot, facts).left())
}

/// The shot to take of a part: the first that is left, else the first there is.
pub fn of_part<'s>(shots: impl Iterator<Item = &'s Shot>, facts: &BuildFacts, part: Balloon) -> Option<&'s Shot> {
    let mut of_it = shots.filter(|shot| shot.of == part).peekable();
    let first = of_it.peek().copied();
    of_it.find(|shot| state_of(shot, facts).left()).or(first)
}

/// How many shots are left in each area, in walking order.
pub fn left(shots: &[Shot], facts: &BuildFacts) -> Vec<(Area, usize)> {
    let mut left: Vec<(Area, usize)> = Vec::new();
    for shot in shots.iter().filter(|shot| state_of(shot, facts).left()) {
        match left.iter_mut().find(|(area, _)| *area == shot.area) {
            Some((_, count)) => *count += 1,
            None => left.push((shot.area, 1)),
        }
    }
    left
}

/// The kept photographs that answer no shot of the list.
pub fn unasked<'s, 'f>(shots: impl Iterator<Item = &'s Shot>, facts: &'f BuildFacts) -> Vec<&'f Photo> {
    let names: HashSet<String> = shots.map(Shot::name).collect();
    facts.photos.iter().filter(|photo| photo.kept() && !names.contains(&photo.shot)).collect()
}
