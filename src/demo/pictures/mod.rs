//! Which picture a camera in the demo shop would take for a shot.

mod labels;
mod joint;
mod part;
mod shell;
mod whole;

use crate::domain::derived::findings::Findings;
use crate::domain::judge::shots::Shot;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::Kind;
use crate::imaging::ImageError;
use crate::imaging::plot::{Print, Scene, photo, print};

/// A picture before it is drawn.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Picture {
    /// Something that stands in the shop.
    Scene(Box<Scene>),
    /// Something printed.
    Print(Print),
}

impl Picture {
    /// The picture's file: a JPEG.
    pub(super) fn jpeg(&self) -> Result<Vec<u8>, ImageError> {
        match self {
            Self::Scene(scene) => photo(scene),
            Self::Print(words) => print(words),
        }
    }

    /// The same with the focus missed.
    pub(super) fn blurred(self) -> Self {
        match self {
            Self::Scene(scene) => Self::Scene(Box::new(Scene { out_of_focus: true, ..*scene })),
            Self::Print(words) => Self::Print(Print { out_of_focus: true, ..words }),
        }
    }
}

/// What a picture is taken of, and in which paint the shell behind it is.
#[derive(Clone, Copy)]
pub(super) struct Subject<'a> {
    /// What is recorded of the build.
    pub(super) facts: &'a BuildFacts,
    /// What follows from it.
    pub(super) found: &'a Findings,
    /// The shell's paint.
    pub(super) paint: [u8; 3],
}

/// The picture that answers a shot.
pub(super) fn of(subject: Subject<'_>, shot: &Shot) -> Picture {
    let seed = seed(&format!("{} {}", subject.facts.build.slug, shot.name()));
    let scene = match shot.of.kind {
        Kind::Joint => joint::scene(subject, shot),
        Kind::Gusset => part::gusset(subject, shot),
        Kind::Plate => part::plate(subject, shot),
        Kind::Member => part::bar(subject, shot),
        Kind::WeighIn if shot.view.as_deref() == Some("car on the pads") => Some(whole::car_on_pads(subject)),
        Kind::Stick if shot.view.as_deref() == Some("wall") => part::wall(subject, shot),
        Kind::Car if shot.key.starts_with("whole-cage") => Some(whole::cage(subject, shot)),
        _ => None,
    };
    match scene {
        Some(scene) => Picture::Scene(Box::new(Scene { card: shot.of.to_string(), seed, ..scene })),
        None => Picture::Print(labels::of(subject, shot, seed)),
    }
}

/// A number that is the same for the same words.
fn seed(words: &str) -> u64 {
    let text = Fingerprint::of(words.as_bytes());
    text.text().get(..12).and_then(|part| u64::from_str_radix(part, 16).ok()).unwrap_or(1)
}
