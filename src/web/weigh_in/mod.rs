//! Weighing a car: four pads in, the total, the shares and the doubt out.

mod view;

use axum::Router;
use axum::extract::Form as Posted;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::get;

use super::app::App;
use super::form::{Form, Pairs};
use super::gate::Seen;
use super::page::show;
use super::problem::Problem;
use crate::actions::{self, ActionError};
use crate::domain::weigh_in::{Pads, Reading};

/// The room's addresses.
pub(crate) fn routes() -> Router<App> {
    Router::new().route("/builds/{build}/weigh-in", get(weigh_in).post(record))
}

async fn weigh_in(seen: Seen) -> Result<Response, Problem> {
    sheet(&seen, StatusCode::OK, &Form::empty(seen.who.units))
}

fn sheet(seen: &Seen, status: StatusCode, form: &Form) -> Result<Response, Problem> {
    show(status, &view::WeighInSheet::of(seen, form))
}

async fn record(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let mut form = Form::of(seen.who.units, typed);
    if let Some(reading) = read(&mut form) {
        match actions::weigh_in::record(&seen.who.ctx, seen.build(), reading).await {
            Ok(_) => return Ok(Redirect::to(&seen.address("/weigh-in")).into_response()),
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(other) => return Err(other.into()),
        }
    }
    sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, &form)
}

fn read(form: &mut Form) -> Option<Reading> {
    let (left_front, right_front) = (form.read("left_front"), form.read("right_front"));
    let (left_rear, right_rear) = (form.read("left_rear"), form.read("right_rear"));
    let resolution = form.read("resolution");
    let pads =
        Pads { left_front: left_front?, right_front: right_front?, left_rear: left_rear?, right_rear: right_rear? };
    let (conditions, note) = (form.chosen("condition"), form.text("note").to_owned());
    Some(Reading { pads, resolution: resolution?, conditions, note })
}
