//! The scrutineer's rulings on single rules: the list, recording one, taking one back.

mod view;

use axum::extract::{Form as Posted, Path, Query};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::form::{Form, Pairs};
use super::gate::{Seen, SeenRounds};
use super::page::show;
use super::problem::Problem;
use super::routing::{Routes, get, post};
use crate::actions::{self, ActionError};
use crate::domain::recorded::rulings::NewRuling;
use crate::domain::shop::people::Deed;

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new()
        .route("/builds/{build}/rulings", get(rulings).post(record))
        .route("/builds/{build}/rulings/{place}/take-back", post(take_back))
}

/// `?rule=backstay-angle&of=M4` fills in what is ruled on.
async fn rulings(SeenRounds(seen): SeenRounds, Query(asked): Query<Pairs>) -> Result<Response, Problem> {
    let mut filled: Pairs =
        asked.into_iter().filter(|(name, _)| matches!(name.as_str(), "rule" | "of" | "measure")).collect();
    filled.push(("given".to_owned(), seen.who.ctx.clock.today().to_string()));
    sheet(&seen, StatusCode::OK, &Form::filled(seen.who.units, filled)).await
}

async fn sheet(seen: &Seen, status: StatusCode, form: &Form) -> Result<Response, Problem> {
    let found = seen.found().await?;
    show(status, &view::Rulings::of(seen, &found, form))
}

async fn record(SeenRounds(seen): SeenRounds, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::Reply)?;
    let mut form = Form::of(seen.who.units, typed);
    if let Some(new) = read(&mut form) {
        match actions::recorded::rulings::record(&seen.who.ctx, seen.build(), new).await {
            Ok(_) => return Ok(Redirect::to(&seen.address("/rulings")).into_response()),
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(other) => return Err(other.into()),
        }
    }
    sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, &form).await
}

fn read(form: &mut Form) -> Option<NewRuling> {
    let stays = match form.text("stays") {
        "yes" => Some(true),
        "no" => Some(false),
        _ => {
            form.fault("stays", "Choose what the scrutineer decided.");
            None
        }
    };
    let of = form.parse("of", "A number of the packet, like J7; or leave it empty for all the rule speaks of.");
    let measure = form.parse("measure", "Choose a figure of the list, or all.");
    let given = form.parse("given", "This does not read as a day. Try 2026-05-16.");
    if given.is_none() && form.text("given").is_empty() {
        form.fault("given", "Write the day it was given.");
    }
    let capture = form.parse("capture", "Choose a photograph of the list, or none.");
    let round = form.parse("round", "Choose a round of the list, or none.");
    if form.is_faulty() {
        return None;
    }
    let [rule, words, given_by, letter] = ["rule", "words", "given_by", "letter"].map(|at| form.text(at).to_owned());
    Some(NewRuling { rule, of, measure, stays: stays?, words, given_by, given: given?, capture, round, letter })
}

async fn take_back(
    SeenRounds(seen): SeenRounds,
    Path((_, place)): Path<(String, String)>,
    Posted(typed): Posted<Pairs>,
) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::Reply)?;
    let place = place.parse().map_err(|_| Problem::NotFound)?;
    let mut form = Form::of(seen.who.units, typed);
    let why = view::why_field(place);
    match actions::recorded::rulings::take_back(&seen.who.ctx, seen.build(), place, form.text(&why)).await {
        Ok(()) => return Ok(Redirect::to(&seen.address("/rulings")).into_response()),
        Err(ActionError::Refused(faults)) => {
            for fault in faults {
                form.fault(&why, fault.why);
            }
        }
        Err(other) => return Err(other.into()),
    }
    sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, &form).await
}
