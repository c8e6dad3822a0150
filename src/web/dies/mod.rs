//! The shop's bending dies and their test bends.

mod view;

use axum::extract::{Form as Posted, Path};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::form::{Form, Pairs};
use super::gate::SignedIn;
use super::page::show;
use super::problem::Problem;
use super::routing::{Routes, get, post};
use crate::actions::{self, ActionError};
use crate::domain::shop::people::Deed;
use crate::domain::steel::dies::NewDie;
use crate::domain::steel::dies::{Bender, TestBend};
use crate::domain::words::ids::DieId;
use crate::quantity::Length;

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new()
        .route("/dies", get(dies).post(add))
        .route("/dies/{die}/tests", post(record))
        .route("/dies/{die}/tests/{place}/back", post(take_back))
        .route("/dies/{die}/bender", post(bender))
        .route("/dies/{die}/away", post(away))
        .route("/dies/{die}/in-use", post(in_use))
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
    let (offset, bender) = (form.read::<Length>("offset"), bender_in(&mut form));
    if let (Some(outside), Some(radius), Some(offset), Some(bender)) = (outside, radius, offset, bender) {
        let new = NewDie { name: form.text("name").to_owned(), outside, radius, offset, bender };
        match actions::shop::dies::add(&who.ctx, new).await {
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
    let (set, got, wall) = (form.read("set"), form.read("got"), form.read("wall"));
    if let (Some(set), Some(got), Some(wall)) = (set, got, wall) {
        match actions::shop::dies::record(&who.ctx, die, TestBend { set, got, wall: Some(wall) }).await {
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
    actions::shop::dies::take_back(&who.ctx, die, place).await?;
    Ok(Redirect::to("/dies").into_response())
}

/// The bender that was chosen; left alone it swings to the left and counts clockwise.
fn bender_in(form: &mut Form) -> Option<Bender> {
    let mut chosen = Bender::default();
    if !form.text("swing").is_empty() {
        chosen.swing = form.parse("swing", "Choose left or right.")?;
    }
    if !form.text("plus").is_empty() {
        chosen.plus = form.parse("plus", "Choose clockwise or anticlockwise.")?;
    }
    Some(chosen)
}

async fn bender(who: SignedIn, Path(die): Path<String>, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let who = who.who_may(Deed::RecordWork)?;
    let die: DieId = die.parse().map_err(|_| Problem::NotFound)?;
    let mut form = Form::of(who.units, typed);
    let Some(chosen) = bender_in(&mut form) else { return sheet(&who, StatusCode::UNPROCESSABLE_ENTITY, &form).await };
    actions::shop::dies::state_bender(&who.ctx, die, chosen).await?;
    Ok(Redirect::to("/dies").into_response())
}

async fn away(who: SignedIn, Path(die): Path<String>) -> Result<Response, Problem> {
    let die = die.parse().map_err(|_| Problem::NotFound)?;
    put_away(who, die, true).await
}

async fn in_use(who: SignedIn, Path(die): Path<String>) -> Result<Response, Problem> {
    let die = die.parse().map_err(|_| Problem::NotFound)?;
    put_away(who, die, false).await
}

async fn put_away(who: SignedIn, die: DieId, away: bool) -> Result<Response, Problem> {
    let who = who.who_may(Deed::RecordWork)?;
    match actions::shop::dies::put_away(&who.ctx, die, away).await {
        Ok(_) => Ok(Redirect::to("/dies").into_response()),
        Err(ActionError::Refused(faults)) => {
            let mut form = Form::of(who.units, vec![("die".to_owned(), die.to_string())]);
            form.refuse(faults);
            sheet(&who, StatusCode::UNPROCESSABLE_ENTITY, &form).await
        }
        Err(other) => Err(other.into()),
    }
}
