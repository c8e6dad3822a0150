//! Photographs at full size, one or two, with their zoom.

use askama::Template;

use super::picture::Picture;
use crate::domain::fingerprint::Fingerprint;
use crate::web::gate::Seen;
use crate::web::page::Sheet;
use crate::web::photos::large::ZOOMS;

/// From this zoom on the file as it was sent is shown: the copy for the screen has no more to show.
const BY_THE_FILE: u32 = 4;

/// One photograph at full size, or two beside one another.
#[derive(Template)]
#[template(path = "photos/large.html")]
pub(crate) struct Large {
    sheet: Sheet,
    pictures: Vec<Picture>,
    zoom: u32,
    by_the_file: bool,
    zooms: Vec<(u32, String, bool)>,
}

impl Large {
    /// The photographs of these contents in this build; none when one is not there or cannot be shown.
    pub(crate) fn of(seen: &Seen, names: &[Fingerprint], zoom: u32) -> Option<Self> {
        let find = |name: &Fingerprint| {
            seen.facts.photos.iter().find(|photo| {
                photo.sha256 == *name && photo.received.as_ref().is_some_and(|received| received.dots.is_some())
            })
        };
        let pictures: Option<Vec<Picture>> =
            names.iter().map(|name| find(name).map(|photo| Picture::of(seen, photo))).collect();
        let to = match names {
            [one, other] => seen.address(&format!("/photos/compare?one={one}&other={other}&zoom=")),
            _ => seen.address(&format!("/photos/{}/large?zoom=", names.first()?)),
        };
        let title = if names.len() == 1 { "Photo, large" } else { "Two photos" };
        Some(Self {
            sheet: seen.sheet(title),
            pictures: pictures?,
            zoom,
            by_the_file: zoom >= BY_THE_FILE,
            zooms: ZOOMS.map(|step| (step, format!("{to}{step}"), step == zoom)).into(),
        })
    }
}
