//! The shop's bending dies and their test bends.

mod view;

use axum::Router;
use axum::extract::{Form as Posted, Path};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};

use super::app::App;
use super::form::{Form, Pairs};
use super::gate::SignedIn;
use super::page::show;
use super::problem::Problem;
use crate::actions::dies::NewDie;
use crate::actions::{self, ActionError};
use crate::domain::dies::TestBend;
use crate::domain::ids::DieId;
use crate::domain::people::Deed;
use crate::quantity::Length;

/// The room's addresses.
pub(crate) fn routes() -> Router<App> {
    Router::new()
        .route("/dies", get(dies).post(add))
        .route("/dies/{die}/tests", post(record))
        .route("/dies/{die}/tests/{place}/back", post(take_back))
}

async fn dies(who: SignedIn) -> Result<Response, Problem> {
    let who = who.who_may(Deed::RecordWork)?;
    let form = Form::empty(who.units);
    sheet(&who, StatusCode::OK, &form).await
}

async fn sheet(who: &SignedIn, status: StatusCode, form: &Form) -> Result<Response, Problem> {
    let dies = who.ctx.store.dies().await?;
    show(status, &view::Dies::of(who, &dies, form))
}

async fn add(who: SignedIn, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let who = who.who_may(Deed::RecordWork)?;
    let mut form = Form::of(who.units, typed);
    let (outside, radius) = (form.read::<Length>("outside"), form.read::<Length>("radius"));
    let offset = form.read::<Length>("offset");
    if let (Some(outside), Some(radius), Some(offset)) = (outside, radius, offset) {
        let new = NewDie { name: form.text("name").to_owned(), outside, radius, offset };
        match actions::dies::add(&who.ctx, new).await {
            Ok(_) => return Ok(Redirect::to("/dies").into_response()),
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(other) => return Err(other.into()),
        }
    }
    sheet(&who, StatusCode::UNPROCESSABLE_ENTITY, &form).await
}

async fn record(who: SignedIn, Path(die): Path<String>, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let who = who.who_may(Deed::RecordWork)?;
    let die: DieId = die.parse().map_err(|_| Problem::NotFound)?;
    let mut form = Form::of(who.units, typed);
    let (set, got) = (form.read("set"), form.read("got"));
    if let (Some(set), Some(got)) = (set, got) {
        match actions::dies::record(&who.ctx, die, TestBend { set, got }).await {
            Ok(_) => return Ok(Redirect::to("/dies").into_response()),
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(other) => return Err(other.into()),
        }
    }
    sheet(&who, StatusCode::UNPROCESSABLE_ENTITY, &form).await
}

async fn take_back(who: SignedIn, Path((die, place)): Path<(String, String)>) -> Result<Response, Problem> {
    let who = who.who_may(Deed::RecordWork)?;
    let die: DieId = die.parse().map_err(|_| Problem::NotFound)?;
    let place = place.parse().map_err(|_| Problem::NotFound)?;
    actions::dies::take_back(&who.ctx, die, place).await?;
    Ok(Redirect::to("/dies").into_response())
}
