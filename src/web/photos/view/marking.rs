//! What is drawn over a photograph: the picture with its marks, who drew each and when, and the form to draw more.

use askama::Template;

use crate::domain::judge::shots;
use crate::domain::recorded::mark_ups::{MOST_STANDING, MarkUp, Shape, version};
use crate::domain::recorded::photos::Photo;
use crate::domain::shop::people::{Deed, may};
use crate::domain::words::fingerprint::Fingerprint;
use crate::web::form::{Field, Form};
use crate::web::gate::Seen;
use crate::web::page::Sheet;
use crate::web::shown::drawn_over::picture;
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
        let (standing, gone): (Vec<&MarkUp>, Vec<&MarkUp>) = marks.iter().partition(|mark| mark.is_shown());
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
