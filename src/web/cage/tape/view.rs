//! What the tape walk shows: one measurement, where it lies in the car, a pad for its figure, how far one has come.

use askama::Template;
use axum::http::StatusCode;
use axum::response::Response;

use super::pad::Pad;
use super::steps::{AREAS, area_word, name, seen_from, short_after, walked};
use super::{WALK, steps};
use crate::domain::cage::record::tape::where_measured;
use crate::domain::cage::{CageRecord, Hand, TapeMeasure};
use crate::drawing::Mark;
use crate::drawing::car::taping::draw_taping;
use crate::drawing::paper::svg::Svg;
use crate::quantity::{Length, Units};
use crate::web::cage::drawn::{WithGuesses, typed};
use crate::web::cage::groups::Part;
use crate::web::gate::Seen;
use crate::web::page::{Sheet, show};
use crate::web::problem::Problem;

/// The picture's frame on a phone.
pub(super) const FRAME: (Length, Length) = (Length::from_mm(100.0), Length::from_mm(54.0));

/// What became of a figure.
pub(super) enum Told {
    /// None was sent.
    Nothing,
    /// It stands in the record, in these words.
    Set(String),
    /// It does not read, or cannot be.
    Why(String),
    /// Somebody else wrote this one there meanwhile.
    Theirs(String),
}

/// At which measurement one is, and what stands on its pad.
pub(super) struct At {
    pub(super) at: Option<TapeMeasure>,
    pub(super) pad: Pad,
    pub(super) units: Units,
    pub(super) told: Told,
}

/// The walk at one measurement; without one where nothing is left, or where the sheet is the phone's own.
#[derive(Template)]
#[template(path = "cage/tape.html")]
pub(super) struct TapeSheet {
    sheet: Sheet,
    build: String,
    base: String,
    areas: Vec<Area>,
    step: Option<Step>,
    pad: Pad,
    inch: bool,
    why: String,
    theirs: Option<String>,
    left: usize,
    sixteenths: Vec<Sixteenth>,
}

/// An area of the car in the row over the measurement.
struct Area {
    word: &'static str,
    taken: usize,
    all: usize,
    here: bool,
    to: String,
}

/// The measurement one is at.
struct Step {
    key: String,
    number: usize,
    of: usize,
    name: String,
    where_to_hold: &'static str,
    picture: Option<Svg>,
    was: String,
    /// Of one on the left: whether the right side is to be the same.
    same: Option<bool>,
    /// Whether it may lie below nothing.
    minus: bool,
    next: String,
}

/// A key of the pad.
struct Sixteenth {
    parts: u8,
    words: &'static str,
    chosen: bool,
}

const SIXTEENTHS: [&str; 16] = [
    "even", "1/16", "1/8", "3/16", "1/4", "5/16", "3/8", "7/16", "1/2", "9/16", "5/8", "11/16", "3/4", "13/16", "7/8",
    "15/16",
];

fn keys(pad: &Pad) -> Vec<Sixteenth> {
    let key = |(parts, words)| Sixteenth { parts, words, chosen: pad.sixteenths == Some(parts) };
    (0..).zip(SIXTEENTHS).map(key).collect()
}

impl TapeSheet {
    pub(super) fn of(seen: &Seen, drawn: &WithGuesses, record: &CageRecord, at: At) -> Self {
        let base = seen.address(WALK);
        let walk = walked(record, at.at);
        let area = |part: Part| {
            let of = || walk.iter().filter(move |measure| Part::of(**measure) == part);
            let to = of().find(|measure| record.measure(**measure).is_none()).or_else(|| of().next());
            to.map(|to| Area {
                word: area_word(part, record.structure),
                taken: of().filter(|measure| record.measure(**measure).is_some()).count(),
                all: of().count(),
                here: at.at.is_some_and(|at| Part::of(at) == part),
                to: format!("{base}?at={}", to.key()),
            })
        };
        let (why, theirs) = match at.told {
            Told::Nothing | Told::Set(_) => (String::new(), None),
            Told::Why(why) => (why, None),
            Told::Theirs(theirs) => (String::new(), Some(theirs)),
        };
        let picture = |measure| {
            let marks = picture(drawn, record, measure)?;
            Some(Svg::of(&marks, FRAME, |_| None))
        };
        Self {
            sheet: seen.sheet("Tape walk"),
            build: seen.facts.build.slug.clone(),
            areas: AREAS.into_iter().filter_map(area).collect(),
            step: at.at.and_then(|measure| Step::of(record, &walk, measure)).map(|step| Step {
                picture: at.at.and_then(picture),
                was: theirs.clone().unwrap_or(step.was),
                ..step
            }),
            left: steps::walked(record, None).iter().filter(|measure| record.measure(**measure).is_none()).count(),
            sixteenths: keys(&at.pad),
            pad: at.pad,
            inch: at.units == Units::Inch,
            why,
            theirs,
            base,
        }
    }
}

impl Step {
    fn of(record: &CageRecord, walk: &[TapeMeasure], measure: TapeMeasure) -> Option<Self> {
        let place = walk.iter().position(|other| *other == measure)?;
        let following = walk.get(place + 1).copied();
        let right = record.measures.contains_key(&measure.mirrored());
        Some(Self {
            key: measure.key(),
            number: place + 1,
            of: walk.len(),
            name: name(measure, record.structure),
            where_to_hold: measure.where_to_hold(),
            picture: None,
            was: record.measures.get(&measure).map(|typed| typed.text.clone()).unwrap_or_default(),
            same: (measure.hand() == Some(Hand::Left)).then_some(!right),
            minus: measure.bounds().0 < Length::default(),
            next: following.map_or_else(
                || "Finish".to_owned(),
                |following| format!("Next: {}", short_after(following, measure, record.structure)),
            ),
        })
    }
}

/// The marks of one measurement's picture.
pub(super) fn picture(of: &WithGuesses, record: &CageRecord, measure: TapeMeasure) -> Option<Vec<Mark>> {
    let points = where_measured::drawn(measure, &of.record)?;
    Some(draw_taping(of.cage(), &of.pale(), (points, &typed(record, measure)), seen_from(measure), FRAME))
}

/// The walk as the phone keeps it: nothing of a build is in it.
pub(in crate::web::cage) async fn alone() -> Result<Response, Problem> {
    let sheet = Sheet { phone: false, ..Sheet::outside("Tape walk") };
    let pad = Pad { text: String::new(), sixteenths: None };
    let empty = TapeSheet {
        sheet,
        build: String::new(),
        base: String::new(),
        areas: Vec::new(),
        step: None,
        sixteenths: keys(&pad),
        pad,
        inch: true,
        why: String::new(),
        theirs: None,
        left: 0,
    };
    show(StatusCode::OK, &empty)
}
