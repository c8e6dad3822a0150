//! Seats and helmets: where who sits, and what follows for bars, harness and padding.

use askama::Template;
use axum::extract::{Form as Posted, Path, Query};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::beside::{SeatLine, seats};
use super::{drawn_first, standing, store};
use crate::actions::ActionError;
use crate::domain::cage::CageRecord;
use crate::domain::cage::record::seats::{HELMET, REACH, SeatRecord, next_number};
use crate::domain::derived::findings::Findings;
use crate::domain::shop::people::{Deed, may};
use crate::drawing::car::beside::of_seat;
use crate::drawing::car::cage::view_beside;
use crate::drawing::car::view::View;
use crate::quantity::{Length, Typed, Units};
use crate::web::form::{Field, Form, Pairs};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, show};
use crate::web::problem::Problem;
use crate::web::svg::Svg;

#[derive(Template)]
#[template(path = "cage/seats.html")]
struct SeatsSheet {
    sheet: Sheet,
    base: String,
    seats: Vec<SeatLine>,
    /// The seat that is changed; none for a new one.
    number: Option<u32>,
    views: Vec<Svg>,
    drawn: &'static str,
    fields: Vec<Field>,
    faults: Vec<String>,
    laid_out: bool,
    may_change: bool,
}

/// The fields of a seat that are always there, with what they ask and where to hold the tape.
const FIELDS: [(&str, &str, &str); 7] = [
    ("left", "Seat's middle, left of the centre", "13 3/4, or 350 mm. Minus is to the right."),
    (
        "hips_forward",
        "Hips, forward of the hoop's feet",
        "Where cushion and back meet: 12, or 305 mm. Minus is behind the feet.",
    ),
    ("hips_up", "Hips, up from the floor", "5, or 130 mm."),
    ("shoulder_forward", "Top of the shoulder, forward", "Where the strap lies on it, the driver belted in."),
    ("shoulder_up", "Top of the shoulder, up", "24, or 610 mm."),
    ("helmet_forward", "Helmet's middle, forward", "Half way between its front and its back, helmet on."),
    ("helmet_up", "Helmet's middle, up", "Half way between its crown and its lower edge."),
];
/// A seat for the picture while nothing is typed, mm; no car was measured for it.
const EXAMPLE: [f64; 7] = [340.0, 330.0, 130.0, 130.0, 610.0, 190.0, 820.0];

/// The sheet; what stands in its address is drawn without being kept.
pub(super) async fn sheet(seen: Seen, Query(typed): Query<Pairs>) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let drawn = drawn_first(&typed);
    let mut form = Form::of(seen.who.units, typed);
    let mut seat = None;
    if drawn {
        seat = read(&mut form, &found.worked.record);
        form.refuse(seat.as_ref().map(SeatRecord::faults).unwrap_or_default());
    } else if let Some(there) =
        found.worked.record.seats.iter().find(|seat| seat.number.to_string() == form.text("number"))
    {
        form = Form::filled(seen.who.units, recorded(there));
        seat = Some(there.clone());
    }
    show(StatusCode::OK, &SeatsSheet::of(&seen, &found, &form, seat.as_ref()))
}

/// Adds a seat, or puts another in the place of one.
pub(super) async fn keep(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::SetUpBuilds)?;
    let mut form = Form::of(seen.who.units, typed);
    let found = seen.found().await?;
    let (mut record, version) = standing(&seen.facts)?;
    let seat = read(&mut form, &record);
    if let Some(seat) = &seat {
        form.refuse(seat.faults());
        match record.seats.iter_mut().find(|there| there.number == seat.number) {
            Some(there) => *there = seat.clone(),
            None => record.seats.push(seat.clone()),
        }
        if !form.is_faulty() {
            form.refuse(record.faults());
        }
        if !form.is_faulty() {
            match store(&seen, &record, &found, version).await {
                Ok(()) => return Ok(Redirect::to(&seen.address("/seats")).into_response()),
                Err(ActionError::Refused(faults)) => form.refuse(faults),
                Err(other) => return Err(other.into()),
            }
        }
    }
    show(StatusCode::UNPROCESSABLE_ENTITY, &SeatsSheet::of(&seen, &found, &form, seat.as_ref()))
}

/// Takes a seat out.
pub(super) async fn remove(seen: Seen, Path((_, number)): Path<(String, u32)>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::SetUpBuilds)?;
    let found = seen.found().await?;
    let (mut record, version) = standing(&seen.facts)?;
    let before = record.seats.len();
    record.seats.retain(|seat| seat.number != number);
    if record.seats.len() == before {
        return Err(Problem::NotFound);
    }
    store(&seen, &record, &found, version).await?;
    Ok(Redirect::to(&seen.address("/seats")).into_response())
}

fn read(form: &mut Form, record: &CageRecord) -> Option<SeatRecord> {
    let number = form.text("number").parse().ok();
    let there = number.filter(|number| record.seats.iter().any(|seat| seat.number == *number));
    // each is read before the first that lacks ends it, so that every fault is told at once
    let figures = FIELDS.map(|(name, ..)| form.read(name));
    let stated = ["helmet_radius", "reach"].map(|name| form.read_if_typed(name));
    let number = there.unwrap_or_else(|| next_number(&record.seats));
    SeatRecord::of((number, form.text("name").to_owned()), figures, stated)
}

/// A seat as the form's pairs.
fn recorded(seat: &SeatRecord) -> Pairs {
    let stated = [("helmet_radius", &seat.helmet_radius), ("reach", &seat.reach)];
    let stated = stated.into_iter().filter_map(|(name, typed)| Some((name, typed.as_ref()?.text.clone())));
    let all = seat.figures().into_iter().map(|(name, typed)| (name, typed.text.clone())).chain(stated);
    let known = [("number", seat.number.to_string()), ("name", seat.name.clone())];
    all.chain(known).map(|(name, text)| (name.to_owned(), text)).collect()
}

fn example() -> Option<SeatRecord> {
    let figures = EXAMPLE.map(|mm| Some(Typed::written(Length::from_mm(mm))));
    SeatRecord::of((0, String::new()), figures, [None, None])
}

fn fields(form: &Form, units: Units) -> Vec<Field> {
    let mut fields = vec![form.field("name", "Who sits there").hint("“driver”, “co-driver”.")];
    fields.extend(FIELDS.map(|(name, label, hint)| form.field(name, label).hint(hint)));
    let usual = |usual: Length, why: &str| format!("Left empty: {}, {why}.", usual.by_tape(units));
    fields.push(
        form.field("helmet_radius", "Ball taken for the helmet, its radius").hint(usual(HELMET, "common practice")),
    );
    fields.push(form.field("reach", "How far the head moves").hint(usual(REACH, "a guess until it is tried")));
    fields
}

impl SeatsSheet {
    fn of(seen: &Seen, found: &Findings, form: &Form, seat: Option<&SeatRecord>) -> Self {
        let units = seen.who.units;
        let fields = fields(form, units);
        let there = found.worked.record.seats.iter().map(|seat| seat.number);
        let number = form.text("number").parse().ok();
        let drawn = if seat.is_some() { "As typed." } else { "An example, until all is typed." };
        Self {
            sheet: seen.sheet("Seats and helmets"),
            base: seen.address(""),
            seats: seats(seen, found),
            number: number.filter(|number| there.clone().any(|there| there == *number)),
            views: seat.or(example().as_ref()).map(|seat| views(found, seat)).unwrap_or_default(),
            drawn,
            faults: form.other_faults(&fields.iter().collect::<Vec<_>>()),
            fields,
            laid_out: !found.worked.cage.members.is_empty(),
            may_change: may(seen.who.ctx.by.role, Deed::SetUpBuilds),
        }
    }
}

/// The seat in the cage, from the side and from the front.
fn views(found: &Findings, seat: &SeatRecord) -> Vec<Svg> {
    let frame = (Length::from_mm(130.0), Length::from_mm(95.0));
    let seat = of_seat(&found.worked.cage, &found.worked.cage.seat_at(seat));
    let drawn = |view| Svg::of(&view_beside(&found.worked.cage, &seat, view, frame), frame, |_| None);
    [View::Side, View::Front].map(drawn).to_vec()
}
