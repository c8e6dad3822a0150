//! Weighing a car: four pads in, or the total alone, the total, the shares and the doubt out.

mod after;
mod balance;
mod finished;
mod papers;
mod view;

use axum::extract::{Form as Posted, Path};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::form::{Form, Pairs};
use super::gate::Seen;
use super::page::show;
use super::problem::Problem;
use super::routing::{Routes, get, post};
use crate::actions::{self, ActionError};
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::weight::weigh_in::{Loads, Pads, Reading, Stood};
use crate::quantity::Mass;

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new()
        .route("/builds/{build}/weigh-in", get(weigh_in).post(record))
        .route("/builds/{build}/weigh-in/wheels", post(wheels))
        .route("/builds/{build}/weigh-in/papers", post(file))
        .route("/builds/{build}/weigh-in/foreseen", post(list))
        .route("/builds/{build}/weigh-in/foreseen/{place}/take-back", post(take_back))
        .route("/builds/{build}/weigh-in/foreseen/take-back-weighed", post(take_back_weighed))
}

async fn weigh_in(seen: Seen) -> Result<Response, Problem> {
    sheet(&seen, StatusCode::OK, &Form::empty(seen.who.units)).await
}

async fn sheet(seen: &Seen, status: StatusCode, form: &Form) -> Result<Response, Problem> {
    let found = seen.found().await?;
    show(status, &view::WeighInSheet::of(seen, &found, form))
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
    sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, &form).await
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
    sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, &form).await
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
    sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, &form).await
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
    sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, &form).await
}

const PADS: [&str; 4] = ["left_front", "right_front", "left_rear", "right_rear"];

fn read(form: &mut Form, facts: &BuildFacts) -> Option<Reading> {
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
    let reading = Reading {
        loads: loads?,
        resolution: resolution?,
        conditions,
        cage_in: form.text("cage_in") == "yes",
        scale,
        paper: paper.flatten().map(|filed| filed.paper.clone()),
        again: again?,
        stood: Stood { aboard, heights },
        note,
    };
    let asked = form.text("sure") != "yes" && reading.faults().is_empty();
    if let Some(why) = reading.doubtful(facts.weigh_ins.first()).filter(|_| asked) {
        form.fault("sure", why);
        return None;
    }
    Some(reading)
}

/// Four pads, or the total alone.
fn loads(form: &mut Form) -> Option<Loads> {
    let padless = PADS.iter().all(|pad| form.text(pad).is_empty());
    let total = form.read_if_typed("total");
    if !form.text("total").is_empty() && padless {
        return total.map(Loads::Whole);
    }
    if padless {
        form.fault("left_front", "Type the four pads, or below them the total alone.");
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
