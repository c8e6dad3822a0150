//! What one photograph's page shows: the picture, its times, its shots, and what can be done with it.

use askama::Template;

use super::picture::Picture;
use crate::domain::findings::Findings;
use crate::domain::fingerprint::Fingerprint;
use crate::domain::people::{Deed, may};
use crate::domain::photos::Photo;
use crate::domain::shots::{self, Shot};
use crate::web::form::{Field, Form};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, part_address};

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
    takes: Vec<Take>,
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
    place: Field,
    why: Field,
}

impl One {
    /// The photographs of this content in this build; none when there is none.
    pub(crate) fn of(seen: &Seen, found: &Findings, sha256: &Fingerprint, form: &Form) -> Option<Self> {
        let photos: Vec<&Photo> = seen.facts.photos.iter().filter(|photo| photo.sha256 == *sha256).collect();
        let received = photos.iter().find_map(|photo| photo.received.as_ref());
        let dots = received.and_then(|received| received.dots);
        photos.first()?;
        let role = seen.who.ctx.by.role;
        Some(Self {
            sheet: seen.sheet("Photo"),
            to: seen.address(&format!("/photos/{sha256}")),
            fingerprint: sha256.to_string(),
            dots: dots.map(|(width, height)| format!("{width} × {height}")).unwrap_or_default(),
            shown: received.map(|received| received.dots.is_some()),
            takes: photos.into_iter().map(|photo| Take::of(seen, found, photo, form)).collect(),
            may_place: may(role, Deed::RecordWork),
            may_withdraw: may(role, Deed::Withdraw),
        })
    }
}

impl Take {
    fn of(seen: &Seen, found: &Findings, photo: &Photo, form: &Form) -> Self {
        let shot = found.every_shot().find(|shot| shot.name() == photo.shot);
        let of = shots::of_name(&photo.shot).map(|(of, _)| of);
        let mine = form.text("capture") == photo.capture.to_string();
        let empty = Form::filled(seen.who.units, vec![("shot".to_owned(), photo.shot.clone())]);
        let form = if mine { form } else { &empty };
        let mut choices = vec![(String::new(), "no shot of the list".to_owned())];
        choices.extend(found.every_shot().map(|shot| (shot.name(), words(shot))));
        let place = if mine && form.text("shot").is_empty() { &empty } else { form };
        Self {
            picture: Picture::of(seen, photo),
            part: shot.map_or_else(|| photo.shot.clone(), words),
            part_to: of.map(|of| seen.address(&part_address(of))).unwrap_or_default(),
            entry: photo.received.as_ref().map(|received| received.entry).unwrap_or_default(),
            claim: photo.taken_claim.clone().unwrap_or_default(),
            place: place.field("shot", "Shot that it answers").choice(choices),
            why: form.field("why", "Why it is withdrawn"),
        }
    }
}

fn words(shot: &Shot) -> String {
    let view = shot.view.as_ref().map(|view| format!(", {view}")).unwrap_or_default();
    let id = shot.key.split('/').next().unwrap_or_default().replace('-', " ");
    format!("{} {}: {id}{view}", shot.of, shot.part)
}
