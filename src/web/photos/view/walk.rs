//! What the walk shows: where the part is, what is asked of it, two buttons, and how far one has come.

use askama::Template;

use crate::domain::book::Force;
use crate::domain::book::kinds::Before;
use crate::domain::cage::Cage;
use crate::domain::derived::findings::Findings;
use crate::domain::judge::shots::Area;
use crate::domain::judge::shots::Shot;
use crate::domain::words::cautions;
use crate::domain::words::ids::{Balloon, CaptureId, Kind};
use crate::domain::work::walk::{ShotState, left, next, state_of};
use crate::drawing::Mark;
use crate::drawing::car::apart::apart;
use crate::drawing::car::near::{near, stand};
use crate::quantity::Length;
use crate::web::form::{Field, Form};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, part_address, walk_address};
use crate::web::shown::picture::{Picture, kept_pictures};
use crate::web::svg::Svg;

/// The picture's frame on a phone: so wide that the number in the balloon is read at arm's length.
pub(super) const ON_A_PHONE: (Length, Length) = (Length::from_mm(100.0), Length::from_mm(64.0));

/// What is asked of the walk.
pub(crate) struct WalkQuery {
    /// The shot to show.
    pub(crate) shot: String,
    /// Or the one before it.
    pub(crate) after: String,
    /// The photograph kept last.
    pub(crate) last: Option<CaptureId>,
    /// What is wrong with what was sent.
    pub(crate) faults: Vec<String>,
    /// What was typed.
    pub(crate) form: Form,
}

/// The walk at one shot.
#[derive(Template)]
#[template(path = "photos/walk.html")]
pub(crate) struct Walk {
    sheet: Sheet,
    base: String,
    capture: String,
    shot: Option<AskedFor>,
    drawing: Option<Svg>,
    /// Where one stands for it.
    stand: &'static str,
    areas: Vec<InArea>,
    /// The build in addresses.
    slug: String,
    faults: Vec<String>,
    last: Option<Picture>,
    next: String,
    why: Field,
    note: Field,
    total: usize,
    taken: usize,
    unsent: usize,
    cannot: usize,
}

/// An area of the car in the row over the shot.
struct InArea {
    word: &'static str,
    left: usize,
    here: bool,
    to: String,
}

/// A shot that is asked for.
struct AskedFor {
    number: usize,
    name: String,
    balloon: String,
    part: String,
    to: String,
    what: String,
    view: String,
    /// Which of how many shots of its part it is.
    place: usize,
    of_part: usize,
    must_show: Vec<String>,
    before: &'static str,
    recommended: bool,
    clause: String,
    /// What to mind where it is taken; empty for most.
    caution: &'static str,
    state: String,
    pictures: Vec<Picture>,
}

impl Walk {
    /// The shot that is asked for, or the next one that is left.
    pub(crate) fn of(seen: &Seen, found: &Findings, asked: WalkQuery) -> Self {
        let (shots, facts) = (&found.worked.shots, &*seen.facts);
        let named = found.worked.every_shot().find(|shot| shot.name() == asked.shot);
        let after = Some(asked.after.as_str()).filter(|after| !after.is_empty());
        let shot = named.or_else(|| next(shots, facts, after));
        let following = shot.and_then(|shot| next(shots, facts, Some(&shot.name())));
        let cage = &found.worked.cage;
        let last = asked.last.and_then(|last| facts.photos.iter().find(|photo| photo.capture == last));
        let standing =
            |wanted: fn(&ShotState) -> bool| shots.iter().filter(|shot| wanted(&state_of(shot, facts))).count();
        Self {
            sheet: seen.sheet("Walk"),
            base: seen.address(""),
            capture: seen.who.ctx.clock.new_id().to_string(),
            stand: shot.and_then(|shot| stand(cage, shot.of)).unwrap_or_default(),
            drawing: shot.and_then(|shot| pictured(cage, shot.of)).map(|marks| Svg::of(&marks, ON_A_PHONE, |_| None)),
            areas: in_areas(seen, shots, shot.map(|shot| shot.area)),
            slug: facts.build.slug.clone(),
            next: following.map(|shot| seen.address(&walk_address(&shot.name()))).unwrap_or_default(),
            why: asked.form.field("why", "Why it cannot be taken").area(),
            note: asked.form.field("note", "A note with it").hint("Only when the picture does not say it itself."),
            total: shots.len(),
            taken: found.worked.taken(),
            unsent: facts.photos.iter().filter(|photo| photo.waits()).count(),
            cannot: standing(|state| matches!(state, ShotState::Cannot { .. })),
            faults: asked.faults,
            last: last.map(|photo| Picture::of(seen, photo)),
            shot: shot.map(|shot| AskedFor::of(seen, shot, shots)),
        }
    }
}

/// The areas that have a shot, each leading to the first that is left there, else to its first.
fn in_areas(seen: &Seen, shots: &[Shot], here: Option<Area>) -> Vec<InArea> {
    let left = left(shots, &seen.facts);
    let mut areas: Vec<Area> = shots.iter().map(|shot| shot.area).collect();
    areas.dedup();
    let one = |area: Area| {
        let of_it = || shots.iter().filter(move |shot| shot.area == area);
        let to = of_it().find(|shot| state_of(shot, &seen.facts).left()).or_else(|| of_it().next())?;
        Some(InArea {
            word: area.short(),
            left: left.iter().find(|(other, _)| *other == area).map_or(0, |(_, count)| *count),
            here: here == Some(area),
            to: seen.address(&walk_address(&to.name())),
        })
    };
    areas.into_iter().filter_map(one).collect()
}

/// What a shot's picture shows: its part near, or what stands apart from the cage.
pub(super) fn pictured(cage: &Cage, of: Balloon) -> Option<Vec<Mark>> {
    near(cage, of, ON_A_PHONE).or_else(|| apart(of, ON_A_PHONE))
}

/// Which of how many shots of its part one is.
pub(super) fn place_among(shot: &Shot, all: &[Shot]) -> (usize, usize) {
    let of_part = || all.iter().filter(|other| other.of == shot.of);
    (of_part().position(|other| other == shot).map_or(1, |at| at + 1), of_part().count().max(1))
}

impl AskedFor {
    fn of(seen: &Seen, shot: &Shot, all: &[Shot]) -> Self {
        let name = shot.name();
        let state = state_of(shot, &seen.facts);
        let (place, of_part) = place_among(shot, all);
        Self {
            place,
            of_part,
            number: all.iter().position(|other| other == shot).map_or(0, |at| at + 1),
            balloon: shot.of.to_string(),
            part: shot.part.clone(),
            to: seen.address(&part_address(shot.of)),
            what: shot.what.clone(),
            view: shot.view.clone().unwrap_or_default(),
            must_show: shot.must_show.clone(),
            before: before(shot.before),
            recommended: shot.force == Force::Should,
            clause: shot.clause.clone(),
            caution: caution(shot),
            state: match &state {
                ShotState::AskedFor | ShotState::Taken => String::new(),
                ShotState::Cannot { question, why } => format!("Q{question}, {}: {why}", state.word()),
                other => other.word().to_owned(),
            },
            pictures: kept_pictures(seen, &name),
            name,
        }
    }
}

/// What to mind where a shot is taken: a plate and what lies under it are seen from under the car.
pub(super) const fn caution(shot: &Shot) -> &'static str {
    if matches!(shot.of.kind, Kind::Plate) { cautions::UNDER_THE_CAR } else { "" }
}

/// Before which work a shot is taken.
pub(super) const fn before(before: Option<Before>) -> &'static str {
    match before {
        Some(Before::Tack) => "before tacking",
        Some(Before::Welding) => "before full welding",
        Some(Before::Paint) => "before paint",
        None => "",
    }
}
