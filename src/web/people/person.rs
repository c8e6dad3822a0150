//! One person's sheet: for themselves, and for the office.

use axum::extract::{Form as Posted, Path, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};

use super::view::OnePerson;
use crate::actions::shop::pairing::Pairing;
use crate::actions::{self, ActionError};
use crate::domain::shop::people::Deed;
use crate::domain::words::ids::PersonId;
use crate::web::app::App;
use crate::web::form::{Form, Pairs};
use crate::web::gate::SignedIn;
use crate::web::page::show;
use crate::web::problem::Problem;
use crate::web::routing::{Routes, get, post};

/// The sheet's addresses.
pub(super) fn routes() -> Routes {
    Routes::new()
        .route("/people/{person}", get(sheet))
        .route("/people/{person}/pair", post(pair))
        .route("/people/{person}/devices/{number}/end", post(end))
        .route("/people/{person}/password", post(password))
        .route("/people/{person}/remove", post(remove))
}

fn named(person: &str) -> Result<PersonId, Problem> {
    person.parse().map_err(|_| Problem::NotFound)
}

async fn sheet_of(
    app: &App,
    who: &SignedIn,
    id: PersonId,
    with: (Option<&Pairing>, &Form),
) -> Result<OnePerson, Problem> {
    let person = actions::shop::pairing::person(&who.ctx, id).await?;
    let devices = actions::shop::pairing::devices(&who.ctx, &person, &who.token).await?;
    Ok(OnePerson::of(who, &person, &devices, (with.0, &app.reached), with.1))
}

async fn sheet(State(app): State<App>, who: SignedIn, Path(person): Path<String>) -> Result<Response, Problem> {
    let form = Form::empty(who.units);
    show(StatusCode::OK, &sheet_of(&app, &who, named(&person)?, (None, &form)).await?)
}

/// The code is shown by this answer alone: only its hash is kept.
async fn pair(State(app): State<App>, who: SignedIn, Path(person): Path<String>) -> Result<Response, Problem> {
    let id = named(&person)?;
    let pairing = actions::shop::pairing::make(&who.ctx, id).await?;
    let form = Form::empty(who.units);
    let shown = show(StatusCode::OK, &sheet_of(&app, &who, id, (Some(&pairing), &form)).await?)?;
    Ok(([(header::CACHE_CONTROL, "no-store")], shown).into_response())
}

async fn end(who: SignedIn, Path((person, number)): Path<(String, String)>) -> Result<Response, Problem> {
    let number = number.parse().map_err(|_| Problem::NotFound)?;
    actions::shop::pairing::end(&who.ctx, named(&person)?, number).await?;
    Ok(Redirect::to(&format!("/people/{person}")).into_response())
}

async fn password(
    State(app): State<App>,
    who: SignedIn,
    Path(person): Path<String>,
    Posted(typed): Posted<Pairs>,
) -> Result<Response, Problem> {
    let who = who.who_may(Deed::RunShop)?;
    let (id, mut form) = (named(&person)?, Form::of(who.units, typed));
    match actions::shop::people::reset_password(&who.ctx, id, form.text("password")).await {
        Ok(_) => Ok(Redirect::to(&format!("/people/{person}")).into_response()),
        Err(ActionError::Refused(faults)) => {
            form.refuse(faults);
            show(StatusCode::UNPROCESSABLE_ENTITY, &sheet_of(&app, &who, id, (None, &form)).await?)
        }
        Err(other) => Err(other.into()),
    }
}

async fn remove(State(app): State<App>, who: SignedIn, Path(person): Path<String>) -> Result<Response, Problem> {
    let who = who.who_may(Deed::RunShop)?;
    let (id, mut form) = (named(&person)?, Form::empty(who.units));
    match actions::shop::people::remove(&who.ctx, id).await {
        Ok(()) => Ok(Redirect::to("/people").into_response()),
        Err(ActionError::Refused(faults)) => {
            form.refuse(faults);
            show(StatusCode::UNPROCESSABLE_ENTITY, &sheet_of(&app, &who, id, (None, &form)).await?)
        }
        Err(other) => Err(other.into()),
    }
}
