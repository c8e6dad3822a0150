//! The weld log: what is left, what was welded, a form for the next line; at the desk and, one joint a screen, on a phone.

mod fields;
mod kept;
mod order;
mod photographed;
mod view;
mod walk;

use std::collections::HashMap;

use axum::extract::{Form as Posted, Path, Query};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::form::{Form, Pairs};
use super::gate::Seen;
use super::page::show;
use super::problem::Problem;
use super::routing::{Routes, get, post, put};
use crate::actions::{self, ActionError};
use crate::domain::recorded::welds::Weld;
use crate::domain::shop::people::Deed;
use crate::domain::words::ids::Balloon;

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new()
        .route("/builds/{build}/welds", get(log).post(write))
        .route("/builds/{build}/welds/walk", get(walk::walk).post(walk::write))
        .route("/builds/{build}/welds/walk.json", get(kept::list))
        .route("/builds/{build}/welds/walk-drawings.json", get(kept::drawings))
        .route("/builds/{build}/welds/told/{named}", put(kept::put))
        .route("/builds/{build}/welds/order", get(order::sheet).post(order::change))
        .route("/offline/welds", get(kept::alone))
        .route("/builds/{build}/welds/{line}/strike", post(strike))
}

/// Those that take as long as what is sent is large.
pub(crate) fn sending() -> Routes {
    Routes::new().route("/builds/{build}/welds/{line}/photos", post(photographed::keep))
}

/// What an address asks of the log: the joint, what is logged there, and the line whose figures are taken over.
struct Asked {
    joint: Option<Balloon>,
    kind: String,
    like: Option<u32>,
}

impl Asked {
    fn of(query: &HashMap<String, String>) -> Self {
        let text = |name: &str| query.get(name).map(String::as_str).unwrap_or_default();
        Self { joint: text("joint").parse().ok(), kind: text("did").to_owned(), like: text("like").parse().ok() }
    }
}

/// What became of a form.
enum Written {
    Kept(Box<Weld>),
    /// It was not taken, or somebody else wrote of the joint meanwhile: the form as typed, and the build as it stands.
    Not(StatusCode, Box<Form>, Box<Seen>),
}

/// Takes a line from a form. Nothing typed is lost.
async fn taken(seen: Seen, typed: Pairs) -> Result<Written, Problem> {
    let seen = seen.who_may(Deed::RecordWork)?;
    let mut form = Form::of(seen.who.units, typed);
    let Some(new) = fields::read(&mut form) else {
        return Ok(Written::Not(StatusCode::UNPROCESSABLE_ENTITY, Box::new(form), Box::new(seen)));
    };
    match actions::recorded::welds::record(&seen.who.ctx, seen.build(), new).await {
        Ok(weld) => Ok(Written::Kept(Box::new(weld))),
        Err(ActionError::Refused(faults)) => {
            form.refuse(faults);
            Ok(Written::Not(StatusCode::UNPROCESSABLE_ENTITY, Box::new(form), Box::new(seen)))
        }
        Err(ActionError::Stale { .. }) => {
            let words =
                "Somebody else wrote of this joint meanwhile: look at its lines. Save again to add yours to them.";
            form.fault("seen", words);
            let build = seen.build();
            let seen = Seen::now(seen.who, build).await?;
            Ok(Written::Not(StatusCode::CONFLICT, Box::new(form), Box::new(seen)))
        }
        Err(other) => Err(other.into()),
    }
}

async fn log(seen: Seen, Query(query): Query<HashMap<String, String>>) -> Result<Response, Problem> {
    let found = seen.found().await?;
    show(StatusCode::OK, &view::WeldSheet::of(&seen, &found, &Asked::of(&query), None))
}

async fn write(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    match taken(seen.clone(), typed).await? {
        Written::Kept(weld) => {
            let to = format!("/welds?joint={}#written", weld.joint);
            Ok(Redirect::to(&seen.address(&to)).into_response())
        }
        Written::Not(status, form, seen) => {
            let found = seen.found().await?;
            show(status, &view::WeldSheet::of(&seen, &found, &fields::asked(&form), Some(&form)))
        }
    }
}

async fn strike(
    seen: Seen,
    Path(named): Path<(String, String)>,
    Posted(typed): Posted<Pairs>,
) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::RecordWork)?;
    let line: u32 = named.1.parse().map_err(|_| Problem::NotFound)?;
    let mut form = Form::of(seen.who.units, typed);
    let field = view::why_name(line);
    match actions::recorded::welds::strike(&seen.who.ctx, seen.build(), line, form.text(&field)).await {
        Ok(weld) => Ok(Redirect::to(&seen.address(&format!("/welds?joint={}#written", weld.joint))).into_response()),
        Err(ActionError::Refused(faults)) => {
            let weld = seen.facts.welds.iter().find(|weld| weld.line == line).ok_or(Problem::NotFound)?;
            for fault in faults {
                form.fault(&field, fault.why);
            }
            let asked = Asked { joint: Some(weld.joint), kind: String::new(), like: None };
            let found = seen.found().await?;
            let sheet = view::WeldSheet::struck(&seen, &found, &asked, &form);
            show(StatusCode::UNPROCESSABLE_ENTITY, &sheet)
        }
        Err(other) => Err(other.into()),
    }
}
