//! What the list of photographs shows: each part with its shots, and the photographs that stand outside the list.

use std::collections::HashMap;

use askama::Template;

use super::office::contact;
use super::walk::before;
use crate::domain::derived::findings::Findings;
use crate::domain::judge::shots::Shot;
use crate::domain::recorded::photos::{LookedAt, Photo};
use crate::domain::shop::people::{Deed, may};
use crate::domain::work::walk::{ShotState, state_of, unasked};
use crate::web::form::{Field, Form};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, part_address, walk_address};
use crate::web::paging::{Page, Pages};
use crate::web::shown::picture::{Picture, kept_pictures};

/// The heading of photographs that stand in for what a rule asks.
const STAND_INS: &str = "standing in for what a rule asks";

/// All photographs of a build.
#[derive(Template)]
#[template(path = "photos/photos.html")]
pub(crate) struct Desk {
    sheet: Sheet,
    base: String,
    contact: Vec<(String, String)>,
    capture: String,
    may_add: bool,
    next: String,
    note: Field,
    take: &'static str,
    total: usize,
    taken: usize,
    areas: Vec<InArea>,
    unasked: Listed,
    on_phones: Listed,
    withdrawn: Listed,
    /// The states of shots, each with how many are in it.
    filters: Vec<Filter>,
    /// Whether one of them is chosen: then the lists outside the shots stay away.
    chosen: bool,
}

/// A state, with how many shots are in it.
struct Filter {
    words: &'static str,
    count: usize,
    to: String,
    here: bool,
}

/// The states that shots are filtered by, as they stand in an address and as they are read.
const STATES: [(&str, &str); 6] = [
    ("asked", "to take"),
    ("phone", "on a phone"),
    ("impossible", "reported impossible"),
    ("unusable", "do not count"),
    ("taken", "photographed"),
    ("unlooked", "not looked at"),
];

/// A shot under the heading of its area, with the states that it is in.
struct Stated<'s> {
    heading: &'static str,
    shot: &'s Shot,
    state: &'static str,
    unlooked: bool,
}

impl<'s> Stated<'s> {
    fn of(seen: &Seen, looked: &[LookedAt], (heading, shot): (&'static str, &'s Shot)) -> Self {
        let name = shot.name();
        let mut kept = seen.facts.photos.iter().filter(|photo| photo.shot == name && photo.kept());
        let state = match state_of(shot, &seen.facts) {
            ShotState::AskedFor => "asked",
            ShotState::OnAPhone => "phone",
            ShotState::Cannot { .. } => "impossible",
            ShotState::Unreadable | ShotState::OfEarlierPiece => "unusable",
            ShotState::Taken => "taken",
        };
        Self { heading, shot, state, unlooked: kept.any(|photo| !looked.iter().any(|one| one.is_of(photo))) }
    }

    /// Whether it is in the state of this name.
    fn is_in(&self, state: &str) -> bool {
        if state == "unlooked" { self.unlooked } else { self.state == state }
    }
}

/// A page of a list outside the shots.
struct Listed {
    /// How many the whole list has.
    all: usize,
    pictures: Vec<Picture>,
    pages: Option<Pages>,
}

impl Listed {
    /// The page that is asked for under the list's name; none for what is no page.
    fn of(
        seen: &Seen,
        photos: &[&Photo],
        (what, name): (&'static str, &str),
        asked: &HashMap<String, String>,
    ) -> Option<Self> {
        let page = Page::of(asked.get(name).map(String::as_str), photos.len())?;
        Some(Self {
            all: photos.len(),
            pictures: page.part(photos).iter().map(|photo| Picture::of(seen, photo)).collect(),
            pages: page.describe(what, |number| seen.address(&format!("/photos?{name}={number}#{name}"))),
        })
    }
}

/// An area of the car: its shots by part, shut but for the first with something left.
struct InArea {
    word: &'static str,
    taken: usize,
    all: usize,
    open: bool,
    parts: Vec<Part>,
}

/// A part and its shots.
struct Part {
    balloon: String,
    to: String,
    words: String,
    shots: Vec<Line>,
}

/// A shot as the list shows it.
struct Line {
    name: String,
    view: String,
    before: &'static str,
    to: String,
    sign: &'static str,
    state: String,
    pictures: Vec<Picture>,
}

impl Desk {
    /// From what is recorded and asked for; none for what is no page of one of its lists.
    pub(crate) fn of(
        seen: &Seen,
        found: &Findings,
        looked: &[LookedAt],
        asked: &HashMap<String, String>,
    ) -> Option<Self> {
        let state = asked.get("state").map(String::as_str);
        let state = STATES.iter().map(|(key, _)| *key).find(|key| Some(*key) == state);
        let mut areas: Vec<InArea> = Vec::new();
        let standing_in = found.worked.stand_ins.iter().filter(|shot| shot.taken()).map(|shot| (STAND_INS, shot));
        let all: Vec<Stated<'_>> = found
            .worked
            .shots
            .iter()
            .map(|shot| (shot.area.word(), shot))
            .chain(standing_in)
            .map(|shot| Stated::of(seen, looked, shot))
            .collect();
        for Stated { heading, shot, .. } in all.iter().filter(|one| state.is_none_or(|state| one.is_in(state))) {
            if areas.last().is_none_or(|area| area.word != *heading) {
                areas.push(InArea { word: heading, taken: 0, all: 0, open: false, parts: Vec::new() });
            }
            let Some(InArea { taken, all, parts, .. }) = areas.last_mut() else { continue };
            (*taken, *all) = (*taken + usize::from(shot.taken()), *all + 1);
            let balloon = shot.of.to_string();
            if parts.last().is_none_or(|part| part.balloon != balloon) {
                let to = seen.address(&part_address(shot.of));
                parts.push(Part { balloon, to, words: shot.part.clone(), shots: Vec::new() });
            }
            if let Some(part) = parts.last_mut() {
                part.shots.push(Line::of(seen, shot));
            }
        }
        // What was asked for by its state is all there; else the first area with something left.
        let first = areas.iter().position(|area| area.taken < area.all).unwrap_or_default();
        for (at, area) in areas.iter_mut().enumerate() {
            area.open = state.is_some() || at == first;
        }
        let photos = |wanted: fn(&Photo) -> bool| -> Vec<&Photo> {
            seen.facts.photos.iter().filter(|photo| wanted(photo)).collect()
        };
        let listed = |photos: &[&Photo], name: &'static str, what| Listed::of(seen, photos, (what, name), asked);
        let (on_phones, withdrawn) = (photos(Photo::waits), photos(|photo| photo.withdrawn.is_some()));
        Some(Self {
            sheet: seen.sheet("Photos"),
            base: seen.address(""),
            contact: contact(seen),
            capture: seen.who.ctx.clock.new_id().to_string(),
            may_add: may(seen.who.ctx.by.role, Deed::RecordWork),
            next: String::new(),
            note: Form::empty(seen.who.units).field("note", "What it shows"),
            take: "",
            total: found.worked.shots.len(),
            taken: found.worked.taken(),
            areas,
            unasked: listed(&unasked(found.worked.every_shot(), &seen.facts), "unasked", "Extra photographs")?,
            on_phones: listed(&on_phones, "phones", "Photographs on a phone")?,
            filters: filters(seen, &all, state),
            chosen: state.is_some(),
            withdrawn: listed(&withdrawn, "withdrawn", "Withdrawn photographs")?,
        })
    }
}

fn filters(seen: &Seen, all: &[Stated<'_>], state: Option<&str>) -> Vec<Filter> {
    let count = |key: &str| all.iter().filter(|one| one.is_in(key)).count();
    let each = STATES.iter().map(|(key, words)| Filter {
        words,
        count: count(key),
        to: seen.address(&format!("/photos?state={key}")),
        here: state == Some(key),
    });
    let every = Filter { words: "all", count: all.len(), to: seen.address("/photos"), here: state.is_none() };
    std::iter::once(every).chain(each.filter(|filter| filter.count > 0 || filter.here)).collect()
}

impl Line {
    fn of(seen: &Seen, shot: &Shot) -> Self {
        let state = state_of(shot, &seen.facts);
        Self {
            view: shot.view.clone().unwrap_or_else(|| shot.what.clone()),
            before: before(shot.before),
            to: seen.address(&walk_address(&shot.name())),
            sign: match state {
                ShotState::Taken => "full",
                ShotState::OnAPhone => "half",
                ShotState::Cannot { .. } => "cross",
                ShotState::Unreadable | ShotState::OfEarlierPiece => "bar",
                ShotState::AskedFor => "open",
            },
            state: match &state {
                ShotState::Cannot { question, why } => format!("{}, Q{question}: {why}", state.word()),
                other => other.word().to_owned(),
            },
            pictures: kept_pictures(seen, &shot.name()),
            name: shot.name(),
        }
    }
}
