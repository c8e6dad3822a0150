//! Where a photograph that answers no shot may belong: guesses from what stands near it, each with its reason. Nothing follows
//! from a guess but a button that a person may press.

use std::collections::BTreeMap;

use jiff::{SignedDuration, Timestamp};

use super::walk::{next, of_part, state_of};
use crate::domain::judge::shots::Shot;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::recorded::photos::Photo;
use crate::domain::shop::looks::{Seen, hash_distance, look_alike};
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::Balloon;

/// How near in time two photographs of a walk are (*common practice*: a joint is photographed and left within this time).
const NEAR: SignedDuration = SignedDuration::from_mins(15);
/// Most bits of two pictures' hashes that differ where one guesses by them: looser than what is told of at once.
const ALIKE: u32 = 10;
/// Most guesses for one photograph.
const MOST: usize = 3;

/// A guess.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Guess {
    /// The shot it may answer.
    pub shot: String,
    /// Why, in a sentence.
    pub why: String,
}

/// What guesses are made from.
#[derive(Debug, Clone, Copy)]
pub struct Known<'a> {
    /// What is recorded.
    pub facts: &'a BuildFacts,
    /// The shots asked for, in walking order.
    pub shots: &'a [Shot],
    /// What was seen in the photographs.
    pub looks: &'a BTreeMap<Fingerprint, Seen>,
}

/// The guesses for a photograph that answers no shot, the surest first; at most three, each shot once.
pub fn guesses(known: Known<'_>, photo: &Photo) -> Vec<Guess> {
    let found = [named(known, photo), beside(known, photo, true), beside(known, photo, false), alike(known, photo)];
    let mut guesses: Vec<Guess> = Vec::new();
    for guess in found.into_iter().flatten() {
        if guesses.len() < MOST && guesses.iter().all(|other| other.shot != guess.shot) {
            guesses.push(guess);
        }
    }
    guesses
}

/// The part that the note names.
fn named(known: Known<'_>, photo: &Photo) -> Option<Guess> {
    let words = photo.note.split(|letter: char| !letter.is_ascii_alphanumeric());
    let of: Balloon =
        words.filter_map(|word| word.parse().ok()).find(|of| known.shots.iter().any(|shot| shot.of == *of))?;
    let shot = of_part(known.shots.iter(), known.facts, of)?;
    Some(Guess { shot: shot.name(), why: format!("Its note names {of}.") })
}

/// When a photograph was taken, as far as two can be compared: by the phones' own clocks where both say, else by when the
/// shop was told of them.
fn between(one: &Photo, other: &Photo) -> (SignedDuration, &'static str) {
    match (claim(one), claim(other)) {
        (Some(one), Some(other)) => (other.duration_since(one), "by the phone's own clock"),
        _ => (other.declared.duration_since(one.declared), "as the shop was told"),
    }
}

fn claim(photo: &Photo) -> Option<Timestamp> {
    Timestamp::strptime("%Y-%m-%d %H:%M:%S %:z", photo.taken_claim.as_deref()?).ok()
}

/// The shot next to that of the photograph taken just before it, or just after it, by the same person.
fn beside(known: Known<'_>, photo: &Photo, before: bool) -> Option<Guess> {
    let placed = known.facts.photos.iter().filter(|other| {
        other.kept() && other.by == photo.by && known.shots.iter().any(|shot| shot.name() == other.shot)
    });
    // where two times are the same, the order in which the shop was told of them says which was first
    let describe = |of: &Photo| known.facts.photos.iter().position(|photo| photo.capture == of.capture);
    let timed = placed.filter_map(|other| {
        let (first, second) = if before { (other, photo) } else { (photo, other) };
        let (apart, clock) = between(first, second);
        let in_order =
            apart > SignedDuration::ZERO || (apart == SignedDuration::ZERO && describe(first) < describe(second));
        (in_order && apart <= NEAR).then_some((apart, clock, other))
    });
    let (apart, clock, other) = timed.min_by_key(|(apart, ..)| *apart)?;
    let minutes = apart.as_secs() / 60;
    let time = if minutes == 0 { "Less than a minute".to_owned() } else { format!("{minutes} min") };
    if before {
        let shot = next(known.shots, known.facts, Some(&other.shot))?;
        let why = format!("{time} after {}, {clock}, by the same person: this comes next in the walk.", other.shot);
        return Some(Guess { shot: shot.name(), why });
    }
    let at = known.shots.iter().position(|shot| shot.name() == other.shot)?;
    let shot = known.shots.get(at.checked_sub(1)?).filter(|shot| state_of(shot, known.facts).left())?;
    let why = format!("{time} before {}, {clock}, by the same person: this comes before it in the walk.", other.shot);
    Some(Guess { shot: shot.name(), why })
}

/// The shot of the placed photograph that it looks like most.
fn alike(known: Known<'_>, photo: &Photo) -> Option<Guess> {
    let mine = known.looks.get(&photo.sha256)?.difference_hash;
    let placed = known.facts.photos.iter().filter(|other| {
        other.kept() && other.sha256 != photo.sha256 && known.shots.iter().any(|shot| shot.name() == other.shot)
    });
    let hashed = placed.filter_map(|other| Some((other, known.looks.get(&other.sha256)?.difference_hash)));
    let near = hashed.filter(|(_, hash)| look_alike(mine, *hash, ALIKE));
    let (other, hash) = near.min_by_key(|(_, hash)| hash_distance(mine, *hash))?;
    let differ = hash_distance(mine, hash);
    Some(Guess {
        shot: other.shot.clone(),
        why: format!("It looks like the photo there: {differ} of 64 bits of their likeness differ."),
    })
}
