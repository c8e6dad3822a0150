//! Where a photograph that answers no shot may belong: guesses from what stands near it, each with its reason. Nothing follows
//! from a guess but a button that a person may press.

use std::collections::{BTreeMap, HashMap};

use jiff::{SignedDuration, Timestamp};

use super::walk::{of_part, state_of};
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

/// What guesses are made from, worked out once for all photographs of a build.
#[derive(Debug)]
pub struct Known<'a> {
    facts: &'a BuildFacts,
    /// The shots asked for, in walking order.
    shots: &'a [Shot],
    /// Which of them are still to be taken.
    left: Vec<bool>,
    looks: &'a BTreeMap<Fingerprint, Seen>,
    /// The photographs that count at a shot.
    placed: Vec<Placed<'a>>,
}

/// A photograph at a shot.
#[derive(Debug)]
struct Placed<'a> {
    taken: Taken<'a>,
    /// Which of the shots it is at.
    shot: usize,
    hash: Option<u64>,
}

/// A photograph and when it was taken, as far as anything says so.
#[derive(Debug, Clone, Copy)]
struct Taken<'a> {
    photo: &'a Photo,
    /// How many the shop was told of before it.
    told: usize,
    claim: Option<Timestamp>,
}

impl<'a> Taken<'a> {
    fn of(told: usize, photo: &'a Photo) -> Self {
        let claim = photo.taken_claim.as_deref();
        let claim = claim.and_then(|claim| Timestamp::strptime("%Y-%m-%d %H:%M:%S %:z", claim).ok());
        Self { photo, told, claim }
    }
}

impl<'a> Known<'a> {
    /// Of what is recorded, the shots asked for in walking order, and what was seen in the photographs.
    pub fn of(facts: &'a BuildFacts, shots: &'a [Shot], looks: &'a BTreeMap<Fingerprint, Seen>) -> Self {
        let mut at: HashMap<String, usize> = HashMap::new();
        for (place, shot) in shots.iter().enumerate() {
            at.entry(shot.name()).or_insert(place);
        }
        let kept = facts.photos.iter().enumerate().filter(|(_, photo)| photo.kept());
        let placed = kept.filter_map(|(told, photo)| {
            let hash = looks.get(&photo.sha256).map(|seen| seen.difference_hash);
            Some(Placed { taken: Taken::of(told, photo), shot: *at.get(&photo.shot)?, hash })
        });
        let placed = placed.collect();
        let left = shots.iter().map(|shot| state_of(shot, facts).left()).collect();
        Self { facts, shots, left, looks, placed }
    }

    fn is_left(&self, at: usize) -> bool {
        self.left.get(at).copied().unwrap_or_default()
    }
}

/// The guesses for a photograph that answers no shot, the surest first; at most three, each shot once.
pub fn guesses(known: &Known<'_>, photo: &Photo) -> Vec<Guess> {
    let told = known.facts.photos.iter().position(|other| other.capture == photo.capture).unwrap_or(usize::MAX);
    let taken = Taken::of(told, photo);
    let found = [named(known, photo), beside(known, taken, true), beside(known, taken, false), alike(known, photo)];
    let mut guesses: Vec<Guess> = Vec::new();
    for guess in found.into_iter().flatten() {
        if guesses.len() < MOST && guesses.iter().all(|other| other.shot != guess.shot) {
            guesses.push(guess);
        }
    }
    guesses
}

/// The part that the note names.
fn named(known: &Known<'_>, photo: &Photo) -> Option<Guess> {
    let words = photo.note.split(|letter: char| !letter.is_ascii_alphanumeric());
    let of: Balloon =
        words.filter_map(|word| word.parse().ok()).find(|of| known.shots.iter().any(|shot| shot.of == *of))?;
    let shot = of_part(known.shots.iter(), known.facts, of)?;
    Some(Guess { shot: shot.name(), why: format!("Its note names {of}.") })
}

/// When a photograph was taken, as far as two can be compared: by the phones' own clocks where both say, else by when the
/// shop was told of them.
fn between(one: Taken<'_>, other: Taken<'_>) -> (SignedDuration, &'static str) {
    match (one.claim, other.claim) {
        (Some(one), Some(other)) => (other.duration_since(one), "by the phone's own clock"),
        _ => (other.photo.declared.duration_since(one.photo.declared), "as the shop was told"),
    }
}

/// The shot next to that of the photograph taken just before it, or just after it, by the same person.
fn beside(known: &Known<'_>, taken: Taken<'_>, before: bool) -> Option<Guess> {
    let theirs = known.placed.iter().filter(|other| other.taken.photo.by == taken.photo.by);
    let timed = theirs.filter_map(|other| {
        let (first, second) = if before { (other.taken, taken) } else { (taken, other.taken) };
        let (apart, clock) = between(first, second);
        // where two times are the same, the order in which the shop was told of them says which was first
        let in_order = apart > SignedDuration::ZERO || (apart == SignedDuration::ZERO && first.told < second.told);
        (in_order && apart <= NEAR).then_some((apart, clock, other.shot))
    });
    let (apart, clock, at) = timed.min_by_key(|(apart, ..)| *apart)?;
    let other = known.shots.get(at)?.name();
    let minutes = apart.as_secs() / 60;
    let time = if minutes == 0 { "Less than a minute".to_owned() } else { format!("{minutes} min") };
    if before {
        let next = (at + 1..known.shots.len()).chain(0..at).find(|at| known.is_left(*at))?;
        let why = format!("{time} after {other}, {clock}, by the same person: this comes next in the walk.");
        return Some(Guess { shot: known.shots.get(next)?.name(), why });
    }
    let earlier = at.checked_sub(1).filter(|at| known.is_left(*at))?;
    let why = format!("{time} before {other}, {clock}, by the same person: this comes before it in the walk.");
    Some(Guess { shot: known.shots.get(earlier)?.name(), why })
}

/// The shot of the placed photograph that it looks like most.
fn alike(known: &Known<'_>, photo: &Photo) -> Option<Guess> {
    let mine = known.looks.get(&photo.sha256)?.difference_hash;
    let others = known.placed.iter().filter(|other| other.taken.photo.sha256 != photo.sha256);
    let hashed = others.filter_map(|other| Some((other.shot, other.hash?)));
    let near = hashed.filter(|(_, hash)| look_alike(mine, *hash, ALIKE));
    let (at, hash) = near.min_by_key(|(_, hash)| hash_distance(mine, *hash))?;
    let differ = hash_distance(mine, hash);
    Some(Guess {
        shot: known.shots.get(at)?.name(),
        why: format!("It looks like the photo there: {differ} of 64 bits of their likeness differ."),
    })
}
