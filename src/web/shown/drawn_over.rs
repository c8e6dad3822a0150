//! Photographs with what people drew over them.

use crate::domain::recorded::mark_ups::{Drawn, MarkUp};
use crate::domain::recorded::photos::Photo;
use crate::drawing::mark_up;
use crate::web::gate::Seen;
use crate::web::page::part_address;
use crate::web::svg::Svg;

/// A photograph with what stands over it; none where nothing does.
pub(crate) fn drawn_over(seen: &Seen, photo: &Photo) -> Option<Svg> {
    let standing = standing_over(seen, photo);
    if standing.is_empty() { None } else { picture(seen, photo, &standing) }
}

/// What stands over a photograph, to lie over it at any size; none where nothing does.
pub(crate) fn layer_over(seen: &Seen, photo: &Photo) -> Option<Svg> {
    let drawn: Vec<Drawn> = standing_over(seen, photo).iter().map(|mark| mark.drawn).collect();
    let dots = photo.received.as_ref()?.dots?;
    let (marks, size) = mark_up::layer(dots, &drawn);
    (!drawn.is_empty()).then(|| Svg::of(&marks, size, |of| Some(seen.address(&part_address(*of)))))
}

pub(crate) fn picture(seen: &Seen, photo: &Photo, standing: &[&MarkUp]) -> Option<Svg> {
    let dots = photo.received.as_ref()?.dots?;
    let drawn: Vec<Drawn> = standing.iter().map(|mark| mark.drawn).collect();
    let address = seen.address(&format!("/photos/{}/screen", photo.sha256));
    let words: Vec<String> = drawn.iter().map(Drawn::words).collect();
    let over = if words.is_empty() { String::new() } else { format!("; drawn over it: {}", words.join(", ")) };
    let what = if photo.shot.is_empty() { "Photograph" } else { photo.shot.as_str() };
    let (marks, size) = mark_up::over(&address, &format!("{what}{over}"), dots, &drawn);
    Some(Svg::of(&marks, size, |of| Some(seen.address(&part_address(*of)))))
}

pub(crate) fn standing_over<'s>(seen: &'s Seen, photo: &Photo) -> Vec<&'s MarkUp> {
    seen.facts.mark_ups.iter().filter(|mark| mark.sha256 == photo.sha256 && mark.is_shown()).collect()
}
