//! What one photograph's page shows: the picture, its times, its shots, and what can be done with it.

use std::collections::BTreeSet;

use askama::Template;

use crate::domain::derived::findings::Findings;
use crate::domain::judge::shots;
use crate::domain::judge::shots::Shot;
use crate::domain::recorded::photos::{LookedAt, Photo, Received};
use crate::domain::shop::looks;
use crate::domain::shop::looks::Seen as Look;
use crate::domain::shop::people::{Deed, may};
use crate::domain::words::fingerprint::Fingerprint;
use crate::web::form::{Field, Form};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, in_address, part_address};
use crate::web::shown::drawn_over::drawn_over;
use crate::web::shown::picture::Picture;
use crate::web::svg::Svg;

/// One photograph.
#[derive(Template)]
#[template(path = "photos/one.html")]
pub(crate) struct One {
    sheet: Sheet,
    to: String,
    fingerprint: String,
    dots: String,
    /// Whether it can be shown; none while it is on a phone.
    shown: Option<bool>,
    /// What the camera says, beside the time that counts; empty when it says nothing.
    camera: String,
    /// How sharp and how bright it is, in words; empty when that was not looked at.
    figures: String,
    /// The picture with what is drawn over it; none where nothing is.
    drawn: Option<Svg>,
    /// Where any other photograph of the build is chosen to be held beside it.
    beside: String,
    /// The other photographs of the same part, to hold beside it.
    others: Vec<(String, String)>,
    takes: Vec<Take>,
    /// Which of how many it is, and the ways to the one before and the one after; empty where there is none.
    place: String,
    before: String,
    after: String,
    may_look: bool,
    may_place: bool,
    may_withdraw: bool,
}

/// One taking of it; the same picture can be told of twice.
struct Take {
    picture: Picture,
    part: String,
    part_to: String,
    entry: i64,
    claim: String,
    history: String,
    place: Field,
    why: Field,
    /// Who looked at it where it stands, and when; empty while nobody did.
    looked: String,
}

/// What stands beside a photograph's row.
pub(crate) struct Beside<'a> {
    /// What follows from the build.
    pub(crate) found: &'a Findings,
    /// What was seen in it.
    pub(crate) look: Option<&'a Look>,
    /// Who looked at which of the build's.
    pub(crate) looked: &'a [LookedAt],
}

/// The photographs that count, each content once, in the order they were told of.
fn in_order(seen: &Seen) -> Vec<&Photo> {
    let mut order: Vec<&Photo> = Vec::new();
    let mut there = BTreeSet::new();
    for photo in seen.facts.photos.iter().filter(|photo| photo.kept()) {
        if there.insert(photo.sha256.text()) {
            order.push(photo);
        }
    }
    order
}

/// The next photograph after this one, going round, that nobody looked at where it stands; none when all were.
pub(crate) fn next_to_look_at<'s>(seen: &'s Seen, looked: &[LookedAt], sha256: &str) -> Option<&'s Photo> {
    let kept: Vec<&Photo> = seen.facts.photos.iter().filter(|photo| photo.kept()).collect();
    let at = kept.iter().position(|photo| photo.sha256.text() == sha256).map_or(0, |at| at + 1);
    let round = kept.iter().skip(at).chain(kept.iter().take(at)).copied();
    round.into_iter().find(|photo| !looked.iter().any(|one| one.is_of(photo)))
}

impl One {
    /// The photographs of this content in this build; none when there is none.
    pub(crate) fn of(seen: &Seen, sha256: &Fingerprint, beside: &Beside<'_>, form: &Form) -> Option<Self> {
        let look = beside.look;
        let order = in_order(seen);
        let at = order.iter().position(|photo| photo.sha256 == *sha256);
        let way = |at: Option<usize>| at.and_then(|at| order.get(at));
        let to = |photo: &&Photo| seen.address(&format!("/photos/{}", photo.sha256));
        let photos: Vec<&Photo> = seen.facts.photos.iter().filter(|photo| photo.sha256 == *sha256).collect();
        let received = photos.iter().find_map(|photo| photo.received.as_ref());
        let dots = received.and_then(|received| received.dots);
        let first = *photos.first()?;
        let role = seen.who.ctx.by.role;
        Some(Self {
            sheet: seen.sheet("Photo"),
            to: seen.address(&format!("/photos/{sha256}")),
            fingerprint: sha256.to_string(),
            dots: dots.map(|(width, height)| format!("{width} × {height}")).unwrap_or_default(),
            camera: look
                .and_then(|look| look.taken.as_deref())
                .map(|taken| claimed(seen, taken, received))
                .unwrap_or_default(),
            figures: look.map(in_figures).unwrap_or_default(),
            drawn: drawn_over(seen, first),
            beside: seen.address(&format!("/photos/days?beside={sha256}")),
            others: others(seen, first),
            shown: received.map(|received| received.dots.is_some()),
            place: at.map(|at| format!("Photograph {} of {}", at + 1, order.len())).unwrap_or_default(),
            before: way(at.and_then(|at| at.checked_sub(1))).map(to).unwrap_or_default(),
            after: way(at.map(|at| at + 1)).map(to).unwrap_or_default(),
            may_look: may(role, Deed::LookOver),
            takes: photos.into_iter().map(|photo| Take::of(seen, beside, photo, form)).collect(),
            may_place: may(role, Deed::RecordWork),
            may_withdraw: may(role, Deed::Withdraw),
        })
    }
}

impl Take {
    fn of(seen: &Seen, beside: &Beside<'_>, photo: &Photo, form: &Form) -> Self {
        let found = beside.found;
        let looked = beside.looked.iter().find(|one| one.is_of(photo));
        let shot = found.worked.every_shot().find(|shot| shot.name() == photo.shot);
        let of = shots::of_name(&photo.shot).map(|(of, _)| of);
        let mine = form.text("capture") == photo.capture.to_string();
        let empty = Form::filled(seen.who.units, vec![("shot".to_owned(), photo.shot.clone())]);
        let form = if mine { form } else { &empty };
        let mut choices = vec![(String::new(), "no shot of the list".to_owned())];
        choices.extend(found.worked.every_shot().map(|shot| (shot.name(), shot.words())));
        let place = if mine && form.text("shot").is_empty() { &empty } else { form };
        Self {
            picture: Picture::of(seen, photo),
            part: shot.map_or_else(|| photo.shot.clone(), Shot::words),
            part_to: of.map(|of| seen.address(&part_address(of))).unwrap_or_default(),
            entry: photo.received.as_ref().map(|received| received.entry).unwrap_or_default(),
            claim: photo
                .taken_claim
                .as_deref()
                .map(|taken| claimed(seen, taken, photo.received.as_ref()))
                .unwrap_or_default(),
            history: seen.address(&format!("/photos/shot?name={}", in_address(&photo.shot))),
            place: place.field("shot", "Shot that it answers").choice(choices),
            why: form.field("why", "Why it is withdrawn"),
            looked: looked
                .map(|one| format!("{}, {}", one.by, seen.who.ctx.clock.minute_of(one.at)))
                .unwrap_or_default(),
        }
    }
}

/// Most photographs that one may be held beside.
const BESIDE: usize = 12;

/// A claimed time, and how far it lies from the one that counts.
fn claimed(seen: &Seen, taken: &str, received: Option<&Received>) -> String {
    let at = seen.who.ctx.clock.claimed(taken);
    let apart = at.zip(received).map(|(at, received)| format!("; {}", looks::apart(at, received.at)));
    format!("{taken}{}", apart.unwrap_or_default())
}

fn in_figures(look: &Look) -> String {
    let percent = |share: f64| share * 100.0;
    format!(
        "sharpness {:.0}, brightness {:.0} of 255, black {:.0} %, white {:.0} %",
        look.sharpness,
        look.mean,
        percent(look.dark_share),
        percent(look.bright_share)
    )
}

/// The other photographs of the same part that can be shown, the newest first: where to compare, and which it is.
fn others(seen: &Seen, photo: &Photo) -> Vec<(String, String)> {
    let part = |photo: &Photo| shots::of_name(&photo.shot).map(|(of, _)| of);
    let same = seen.facts.photos.iter().rev().filter(|other| {
        other.sha256 != photo.sha256 && other.shows() && (part(other) == part(photo) || other.shot == photo.shot)
    });
    let line = |other: &Photo| {
        let at = other.received.as_ref().map(|received| seen.who.ctx.clock.minute_of(received.at)).unwrap_or_default();
        let name = if other.shot.is_empty() { "unassigned" } else { other.shot.as_str() };
        let to = format!("/photos/compare?one={}&other={}", photo.sha256, other.sha256);
        (seen.address(&to), format!("{name}, {at}"))
    };
    same.take(BESIDE).map(line).collect()
}
