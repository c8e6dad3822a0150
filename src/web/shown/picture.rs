//! One photograph as lists show it: where its views are, who took it, when it came, what there is to say.

use super::drawn_over::drawn_over;
use crate::domain::judge::shots;
use crate::domain::recorded::photos::{Photo, bytes_in_words};
use crate::web::gate::Seen;
use crate::web::page::walk_address;
use crate::web::svg::Svg;

/// One photograph as lists show it.
pub(crate) struct Picture {
    /// The name the phone gave it.
    pub(crate) capture: String,
    /// The address of its own page, below which its views lie.
    pub(crate) to: String,
    /// The number of the part it is of; empty for one that is of none.
    pub(crate) balloon: String,
    /// The shot it was taken for; empty for one nobody asked for.
    pub(crate) shot: String,
    /// The walk's address at that shot.
    pub(crate) again: String,
    /// What was written with it.
    pub(crate) note: String,
    /// Who took it.
    pub(crate) by: String,
    /// When it came, by the server's clock; empty while it is on a phone.
    pub(crate) received: String,
    /// When the phone told of it.
    pub(crate) declared: String,
    /// Bytes, in words.
    pub(crate) size: String,
    /// Whether it can be shown.
    pub(crate) readable: bool,
    /// What there is to say about it as evidence.
    pub(crate) remarks: Vec<String>,
    /// What was said of it where it stands, with who and when.
    pub(crate) said: Vec<String>,
    /// Its content's name.
    pub(crate) sha256: String,
    /// The picture with what is drawn over it; none where nothing is.
    pub(crate) drawn: Option<Svg>,
    /// When it was withdrawn, by whom and why; empty when it was not.
    pub(crate) withdrawn: Option<(String, String, String)>,
}

impl Picture {
    /// From a photograph's row.
    pub(crate) fn of(seen: &Seen, photo: &Photo) -> Self {
        let clock = &seen.who.ctx.clock;
        let received = photo.received.as_ref();
        Self {
            capture: photo.capture.to_string(),
            to: seen.address(&format!("/photos/{}", photo.sha256)),
            balloon: shots::of_name(&photo.shot).map(|(of, _)| of.to_string()).unwrap_or_default(),
            again: seen.address(&walk_address(&photo.shot)),
            shot: photo.shot.clone(),
            note: photo.note.clone(),
            by: photo.by.clone(),
            received: received.map(|received| clock.minute_of(received.at)).unwrap_or_default(),
            declared: clock.minute_of(photo.declared),
            size: bytes_in_words(photo.size),
            readable: received.is_some_and(|received| received.dots.is_some()),
            remarks: remarks(seen, photo),
            said: said(seen, photo),
            sha256: photo.sha256.to_string(),
            drawn: drawn_over(seen, photo),
            withdrawn: photo
                .withdrawn
                .as_ref()
                .map(|done| (clock.minute_of(done.at), done.by.clone(), done.why.clone())),
        }
    }
}

/// Before what it was taken, in words.
fn of_the_earlier_piece(since: &str) -> String {
    format!("Of the earlier piece: taken before {since}. It counts for nothing.")
}

/// Of which piece it is, where that is not the one that is there; what was seen in it, and where the very same picture stands
/// as well.
fn remarks(seen: &Seen, photo: &Photo) -> Vec<String> {
    let since = seen.pieces().photo(photo).map(|since| since.describe(seen.who.units));
    let mut remarks: Vec<String> = since.as_deref().map(of_the_earlier_piece).into_iter().collect();
    remarks.extend(photo.received.iter().flat_map(|received| received.remarks.clone()));
    let same = seen.facts.photos.iter().filter(|other| {
        other.sha256 == photo.sha256 && other.shot != photo.shot && other.withdrawn.is_none() && !other.shot.is_empty()
    });
    remarks.extend(same.map(|other| format!("The very same picture is also at {}.", other.shot)));
    remarks
}

fn said(seen: &Seen, photo: &Photo) -> Vec<String> {
    let of_it = seen.facts.photos_said.iter().filter(|one| one.is_of(photo));
    of_it.map(|one| one.describe(&seen.who.ctx.clock.minute_of(one.at))).collect()
}

/// The photographs that were kept of a shot and not withdrawn, newest first.
pub(crate) fn kept_pictures(seen: &Seen, shot: &str) -> Vec<Picture> {
    let kept = seen.facts.photos.iter().rev().filter(|photo| photo.shot == shot && photo.kept());
    kept.map(|photo| Picture::of(seen, photo)).collect()
}
