//! What is drawn over a photograph: the picture with its marks, who drew each and when, and the form to draw more.

use askama::Template;

use crate::domain::judge::shots;
use crate::domain::recorded::mark_ups::{Drawn, MOST_STANDING, MarkUp, Shape, version};
use crate::domain::recorded::photos::Photo;
use crate::domain::shop::people::{Deed, may};
use crate::domain::words::fingerprint::Fingerprint;
use crate::drawing::mark_up;
use crate::web::form::{Field, Form};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, part_address};
use crate::web::svg::Svg;

/// A photograph and the marks over it.
#[derive(Template)]
#[template(path = "photos/marks.html")]
pub(crate) struct Marking {
    sheet: Sheet,
    to: String,
    picture: Svg,
    shot: String,
    version: usize,
    standing: Vec<Line>,
    rubbed_out: Vec<Line>,
    most: usize,
    may_draw: bool,
    shape: Field,
    places: [(&'static str, Field, Field); 2],
    of: Field,
}

/// A mark as a line.
struct Line {
    number: u32,
    words: String,
    at: String,
    by: String,
    rubbed_out: String,
}

impl Marking {
    /// The photograph of this content in this build, where it can be shown.
    pub(crate) fn of(seen: &Seen, sha256: &Fingerprint, form: &Form) -> Option<Self> {
        let photo = seen.facts.photos.iter().find(|photo| photo.sha256 == *sha256 && photo.shows())?;
        let marks: Vec<&MarkUp> = seen.facts.mark_ups.iter().filter(|mark| mark.sha256 == *sha256).collect();
        let (standing, gone): (Vec<&MarkUp>, Vec<&MarkUp>) = marks.iter().partition(|mark| mark.stands());
        let of = form.field("of", "The part a balloon names");
        let of = if of.value.is_empty() { Field { value: part_of(photo), ..of } } else { of };
        let shapes = Shape::ALL.map(|shape| (shape.word().to_owned(), shape.word().to_owned()));
        let part =
            |name| form.field(name, if name == "down" || name == "to_down" { "from the top" } else { "from the left" });
        Some(Self {
            sheet: seen.sheet("Marks over a photo"),
            to: seen.address(&format!("/photos/{sha256}")),
            picture: picture(seen, photo, &standing)?,
            shot: photo.shot.clone(),
            version: version(&marks),
            standing: standing.into_iter().map(|mark| Line::of(seen, mark)).collect(),
            rubbed_out: gone.into_iter().map(|mark| Line::of(seen, mark)).collect(),
            most: MOST_STANDING,
            may_draw: may(seen.who.ctx.by.role, Deed::RecordWork),
            shape: form.field("shape", "What to draw").choice(shapes),
            places: [
                ("Where the arrow begins, the circle's middle, where the number stands", part("across"), part("down")),
                ("The arrow's head, the circle's edge, what the number names", part("to_across"), part("to_down")),
            ],
            of,
        })
    }
}

/// The number of the part that a photograph is of.
fn part_of(photo: &Photo) -> String {
    shots::of_name(&photo.shot).map(|(of, _)| of.to_string()).unwrap_or_default()
}

fn picture(seen: &Seen, photo: &Photo, standing: &[&MarkUp]) -> Option<Svg> {
    let dots = photo.received.as_ref()?.dots?;
    let drawn: Vec<Drawn> = standing.iter().map(|mark| mark.drawn).collect();
    let address = seen.address(&format!("/photos/{}/screen", photo.sha256));
    let words: Vec<String> = drawn.iter().map(Drawn::words).collect();
    let over = if words.is_empty() { String::new() } else { format!("; drawn over it: {}", words.join(", ")) };
    let what = if photo.shot.is_empty() { "Photograph" } else { photo.shot.as_str() };
    let (marks, size) = mark_up::over(&address, &format!("{what}{over}"), dots, &drawn);
    Some(Svg::of(&marks, size, |of| Some(seen.address(&part_address(*of)))))
}

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

fn standing_over<'s>(seen: &'s Seen, photo: &Photo) -> Vec<&'s MarkUp> {
    seen.facts.mark_ups.iter().filter(|mark| mark.sha256 == photo.sha256 && mark.stands()).collect()
}

impl Line {
    fn of(seen: &Seen, mark: &MarkUp) -> Self {
        let minute = |at| seen.who.ctx.clock.minute_of(at);
        Self {
            number: mark.number,
            words: mark.drawn.words(),
            at: minute(mark.at),
            by: mark.by.clone(),
            rubbed_out: mark.rubbed_out.as_ref().map(|(at, by)| format!("{} by {by}", minute(*at))).unwrap_or_default(),
        }
    }
}
