//! Weighing a car: four pads in, or the total alone, the total, the shares and the doubt out.

mod after;
mod asked;
mod balance;
mod figures;
mod finished;
mod newest;
mod papers;
mod view;

use axum::extract::{Form as Posted, Path, Query};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;

use self::view::{About, So};
use super::form::{Form, Pairs};
use super::gate::Seen;
use super::page::show;
use super::problem::Problem;
use super::routing::{Routes, get, post};
use crate::actions::{self, ActionError};
use crate::domain::derived::findings::Findings;
use crate::domain::derived::worked::if_weighed::IfWeighed;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::weight::weigh_in::{Loads, Pads, Reading, Stood};
use crate::quantity::Mass;

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new()
        .route("/builds/{build}/weigh-in", get(weigh_in).post(record))
        .route("/builds/{build}/weigh-in/as-typed", post(as_typed))
        .route("/builds/{build}/weigh-in/wheels", post(wheels))
        .route("/builds/{build}/weigh-in/papers", post(file))
        .route("/builds/{build}/weigh-in/foreseen", post(list))
        .route("/builds/{build}/weigh-in/foreseen/{place}/take-back", post(take_back))
        .route("/builds/{build}/weigh-in/foreseen/take-back-weighed", post(take_back_weighed))
}

/// What an address of the sheet asks for: anything in `new` the form for another weighing.
#[derive(Debug, Deserialize)]
struct Wanted {
    new: Option<String>,
}

async fn weigh_in(seen: Seen, Query(wanted): Query<Wanted>) -> Result<Response, Problem> {
    let Some(newest) = seen.facts.weigh_ins.first() else {
        return asked(&seen, StatusCode::OK, &Form::empty(seen.who.units)).await;
    };
    let reading = &newest.reading;
    if wanted.new.is_none() {
        return recorded(&seen, StatusCode::OK, &Form::empty(seen.who.units)).await;
    }
    // the scale is the same one as last time until somebody says otherwise; what is ticked is ticked anew
    let paper = reading.paper.as_ref().map(|paper| paper.place.to_string()).unwrap_or_default();
    let same = [("resolution", &reading.resolution.text), ("scale", &reading.scale), ("paper", &paper)];
    let same = same.map(|(name, text)| (name.to_owned(), text.clone())).to_vec();
    asked(&seen, StatusCode::OK, &Form::filled(seen.who.units, same)).await
}

/// The sheet as it would stand were the form recorded; nothing is, and nothing is at fault while it is being typed.
async fn as_typed(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    asked(&seen, StatusCode::OK, &Form::of(seen.who.units, typed)).await
}

/// The sheet with the form of a weighing.
async fn asked(seen: &Seen, status: StatusCode, form: &Form) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let about = About::Typed(so_far(form, seen, &found));
    show(status, &view::WeighInSheet::of(seen, &found, form, &about))
}

/// The sheet of the newest weighing; `form` is of what stands beside it.
async fn recorded(seen: &Seen, status: StatusCode, form: &Form) -> Result<Response, Problem> {
    let found = seen.found().await?;
    show(status, &view::WeighInSheet::of(seen, &found, form, &About::Recorded))
}

/// The sheet after a form beside the weighing was refused: the weighing as recorded, or the form for the first.
async fn refused_beside(seen: &Seen, form: &Form) -> Result<Response, Problem> {
    let first = seen.facts.weigh_ins.is_empty();
    let status = StatusCode::UNPROCESSABLE_ENTITY;
    if first { asked(seen, status, form).await } else { recorded(seen, status, form).await }
}

/// How far what is typed can be read by now.
fn so_far(form: &Form, seen: &Seen, found: &Findings) -> So {
    let mut tried = form.clone();
    match reading(&mut tried, &seen.facts).filter(|reading| reading.faults().is_empty()) {
        Some(reading) => So::Reading(Box::new(IfWeighed::of(&seen.facts, &found.worked, reading))),
        None => loads(&mut form.clone()).map_or(So::Nothing, So::Loads),
    }
}

fn back(seen: &Seen) -> Response {
    Redirect::to(&seen.address("/weigh-in#finished")).into_response()
}

async fn list(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let mut form = Form::of(seen.who.units, typed);
    if let Some(thing) = finished::read(&mut form) {
        match actions::weight::foreseen::add(&seen.who.ctx, seen.build(), thing).await {
            Ok(_) => return Ok(back(&seen)),
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(other) => return Err(other.into()),
        }
    }
    refused_beside(&seen, &form).await
}

async fn take_back(seen: Seen, Path((_, place)): Path<(String, String)>) -> Result<Response, Problem> {
    let place = place.parse().map_err(|_| Problem::NotFound)?;
    actions::weight::foreseen::take_back(&seen.who.ctx, seen.build(), place).await?;
    Ok(back(&seen))
}

async fn take_back_weighed(seen: Seen) -> Result<Response, Problem> {
    actions::weight::foreseen::take_back_weighed(&seen.who.ctx, seen.build()).await?;
    Ok(back(&seen))
}

async fn file(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let mut form = Form::of(seen.who.units, typed);
    if let Some(new) = papers::read(&mut form) {
        match actions::weight::scale_papers::record(&seen.who.ctx, seen.build(), new).await {
            Ok(_) => return Ok(Redirect::to(&seen.address("/weigh-in#papers")).into_response()),
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(other) => return Err(other.into()),
        }
    }
    refused_beside(&seen, &form).await
}

async fn wheels(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let mut form = Form::of(seen.who.units, typed);
    if let Some(wheels) = balance::read(&mut form) {
        match actions::weight::balance::record(&seen.who.ctx, seen.build(), wheels).await {
            Ok(()) => return Ok(Redirect::to(&seen.address("/weigh-in#balance")).into_response()),
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(other) => return Err(other.into()),
        }
    }
    refused_beside(&seen, &form).await
}

async fn record(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let mut form = Form::of(seen.who.units, typed);
    if let Some(reading) = read(&mut form, &seen.facts) {
        match actions::weight::weigh_in::record(&seen.who.ctx, seen.build(), reading).await {
            Ok(_) => return Ok(Redirect::to(&seen.address("/weigh-in")).into_response()),
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(other) => return Err(other.into()),
        }
    }
    asked(&seen, StatusCode::UNPROCESSABLE_ENTITY, &form).await
}

const PADS: [&str; 4] = ["left_front", "right_front", "left_rear", "right_rear"];

/// What was typed, where it reads and is not asked about.
fn read(form: &mut Form, facts: &BuildFacts) -> Option<Reading> {
    let reading = reading(form, facts)?;
    let asked = form.text("sure") != "yes" && reading.faults().is_empty();
    if let Some(why) = reading.doubtful(facts.weigh_ins.first()).filter(|_| asked) {
        form.fault("sure", why);
        return None;
    }
    Some(reading)
}

fn reading(form: &mut Form, facts: &BuildFacts) -> Option<Reading> {
    let loads = loads(form);
    let (resolution, again) = (form.read("resolution"), form.read_each("again"));
    let (conditions, note) = (form.chosen("condition"), form.text("note").to_owned());
    let [scale, aboard, heights] = ["scale", "aboard", "heights"].map(|at| form.text(at).to_owned());
    let place: Option<u32> = form.parse("paper", "Choose a paper of the list.");
    let paper = place.map(|place| facts.papers.iter().find(|filed| filed.paper.place == place));
    if paper == Some(None) {
        form.fault("paper", "Choose a paper of the list.");
        return None;
    }
    Some(Reading {
        loads: loads?,
        resolution: resolution?,
        conditions,
        cage_in: form.text("cage_in") == "yes",
        scale,
        paper: paper.flatten().map(|filed| filed.paper.clone()),
        again: again?,
        stood: Stood { aboard, heights },
        note,
    })
}

/// Four pads, or the total alone.
fn loads(form: &mut Form) -> Option<Loads> {
    let padless = PADS.iter().all(|pad| form.text(pad).is_empty());
    let total = form.read_if_typed("total");
    if !form.text("total").is_empty() && padless {
        return total.map(Loads::Whole);
    }
    if padless {
        form.fault("left_front", "Type the four pads, or beside them the total alone.");
        return None;
    }
    if !form.text("total").is_empty() {
        form.fault("total", "Type the four pads or the total, not both.");
        // What reads comes back with its unit all the same.
        for pad in PADS {
            form.read_if_typed::<Mass>(pad);
        }
        return None;
    }
    let [left_front, right_front, left_rear, right_rear] = PADS.map(|pad| form.read(pad));
    Some(Loads::Pads(Pads {
        left_front: left_front?,
        right_front: right_front?,
        left_rear: left_rear?,
        right_rear: right_rear?,
    }))
}
