//! The demo's people at work: who does what, on which day, with which facts before them.

use std::collections::VecDeque;
use std::sync::Arc;

use jiff::civil::Date;
use jiff::{SignedDuration, Timestamp, ToSpan};
use tokio::task::JoinHandle;

use super::pictures::{self, Subject};
use super::{DemoError, Progress, SIGN_INS};
use crate::actions::recorded::photos::{Look, Whole};
use crate::actions::{self, ActionError, Context, Memory};
use crate::clock::Clock;
use crate::domain::derived::findings::Findings;
use crate::domain::judge::shots::Shot;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::recorded::notes::NewNote;
use crate::domain::recorded::notes::Note;
use crate::domain::shop::people::{Person, Role};
use crate::domain::words::ids::{BookId, BuildId, CaptureId};
use crate::imaging::ImageError;
use crate::quantity::{FromTyped, Hours, Money, Typed};
use crate::store::Store;

/// The days before today on which the shop was begun.
const BEGUN: i64 = 70;
/// From one photograph to the next.
const BETWEEN: SignedDuration = SignedDuration::from_secs(40);

/// A moment of a day so many days before today.
#[derive(Debug, Clone, Copy)]
pub(super) struct Past {
    /// Days before today, at least one.
    pub(super) days: i64,
    /// The hour, UTC.
    pub(super) hour: i64,
}

/// Everything the demo's people work with.
pub(super) struct House {
    pub(super) store: Store,
    look: Look,
    now: Timestamp,
    /// Today, where the program runs.
    pub(super) today: Date,
    people: Vec<Person>,
    /// The invented series' book.
    pub(super) book: BookId,
    most_photos: usize,
    progress: Progress,
}

impl House {
    /// Begins the shop: its people and its book.
    pub(super) async fn open(
        store: &Store,
        look: &Look,
        clock: &Clock,
        most_photos: usize,
        progress: Progress,
    ) -> Result<Self, DemoError> {
        let now = clock.now();
        let then = Clock::held_at(begun(clock));
        let nobody = || DemoError::Unreadable("the first sign-in".to_owned());
        let link = actions::shop::people::make_setup_link(store, &then).await?.ok_or_else(nobody)?;
        let mut people: Vec<Person> = Vec::new();
        for sign_in in SIGN_INS {
            let person = match people.first() {
                None => {
                    actions::shop::people::begin_shop(store, &then, &link, sign_in.name, sign_in.password).await?.person
                }
                Some(office) => {
                    let ctx = Context {
                        store: store.clone(),
                        clock: then.clone(),
                        by: office.clone(),
                        memory: Memory::default(),
                    };
                    actions::shop::people::add(&ctx, sign_in.name, sign_in.role, sign_in.password).await?
                }
            };
            people.push(person);
        }
        let office = people.first().cloned().ok_or_else(nobody)?;
        let ctx = Context { store: store.clone(), clock: then, by: office, memory: Memory::default() };
        let book = actions::book::rule_books::add(&ctx, include_str!("book.toml").to_owned()).await?.id;
        let (store, look) = (store.clone(), look.clone());
        Ok(Self { store, look, now, today: clock.today(), people, book, most_photos, progress })
    }

    /// A person at their work, at a moment of the past.
    pub(super) fn at(&self, role: Role, past: Past) -> Result<Context, DemoError> {
        self.at_moment(role, before(self.now, past))
    }

    fn at_moment(&self, role: Role, moment: Timestamp) -> Result<Context, DemoError> {
        let by = self.people.iter().find(|person| person.role == role);
        let by = by.ok_or_else(|| DemoError::Unreadable(role.word().to_owned()))?.clone();
        Ok(Context { store: self.store.clone(), clock: Clock::held_at(moment), by, memory: Memory::default() })
    }

    /// What looks at photographs.
    pub(super) fn look(&self) -> &Look {
        &self.look
    }

    /// The day so many days from today.
    pub(super) fn day(&self, days: i64) -> Date {
        self.today.saturating_add(days.days())
    }

    /// What is recorded of a build, and what follows from it today.
    pub(super) async fn found(&self, build: BuildId) -> Result<(BuildFacts, Findings), DemoError> {
        let facts = self.store.facts(build).await?;
        let found = Findings::of(&facts, self.today);
        Ok((facts, found))
    }

    /// Takes the photographs of those shots that are wanted, from a moment on.
    pub(super) async fn photograph(
        &self,
        build: BuildId,
        past: Past,
        paint: [u8; 3],
        wanted: &(dyn Fn(usize, &Shot) -> Option<Focus> + Sync),
    ) -> Result<(), DemoError> {
        let (facts, found) = self.found(build).await?;
        let chosen = found.worked.shots.iter().enumerate().filter(|(_, shot)| !shot.taken());
        let chosen = chosen.filter_map(|(number, shot)| wanted(number, shot).map(|focus| (shot.clone(), focus)));
        let chosen: Vec<(Shot, Focus)> = chosen.take(self.most_photos).collect();
        let (many, name) = (chosen.len(), facts.build.name.clone());
        let seen = Arc::new((facts, found));
        let draw = |shot: Shot, focus: Focus| -> JoinHandle<Result<(Shot, Vec<u8>), ImageError>> {
            let seen = Arc::clone(&seen);
            tokio::task::spawn_blocking(move || {
                let picture = pictures::of(Subject { facts: &seen.0, found: &seen.1, paint }, &shot);
                let picture = if focus == Focus::Missed { picture.blurred() } else { picture };
                Ok((shot, picture.jpeg()?))
            })
        };
        // drawn ahead on the other processors while one is kept
        let ahead = std::thread::available_parallelism().map_or(2, usize::from);
        let mut rest = chosen.into_iter();
        let mut drawing: VecDeque<_> = rest.by_ref().take(ahead).map(|(shot, focus)| draw(shot, focus)).collect();
        let (mut done, mut moment) = (0, before(self.now, past));
        while let Some(next) = drawing.pop_front() {
            let drawn = next.await.map_err(|error| ActionError::NotWorked(error.to_string()))?;
            drawing.extend(rest.next().map(|(shot, focus)| draw(shot, focus)));
            let (shot, bytes) = drawn?;
            let ctx = self.at_moment(Role::Fabricator, moment)?;
            let capture: CaptureId = ctx.clock.new_id().into();
            let whole = Whole { capture, shot: shot.name(), note: String::new(), bytes };
            actions::recorded::photos::keep_whole(&ctx, build, whole, &self.look).await?;
            done += 1;
            moment = moment.saturating_add(BETWEEN).unwrap_or(moment);
            (self.progress)(&name, done, many);
        }
        Ok(())
    }

    /// Writes in a build's log.
    pub(super) async fn note(&self, build: BuildId, past: Past, words: Words<'_>) -> Result<Note, DemoError> {
        let ctx = self.at(Role::Fabricator, past)?;
        let new = NewNote {
            day: ctx.clock.today(),
            text: words.text.to_owned(),
            hours: (words.hours > 0.0).then(|| Hours::from_hours(words.hours)),
            cost: (words.cost > 0).then(|| Money::from_minor(words.cost * 100)),
            waiting_on: words.waiting_on.to_owned(),
        };
        Ok(actions::recorded::notes::add(&ctx, build, new).await?)
    }
}

/// Whether the camera finds its focus.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Focus {
    /// It does.
    Found,
    /// It does not.
    Missed,
}

/// A note in a build's log.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Words<'a> {
    pub(super) text: &'a str,
    pub(super) hours: f64,
    /// In the shop's own currency.
    pub(super) cost: i64,
    pub(super) waiting_on: &'a str,
}

/// Something typed, as a person types it.
pub(super) fn typed<T: FromTyped>(text: &str) -> Result<Typed<T>, DemoError> {
    Typed::read(text).map_err(|error| DemoError::Unreadable(error.to_string()))
}

/// The moment at which the shop was begun.
pub(super) fn begun(clock: &Clock) -> Timestamp {
    before(clock.now(), Past { days: BEGUN, hour: 8 })
}

fn before(now: Timestamp, past: Past) -> Timestamp {
    let days = SignedDuration::from_hours(24 * past.days);
    let midnight = now.as_second().div_euclid(86_400) * 86_400;
    let begun = Timestamp::from_second(midnight).unwrap_or(now);
    let moment = begun.saturating_sub(days).and_then(|day| day.saturating_add(SignedDuration::from_hours(past.hour)));
    moment.unwrap_or(now).min(now)
}
