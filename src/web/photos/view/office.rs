//! What the desk shows of photographs sorted: by day, at no shot, through a shot's history.

use std::collections::BTreeMap;

use askama::Template;

use crate::actions::recorded::contact_sheet;
use crate::domain::derived::findings::Findings;
use crate::domain::judge::shots::Shot;
use crate::domain::recorded::photos::Photo;
use crate::domain::shop::looks::Seen as Look;
use crate::domain::shop::people::{Deed, may};
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::work::guesses::{Known, guesses};
use crate::domain::work::walk::unasked;
use crate::store::recorded::build_log::LogEntry;
use crate::web::gate::Seen;
use crate::web::page::{Sheet, in_address, walk_address};
use crate::web::paging::{Page, Pages};
use crate::web::shown::picture::Picture;

/// The ways to the contact sheet, one for each part of it; none while no photograph counts.
pub(super) fn contact(seen: &Seen) -> Vec<(String, String)> {
    let parts = contact_sheet::parts(seen.facts.photos.iter().filter(|photo| photo.kept()).count());
    let words = |part| if parts == 1 { "Contact sheet, PDF".to_owned() } else { format!("Contact sheet {part}, PDF") };
    (1..=parts).map(|part| (seen.address(&format!("/photos/contact.pdf?part={part}")), words(part))).collect()
}

/// All photographs by the day the camera says, beside the day they were received; the newest day first.
#[derive(Template)]
#[template(path = "photos/days.html")]
pub(crate) struct Days {
    sheet: Sheet,
    base: String,
    contact: Vec<(String, String)>,
    /// Each day in words, with how many of its photographs are here, and those.
    days: Vec<(String, Vec<Dated>)>,
    pages: Option<Pages>,
    /// The photograph that another is chosen for, and how the address of the two begins; none where none is chosen.
    beside: Option<(Picture, String)>,
}

impl Days {
    /// From what is recorded; with a photograph of it that another is chosen to be held beside. None when that one is not
    /// there or cannot be shown, or for what is no page.
    pub(crate) fn of(
        seen: &Seen,
        looks: &BTreeMap<Fingerprint, Look>,
        beside: Option<&Fingerprint>,
        page: Option<&str>,
    ) -> Option<Self> {
        let find = |name: &Fingerprint| {
            let photo = seen.facts.photos.iter().find(|photo| photo.sha256 == *name && photo.shows())?;
            Some((Picture::of(seen, photo), seen.address(&format!("/photos/compare?one={name}&other="))))
        };
        let beside = match beside {
            Some(name) => Some(find(name)?),
            None => None,
        };
        let kept = seen.facts.photos.iter().filter(|photo| photo.kept());
        let mut kept: Vec<Taken<'_>> = kept.filter_map(|photo| Taken::of(seen, looks, photo)).collect();
        kept.sort_by_key(|taken| std::cmp::Reverse((taken.day, taken.at)));
        let page = Page::of(page, kept.len())?;
        let pages = page.describe("Photographs", |number| {
            let chosen = beside.as_ref().map(|(one, _)| format!("&beside={}", one.sha256)).unwrap_or_default();
            seen.address(&format!("/photos/days?page={number}{chosen}"))
        });
        let days = by_day(seen, &kept, &page);
        let title = if beside.is_some() { "Which one beside it" } else { "Photos by day" };
        Some(Self { sheet: seen.sheet(title), base: seen.address(""), contact: contact(seen), days, pages, beside })
    }
}

/// A photograph under its day.
struct Dated {
    picture: Picture,
    /// When the camera says it was taken, and when the shop received it.
    words: String,
}

/// When a photograph was taken, as far as anything says so, and when it was received.
struct Taken<'s> {
    photo: &'s Photo,
    /// The camera's day; that of receiving where neither the camera nor the phone says one.
    day: jiff::civil::Date,
    at: jiff::Timestamp,
    words: String,
}

impl<'s> Taken<'s> {
    /// The camera's word in the file goes before the phone's: both are claims, by the clocks of those. None while it is on a phone.
    fn of(seen: &Seen, looks: &BTreeMap<Fingerprint, Look>, photo: &'s Photo) -> Option<Self> {
        let clock = &seen.who.ctx.clock;
        let received = photo.received.as_ref()?.at;
        let by_camera = looks.get(&photo.sha256).and_then(|look| clock.claimed(look.taken.as_deref()?));
        let by_phone = || clock.claimed(photo.taken_claim.as_deref()?);
        let claim = by_camera.map(|at| ("camera", at)).or_else(|| by_phone().map(|at| ("phone", at)));
        let at = claim.map_or(received, |(_, at)| at);
        let said =
            claim.map_or_else(|| "no camera's day".to_owned(), |(who, at)| format!("{who} {}", clock.minute_of(at)));
        let words = format!("{said}; received {}", clock.day_of(received));
        Some(Self { photo, day: clock.day_of(at), at, words })
    }
}

/// The photographs of a page by their day, each day told with how many it has, and how many of them are on this page where
/// not all are.
fn by_day(seen: &Seen, kept: &[Taken<'_>], page: &Page) -> Vec<(String, Vec<Dated>)> {
    let mut all = BTreeMap::new();
    for taken in kept {
        *all.entry(taken.day).or_insert(0_usize) += 1;
    }
    let mut days: Vec<(jiff::civil::Date, Vec<Dated>)> = Vec::new();
    for taken in page.part(kept) {
        if days.last().is_none_or(|(last, _)| *last != taken.day) {
            days.push((taken.day, Vec::new()));
        }
        if let Some((_, pictures)) = days.last_mut() {
            pictures.push(Dated { picture: Picture::of(seen, taken.photo), words: taken.words.clone() });
        }
    }
    let describe = |(day, pictures): (jiff::civil::Date, Vec<Dated>)| {
        let (here, all) = (pictures.len(), all.get(&day).copied().unwrap_or_default());
        (if here == all { format!("{day}: {all}") } else { format!("{day}: {here} of {all}") }, pictures)
    };
    days.into_iter().map(describe).collect()
}

/// The photographs that answer no shot, each with guesses where it may belong.
#[derive(Template)]
#[template(path = "photos/unplaced.html")]
pub(crate) struct Unplaced {
    sheet: Sheet,
    base: String,
    contact: Vec<(String, String)>,
    may_place: bool,
    photos: Vec<Homeless>,
    pages: Option<Pages>,
    shots: Vec<(String, String)>,
}

/// A photograph at no shot.
struct Homeless {
    picture: Picture,
    /// The shot's name, what it is in words, and why it is guessed.
    guesses: Vec<(String, String, String)>,
}

impl Unplaced {
    /// From what is recorded and asked for; none for what is no page.
    pub(crate) fn of(
        seen: &Seen,
        found: &Findings,
        looks: &BTreeMap<Fingerprint, Look>,
        page: Option<&str>,
    ) -> Option<Self> {
        let all = unasked(found.worked.every_shot(), &seen.facts);
        let page = Page::of(page, all.len())?;
        let known = Known::of(&seen.facts, &found.worked.shots, looks);
        let shots: Vec<(String, String)> = found.worked.every_shot().map(|shot| (shot.name(), shot.words())).collect();
        let words = |name: &str| {
            let shot = shots.iter().find(|(shot, _)| shot == name);
            shot.map(|(_, words)| words.clone()).unwrap_or_default()
        };
        let homeless = |photo: &Photo| Homeless {
            picture: Picture::of(seen, photo),
            guesses: guesses(&known, photo)
                .into_iter()
                .map(|guess| (guess.shot.clone(), words(&guess.shot), guess.why))
                .collect(),
        };
        let photos = page.part(&all).iter().map(|photo| homeless(photo)).collect();
        Some(Self {
            sheet: seen.sheet("Unassigned photos"),
            base: seen.address(""),
            contact: contact(seen),
            may_place: may(seen.who.ctx.by.role, Deed::RecordWork),
            photos,
            pages: page.describe("Photographs", |number| seen.address(&format!("/photos/unplaced?page={number}"))),
            shots,
        })
    }
}

/// What became of a shot: its photographs, those withdrawn and those placed elsewhere, and each step with who and when.
#[derive(Template)]
#[template(path = "photos/shot.html")]
pub(crate) struct History {
    sheet: Sheet,
    base: String,
    name: String,
    words: String,
    again: String,
    here: Vec<Picture>,
    gone: Vec<Picture>,
    pairs: Vec<(String, String)>,
    /// The number of the log's entry, when, who, what.
    steps: Vec<(i64, String, String, String)>,
    pages: Option<Pages>,
}

impl History {
    /// From what the log says of the shot's photographs; none for a shot that nothing ever named.
    pub(crate) fn of(
        seen: &Seen,
        found: &Findings,
        (name, page): (&str, Option<&str>),
        entries: &[LogEntry],
    ) -> Option<Self> {
        let said = |entry: &LogEntry, field: &str| entry.detail.get(field)?.as_str().map(str::to_owned);
        let named: Vec<String> = entries
            .iter()
            .filter(|entry| [said(entry, "shot"), said(entry, "before")].iter().flatten().any(|shot| shot == name))
            .filter_map(|entry| said(entry, "capture"))
            .collect();
        let ever = |photo: &&Photo| photo.shot == name || named.contains(&photo.capture.to_string());
        let photos: Vec<&Photo> = seen.facts.photos.iter().filter(ever).collect();
        let shot = found.worked.every_shot().find(|shot| shot.name() == name);
        if name.is_empty() || (photos.is_empty() && shot.is_none()) {
            return None;
        }
        let step = |entry: &LogEntry| {
            (entry.number, seen.who.ctx.clock.minute_of(entry.at), entry.by.clone(), entry.what.clone())
        };
        let mut steps: Vec<(i64, String, String, String)> = entries.iter().map(step).collect();
        steps.sort_by_key(|step| step.0);
        let page = Page::of(page, steps.len())?;
        let named_so = in_address(name);
        let pages =
            page.describe("Steps", |number| seen.address(&format!("/photos/shot?name={named_so}&page={number}#steps")));
        let (here, gone): (Vec<&Photo>, Vec<&Photo>) =
            photos.iter().rev().partition(|photo| photo.shot == name && photo.kept());
        let pictures = |photos: &[&Photo]| photos.iter().map(|photo| Picture::of(seen, photo)).collect();
        let pair = |two: &[&Photo]| match two {
            [newer, older] => Some((
                seen.address(&format!("/photos/compare?one={}&other={}", older.sha256, newer.sha256)),
                format!("{} beside {}", minute(seen, older), minute(seen, newer)),
            )),
            _ => None,
        };
        Some(Self {
            sheet: seen.sheet("A shot's history"),
            base: seen.address(""),
            words: shot.map(Shot::words).unwrap_or_default(),
            again: seen.address(&walk_address(name)),
            name: name.to_owned(),
            pairs: here.windows(2).filter_map(pair).collect(),
            here: pictures(&here),
            gone: pictures(&gone),
            steps: page.part(&steps).to_vec(),
            pages,
        })
    }
}

fn minute(seen: &Seen, photo: &Photo) -> String {
    photo.received.as_ref().map(|received| seen.who.ctx.clock.minute_of(received.at)).unwrap_or_default()
}
