//! What a question points at, on the photographs of its round.

use crate::domain::recorded::mark_ups::Drawn;
use crate::domain::recorded::questions::Question;
use crate::domain::recorded::reviews::PhotoMark;
use crate::domain::recorded::rounds::marked::marks_of;
use crate::domain::words::fingerprint::Fingerprint;
use crate::drawing::mark_up;
use crate::web::gate::Seen;
use crate::web::svg::Svg;

/// A photograph that a question points at.
pub(crate) struct Pointed {
    /// The photograph with the marks over it; none where it cannot be shown.
    pub(crate) picture: Option<Svg>,
    /// What it is of, and where the marks are, in words.
    pub(crate) words: String,
}

impl Pointed {
    /// Each photograph that a question points at, once.
    pub(crate) fn all(seen: &Seen, question: &Question) -> Vec<Self> {
        let marks = marks_of(question, &seen.facts.replies);
        let mut of: Vec<_> = marks.iter().map(|mark| &mark.sha256).collect();
        of.sort();
        of.dedup();
        let one = |sha256: &Fingerprint| {
            let on: Vec<&PhotoMark> = marks.iter().filter(|mark| mark.sha256 == *sha256).collect();
            let photo = seen.facts.photos.iter().find(|photo| photo.sha256 == *sha256 && photo.received.is_some());
            let shot = photo.map_or("", |photo| photo.shot.as_str());
            let places: Vec<String> = on.iter().map(|mark| mark.place()).collect();
            let words = format!("marked on the photograph {shot}: {}", places.join("; "));
            let dots = photo.and_then(|photo| photo.received.as_ref()?.dots);
            let picture = dots.map(|dots| {
                let drawn: Vec<Drawn> = on.iter().map(|mark| mark.drawn()).collect();
                let address = seen.address(&format!("/photos/{sha256}/screen"));
                let (marks, size) = mark_up::over(&address, &words, dots, &drawn);
                Svg::of(&marks, size, |_| None)
            });
            Self { picture, words }
        };
        of.into_iter().map(one).collect()
    }
}
