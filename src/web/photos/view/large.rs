//! Photographs at full size, one or two, with their zoom.

use askama::Template;

use crate::domain::recorded::photos::Photo;
use crate::domain::words::fingerprint::Fingerprint;
use crate::web::gate::Seen;
use crate::web::page::Sheet;
use crate::web::photos::large::ZOOMS;
use crate::web::shown::drawn_over::layer_over;
use crate::web::shown::picture::Picture;
use crate::web::svg::Svg;

/// From this zoom on the file as it was sent is shown: the copy for the screen has no more to show.
const BY_THE_FILE: u32 = 4;

/// One photograph at full size, or two beside one another.
#[derive(Template)]
#[template(path = "photos/large.html")]
pub(crate) struct Large {
    sheet: Sheet,
    pictures: Vec<Shown>,
    zoom: u32,
    by_the_file: bool,
    zooms: Vec<(u32, String, bool)>,
    /// The same with what is drawn over them, or without; none where nothing is drawn.
    other_way: Option<String>,
    marked: bool,
}

/// A photograph, and what is drawn over it where it is shown.
struct Shown {
    picture: Picture,
    layer: Option<Svg>,
}

impl Large {
    /// The photographs of these contents in this build, at a zoom, with what is drawn over them or without; none when one is
    /// not there or cannot be shown.
    pub(crate) fn of(seen: &Seen, names: &[Fingerprint], (zoom, marked): (u32, bool)) -> Option<Self> {
        let find = |name: &Fingerprint| {
            seen.facts.photos.iter().find(|photo| {
                photo.sha256 == *name && photo.received.as_ref().is_some_and(|received| received.dots.is_some())
            })
        };
        let photos: Vec<&Photo> = names.iter().map(find).collect::<Option<_>>()?;
        let layers: Vec<Option<Svg>> = photos.iter().map(|photo| layer_over(seen, photo)).collect();
        let drawn = layers.iter().any(Option::is_some);
        let to = match names {
            [one, other] => seen.address(&format!("/photos/compare?one={one}&other={other}&zoom=")),
            _ => seen.address(&format!("/photos/{}/large?zoom=", names.first()?)),
        };
        let way = |marked: bool| if marked { "" } else { "&marks=no" };
        let shown = |(photo, layer): (&Photo, Option<Svg>)| Shown {
            picture: Picture::of(seen, photo),
            layer: layer.filter(|_| marked),
        };
        Some(Self {
            sheet: seen.sheet(if names.len() == 1 { "Photo, large" } else { "Two photos" }),
            pictures: photos.into_iter().zip(layers).map(shown).collect(),
            zoom,
            by_the_file: zoom >= BY_THE_FILE,
            zooms: ZOOMS.map(|step| (step, format!("{to}{step}{}", way(marked)), step == zoom)).into(),
            other_way: drawn.then(|| format!("{to}{zoom}{}", way(!marked))),
            marked,
        })
    }
}
