//! Signing in and out, the first sign-in of a shop, and the people who may.

mod device;
mod pairing;
mod person;
mod view;

use axum::extract::{Form as Posted, Path, Query, State};
use axum::http::uri::PathAndQuery;
use axum::http::{HeaderMap, Method, StatusCode, Uri, header};
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;

use super::app::App;
use super::carried::{CameFrom, Carried};
use super::form::{Form, Pairs};
use super::gate::SignedIn;
use super::light::Light;
use super::page::show;
use super::problem::Problem;
use super::reader;
use super::routes::addresses;
use super::routing::{Routes, get, post};
use crate::actions::{self, ActionError};
use crate::domain::shop::people::{Deed, Role};
use crate::quantity::Units;

/// Seconds that the browser keeps the cookie; the server ends sessions earlier, by its own rules.
const KEPT: u32 = 180 * 24 * 3600;
const YEAR: u32 = 365 * 24 * 3600;

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new()
        .route("/sign-in", get(asked_to_sign_in).post(sign_in))
        .route("/sign-out", post(sign_out))
        .route("/units", post(choose_units))
        .route("/light", post(choose_light))
        .route("/set-up/{link}", get(set_up).post(begin_shop))
        .route("/people", get(people).post(add))
        .merge(person::routes())
        .merge(pairing::routes())
}

#[derive(Debug, Deserialize)]
struct Then {
    then: Option<String>,
}

async fn asked_to_sign_in(Query(then): Query<Then>) -> Result<Response, Problem> {
    let pairs = vec![("then".to_owned(), then.then.unwrap_or_default())];
    show(StatusCode::OK, &view::SignIn::of(&Form::filled(Units::Inch, pairs)))
}

async fn sign_in(
    State(app): State<App>,
    carried: Carried,
    CameFrom(from): CameFrom,
    asked: HeaderMap,
    Posted(typed): Posted<Pairs>,
) -> Result<Response, Problem> {
    let mut form = Form::of(Units::Inch, typed);
    let turn = app.strangers.turn(from, &app.clock)?;
    let (name, password) = (form.text("name"), form.text("password"));
    let signed_in = actions::shop::people::sign_in(&app.store, &app.clock, name, password, device::of(&asked)).await;
    match signed_in {
        Ok(signed_in) => {
            turn.was_right();
            Ok(go(carried, &signed_in.token, inside(form.text("then"))))
        }
        Err(ActionError::WrongSignIn) => {
            form.fault("password", "Name and password do not belong together. Look at both, or ask the office.");
            show(StatusCode::UNPROCESSABLE_ENTITY, &view::SignIn::of(&form))
        }
        Err(other) => Err(other.into()),
    }
}

/// Only a sheet of our own to go on to: a path, written as an address is, that answers to somebody who looks.
fn inside(then: &str) -> &str {
    let plain = then.starts_with('/') && !then.starts_with("//") && then.bytes().all(|byte| byte.is_ascii_graphic());
    let parsed: Option<PathAndQuery> = then.parse().ok().filter(|_| plain && !then.contains(['\\', '#']));
    let ours = |path: &PathAndQuery| {
        path.path() != "/sign-in"
            && addresses().iter().any(|(method, route)| *method == Method::GET && is_at(path.path(), route))
    };
    if parsed.as_ref().is_some_and(ours) { then } else { "/" }
}

/// Whether a path is one of a route's: its parts one by one, those in braces whatever they are.
fn is_at(path: &str, route: &str) -> bool {
    let (path, route) = (path.split('/'), route.split('/'));
    path.clone().count() == route.clone().count()
        && path.zip(route).all(|(part, named)| part == named || (named.starts_with('{') && !part.is_empty()))
}

fn go(carried: Carried, token: &str, to: &str) -> Response {
    let cookie = reader::set_cookie(reader::SESSION, carried, token, KEPT);
    ([(header::SET_COOKIE, cookie)], Redirect::to(to)).into_response()
}

async fn sign_out(who: SignedIn, carried: Carried) -> Result<Response, Problem> {
    actions::shop::people::sign_out(&who.ctx, &who.token).await?;
    let cookie = reader::set_cookie(reader::SESSION, carried, "", 0);
    Ok(([(header::SET_COOKIE, cookie)], Redirect::to("/sign-in")).into_response())
}

async fn choose_units(_who: SignedIn, carried: Carried, asked: HeaderMap, Posted(typed): Posted<Pairs>) -> Response {
    let form = Form::of(Units::Inch, typed);
    let units = if form.text("units") == "metric" { "metric" } else { "inch" };
    back_with(&asked, reader::set_cookie(reader::UNITS, carried, units, YEAR))
}

async fn choose_light(_who: SignedIn, carried: Carried, asked: HeaderMap, Posted(typed): Posted<Pairs>) -> Response {
    let light = Light::of_name(Form::of(Units::Inch, typed).text("light"));
    back_with(&asked, light.set_cookie(carried, YEAR))
}

/// Back to the sheet that was asked from, with a cookie.
fn back_with(asked: &HeaderMap, cookie: String) -> Response {
    let from: Option<Uri> = asked.get(header::REFERER).and_then(|from| from.as_bytes().try_into().ok());
    let back = from.as_ref().and_then(Uri::path_and_query).map_or("/", PathAndQuery::as_str);
    ([(header::SET_COOKIE, cookie)], Redirect::to(inside(back))).into_response()
}

async fn set_up(Path(_link): Path<String>) -> Result<Response, Problem> {
    show(StatusCode::OK, &view::SetUp::of(&Form::empty(Units::Inch)))
}

async fn begin_shop(
    State(app): State<App>,
    Path(link): Path<String>,
    carried: Carried,
    Posted(typed): Posted<Pairs>,
) -> Result<Response, Problem> {
    let mut form = Form::of(Units::Inch, typed);
    let (name, password) = (form.text("name"), form.text("password"));
    match actions::shop::people::begin_shop(&app.store, &app.clock, &link, name, password).await {
        Ok(signed_in) => Ok(go(carried, &signed_in.token, "/")),
        Err(ActionError::Refused(faults)) => {
            form.refuse(faults);
            show(StatusCode::UNPROCESSABLE_ENTITY, &view::SetUp::of(&form))
        }
        Err(other) => Err(other.into()),
    }
}

async fn people(who: SignedIn) -> Result<Response, Problem> {
    let who = who.who_may(Deed::RunShop)?;
    let people = who.ctx.store.people().await?;
    show(StatusCode::OK, &view::People::of(&who, &people, &Form::empty(who.units)))
}

async fn add(who: SignedIn, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let who = who.who_may(Deed::RunShop)?;
    let mut form = Form::of(who.units, typed);
    match Role::of(form.text("role")) {
        None => form.fault("role", "Choose what this person is to the shop."),
        Some(role) => {
            match actions::shop::people::add(&who.ctx, form.text("name"), role, form.text("password")).await {
                Ok(_) => return Ok(Redirect::to("/people").into_response()),
                Err(ActionError::Refused(faults)) => form.refuse(faults),
                Err(other) => return Err(other.into()),
            }
        }
    }
    let people = who.ctx.store.people().await?;
    show(StatusCode::UNPROCESSABLE_ENTITY, &view::People::of(&who, &people, &form))
}

#[cfg(test)]
mod tests {
    use super::inside;

    #[test]
    fn one_is_only_sent_on_within_the_shop() {
        for (then, expected) in [
            ("/builds/pine", "/builds/pine"),
            ("/builds/pine?see=all", "/builds/pine?see=all"),
            ("/builds/pine/joints/J1", "/builds/pine/joints/J1"),
            ("/open", "/open"),
            ("/", "/"),
            ("//elsewhere", "/"),
            ("///elsewhere", "/"),
            ("https://elsewhere", "/"),
            ("javascript:alert(1)", "/"),
            ("/\\elsewhere", "/"),
            ("/open\\@elsewhere", "/"),
            ("/open\r\nSet-Cookie: a=b", "/"),
            ("/open\n", "/"),
            ("/\t/elsewhere", "/"),
            ("/open\0", "/"),
            ("/op en", "/"),
            ("/öffnen", "/"),
            ("/no-such-sheet", "/"),
            ("/sign-out", "/"),
            ("/sign-in?then=/open", "/"),
            ("", "/"),
        ] {
            assert_eq!(inside(then), expected);
        }
    }
}
