//! Photographs on a page: each with what it shows, when and by whom, and what is drawn over it; one that is not there says so.

use super::{Leads, plain};
use crate::documents::packet::Packet;
use crate::documents::packet::pictures::{Pictured, describe, drawn_over};
use crate::domain::recorded::mark_ups::Drawn;
use crate::domain::recorded::photos::Photo;
use crate::domain::words::fingerprint::Fingerprint;
use crate::drawing::mark_up;
use crate::drawing::paper::svg::Svg;

/// Where a photograph's own bytes are, by its SHA-256; none of what is not there.
pub type Kept<'a> = &'a dyn Fn(&Fingerprint) -> Option<String>;

/// One photograph.
#[derive(Debug, Clone, PartialEq)]
pub struct Picture {
    /// What it shows.
    pub view: String,
    /// The shot it was taken for; empty of one nobody asked for, and where there is none.
    pub shot: String,
    /// When it was kept, by whom, and what there is to say about it.
    pub below: String,
    /// The photograph's SHA-256; none where none was taken.
    pub sha256: Option<Fingerprint>,
    /// Where it is.
    pub place: Place,
}

/// Where a photograph is.
#[derive(Debug, Clone, PartialEq)]
pub enum Place {
    /// None was taken.
    NotTaken,
    /// It was told of, and its bytes never came.
    NotReceived,
    /// The shop had it, and it is not in this file.
    Lost,
    /// It is there, and is no picture that could be read.
    Unreadable(String),
    /// It is there: its address, its width and height in dots, and what lies over it.
    Seen(String, (u32, u32), Option<Svg>),
}

/// A photograph with what there is to say of it.
pub(in crate::documents) fn picture(
    packet: &Packet<'_>,
    pictured: &Pictured<'_>,
    kept: Kept<'_>,
    leads: Leads<'_>,
) -> Picture {
    let view = plain(&pictured.view);
    let Some(photo) = pictured.photo else {
        let place = Place::NotTaken;
        return Picture { view, shot: String::new(), below: String::new(), sha256: None, place };
    };
    Picture {
        view,
        shot: plain(&photo.shot),
        below: plain(&describe(packet, photo)),
        sha256: Some(photo.sha256.clone()),
        place: place(packet, photo, kept, leads),
    }
}

fn place(packet: &Packet<'_>, photo: &Photo, kept: Kept<'_>, leads: Leads<'_>) -> Place {
    let Some(received) = &photo.received else { return Place::NotReceived };
    match (kept(&photo.sha256), received.dots) {
        (None, _) => Place::Lost,
        (Some(to), None) => Place::Unreadable(to),
        (Some(to), Some(dots)) => {
            let drawn: Vec<Drawn> = drawn_over(packet, photo).map(|mark| mark.drawn).collect();
            let (marks, size) = mark_up::layer(dots, &drawn);
            let layer = (!drawn.is_empty()).then(|| Svg::of(&marks, size, |part| leads(*part)));
            Place::Seen(to, dots, layer)
        }
    }
}
