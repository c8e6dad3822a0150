//! Pointing at a place on a photograph of a round: the photograph is pressed, with a finger, a mouse or by fields, without
//! script. A mark lies in the form with the answer until the two are saved together.

use askama::Template;
use axum::http::StatusCode;
use axum::response::Response;

use super::door::DoorOf;
use super::part::named;
use super::reader::Read;
use crate::actions::recorded::rounds::as_issued::as_issued;
use crate::domain::recorded::reviews::PhotoMark;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::Balloon;
use crate::quantity::Share;
use crate::web::form::{Field, Form};
use crate::web::page::{Sheet, show};
use crate::web::problem::Problem;

/// What a mark is called in the form.
pub(super) const MARK: &str = "mark";
/// How a button's value begins that leads to a photograph; its SHA-256 follows.
const ON: &str = "on:";
/// What the button sends that puts a mark by the fields.
const PLACE: &str = "place";
/// What the button sends that goes back without one.
const BACK: &str = "back";
/// The widths at which a photograph is pressed, in the browser's dots: a press tells no more than how many of them it was
/// from the edge, so the sheet holds the picture to one of these. On a phone, and larger.
const WIDTHS: [u32; 2] = [340, 960];

/// What a form wants with a mark.
pub(super) enum Wish {
    /// To be shown this photograph.
    See(Fingerprint),
    /// To have the mark in the form now; or none, and only to go back.
    Stay,
}

/// Reads what a sent form wants; a press on a photograph becomes a mark in it. None where it is to be saved.
pub(super) fn wish(
    form: &mut Form,
    dots: impl Fn(&Fingerprint) -> Option<(u32, u32)>,
) -> Result<Option<Wish>, Problem> {
    let go = form.text("go").to_owned();
    if let Some(photo) = go.strip_prefix(ON) {
        return Ok(Some(Wish::See(photo.parse().map_err(|_| Problem::NotFound)?)));
    }
    if go == BACK {
        return Ok(Some(Wish::Stay));
    }
    let pressed = !form.text("at.x").is_empty();
    if !pressed && go != PLACE {
        return Ok(None);
    }
    let photo: Fingerprint = form.text("on").parse().map_err(|_| Problem::NotFound)?;
    let dots = dots(&photo).ok_or(Problem::NotFound)?;
    let place = if pressed { pressed_at(form, dots) } else { typed_at(form) };
    let Some((across, down)) = place else { return Ok(Some(Wish::See(photo))) };
    form.add(MARK, PhotoMark { sha256: photo, across, down }.to_string());
    Ok(Some(Wish::Stay))
}

/// Where a photograph of so many dots was pressed, in thousandths.
fn pressed_at(form: &mut Form, dots: (u32, u32)) -> Option<(u16, u16)> {
    let wide = width(form.text("width"));
    let high = height(wide, dots);
    let at = |field: &str, of: u32| {
        let at: u32 = form.text(field).parse().ok().filter(|at| *at <= of)?;
        u16::try_from(at * 1_000 / of.max(1)).ok()
    };
    let place = at("at.x", wide).zip(at("at.y", high));
    if place.is_none() {
        form.fault("across", "The press was beside the photograph. Press on it once more.");
    }
    place
}

/// Where it is to be by the fields.
fn typed_at(form: &mut Form) -> Option<(u16, u16)> {
    let [across, down] = ["across", "down"].map(|at| form.read::<Share>(at).map(|share| share.value.ratio()));
    let mut thousandths = |at: &'static str, ratio: f64| {
        if !(0.0..=1.0).contains(&ratio) {
            form.fault(at, "From 0 % to 100 % lies on the picture.");
            return None;
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held between 0 and 1000")]
        let part = (ratio * 1_000.0).round() as u16;
        Some(part)
    };
    let (across, down) = across.zip(down)?;
    let (across, down) = (thousandths("across", across), thousandths("down", down));
    across.zip(down)
}

fn width(sent: &str) -> u32 {
    WIDTHS.into_iter().find(|width| width.to_string() == sent).unwrap_or(WIDTHS[0])
}

fn height(wide: u32, dots: (u32, u32)) -> u32 {
    let (across, down) = dots;
    (wide * down / across.max(1)).max(1)
}

/// The marks that a form holds; what is no mark is told.
pub(super) fn marks(form: &mut Form) -> Vec<PhotoMark> {
    let sent = form.chosen(MARK);
    let read: Vec<PhotoMark> = sent.iter().filter_map(|text| text.parse().ok()).collect();
    if read.len() != sent.len() {
        form.fault("marks", "One of the marks does not read. Put it once more.");
    }
    read
}

/// A photograph to be pressed.
#[derive(Template)]
#[template(path = "rounds/marking.html")]
struct Marking {
    sheet: Sheet,
    to: String,
    part: String,
    words: String,
    view: String,
    photo: String,
    on: String,
    size: (u32, u32),
    /// The other width: its value, and its words.
    other: (u32, &'static str),
    /// What was typed of the part so far, to go on with.
    carried: Vec<(String, String)>,
    fields: [Field; 2],
    button: String,
}

/// Shows a photograph of the part to be pressed, with what was typed so far.
pub(super) async fn sheet(door: DoorOf, part: Balloon, photo: &Fingerprint, form: &Form) -> Result<Response, Problem> {
    let door = door.whole().await?;
    let looked = door.seen.looked();
    let issued = as_issued(&door.seen.who.ctx, &looked, door.round).await?;
    let reader = door.reader();
    let read = Read::of(&reader, &issued, &looked.facts, &looked.found).filter(Read::open).ok_or(Problem::NotFound)?;
    let shown = read.contents.photos_of(part, &read.facts.photos);
    let one = shown.into_iter().find(|one| one.photo.sha256 == *photo).ok_or(Problem::NotFound)?;
    let dots = one.photo.received.as_ref().and_then(|received| received.dots).ok_or(Problem::NotFound)?;
    let wide = width(form.text("width"));
    let [small, large] = WIDTHS;
    let carried = |(name, _): &&(String, String)| ["part", "seen", "answer", "remark", MARK].contains(&name.as_str());
    let field = |name, label: &str| form.field(name, label).hint("As 35 %.");
    let sheet = Marking {
        sheet: door.sheet("Mark on a photograph"),
        to: door.address("/review"),
        part: part.to_string(),
        words: named(&read, part),
        view: one.view,
        photo: door.address(&format!("/photos/{photo}/screen")),
        on: photo.to_string(),
        size: (wide, height(wide, dots)),
        other: if wide == small { (large, "Show it larger") } else { (small, "Show it smaller") },
        carried: form.pairs().iter().filter(carried).cloned().collect(),
        fields: [field("across", "From the left"), field("down", "From the top")],
        button: ON.to_owned(),
    };
    let faulty = form.is_faulty();
    show(if faulty { StatusCode::UNPROCESSABLE_ENTITY } else { StatusCode::OK }, &sheet)
}

/// A mark in the form of an answer: what is sent, and where it is, in words.
pub(super) struct Kept {
    pub(super) sent: String,
    pub(super) words: String,
}

impl Kept {
    /// All of a part, each by the view of its photograph.
    pub(super) fn all(read: &Read<'_>, part: Balloon, marks: &[PhotoMark]) -> Vec<Self> {
        let shown = read.contents.photos_of(part, &read.facts.photos);
        let view = |mark: &PhotoMark| {
            let one = shown.iter().find(|one| one.photo.sha256 == mark.sha256);
            one.map_or("a photograph that is not there".to_owned(), |one| format!("on “{}”", one.view))
        };
        marks
            .iter()
            .map(|mark| Self { sent: mark.to_string(), words: format!("{}: {}", view(mark), mark.place()) })
            .collect()
    }
}
