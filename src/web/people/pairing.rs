//! A phone that is signed in by a code: looking at one uses nothing up, the button does.

use axum::extract::{Form as Posted, Path, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Response};

use super::{device, go, view};
use crate::actions::shop::pairing::Given;
use crate::actions::shop::strangers::Turn;
use crate::actions::{self, ActionError};
use crate::quantity::Units;
use crate::web::app::App;
use crate::web::carried::{CameFrom, Carried};
use crate::web::form::{Form, Pairs};
use crate::web::page::show;
use crate::web::problem::Problem;
use crate::web::routing::{Routes, get};

/// The addresses.
pub(super) fn routes() -> Routes {
    Routes::new().route("/pair", get(letters).post(by_letters)).route("/pair/{token}", get(read).post(by_token))
}

async fn letters() -> Result<Response, Problem> {
    show(StatusCode::OK, &view::Letters::of(&Form::empty(Units::Inch)))
}

async fn by_letters(
    State(app): State<App>,
    carried: Carried,
    CameFrom(from): CameFrom,
    asked: HeaderMap,
    Posted(typed): Posted<Pairs>,
) -> Result<Response, Problem> {
    let mut form = Form::of(Units::Inch, typed);
    let given = Given::Letters(form.text("letters"));
    let turn = app.strangers.turn(from, &app.clock);
    let paired = match &turn {
        Ok(_) => actions::shop::pairing::pair(&app.store, &app.clock, given, device::of(&asked)).await,
        Err(ActionError::Wait(left)) => Err(ActionError::Wait(*left)),
        Err(_) => Err(ActionError::Busy),
    };
    let why = match paired {
        Ok(signed_in) => {
            turn.into_iter().for_each(Turn::was_right);
            return Ok(go(carried, &signed_in.token, "/"));
        }
        Err(ActionError::PairingSpent) => {
            "These are nobody's letters, or they are older than ten minutes, or used. Look at them again, or ask for new ones."
                .to_owned()
        }
        Err(ActionError::Wait(left)) => {
            format!("From here wrong letters were typed several times: wait {} seconds.", left.as_secs().max(1))
        }
        Err(other) => return Err(other.into()),
    };
    form.fault("letters", why);
    show(StatusCode::UNPROCESSABLE_ENTITY, &view::Letters::of(&form))
}

async fn read(State(app): State<App>, Path(token): Path<String>) -> Result<Response, Problem> {
    let Some(person) = actions::shop::pairing::whose(&app.store, &app.clock, &token).await? else {
        return Err(ActionError::PairingSpent.into());
    };
    let shown = show(StatusCode::OK, &view::ByCode::of(&person))?;
    Ok(([(header::CACHE_CONTROL, "no-store")], shown).into_response())
}

async fn by_token(
    State(app): State<App>,
    carried: Carried,
    asked: HeaderMap,
    Path(token): Path<String>,
) -> Result<Response, Problem> {
    let given = Given::Token(&token);
    let signed_in = actions::shop::pairing::pair(&app.store, &app.clock, given, device::of(&asked)).await?;
    Ok(go(carried, &signed_in.token, "/"))
}
