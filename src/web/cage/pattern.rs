//! The figures of the car that a build was begun by, and stating of this car those that were measured or decided here too.

use askama::Template;
use axum::extract::Form as Posted;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::standing;
use crate::actions::shop::signing::fingerprint;
use crate::actions::{self, ActionError};
use crate::domain::recorded::car_file::pattern::{Unstated, unstated};
use crate::domain::shop::people::{Deed, may};
use crate::web::form::{Form, Pairs};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, show};
use crate::web::problem::Problem;

/// The name of each tick.
const STATED: &str = "stated";

#[derive(Template)]
#[template(path = "cage/pattern.html")]
struct PatternSheet {
    sheet: Sheet,
    base: String,
    car: String,
    list: String,
    key: String,
    begun: String,
    by: String,
    faults: Vec<String>,
    overtaken: bool,
    version: i64,
    measured: Vec<Line>,
    made: Vec<Line>,
    may_change: bool,
}

/// A thing that nobody stated yet.
struct Line {
    of: Unstated,
    ticked: bool,
}

/// The sheet of a build that was begun by a car's file.
pub(super) async fn sheet(seen: Seen) -> Result<Response, Problem> {
    let form = Form::empty(seen.who.units);
    shown(&seen, StatusCode::OK, &form, false).await
}

async fn shown(seen: &Seen, status: StatusCode, form: &Form, overtaken: bool) -> Result<Response, Problem> {
    let store = &seen.who.ctx.store;
    let pattern = store.pattern(seen.build()).await?.ok_or(Problem::NotFound)?;
    let (record, version) = standing(&store.facts(seen.build()).await?)?;
    let ticked = form.chosen(STATED);
    let lines = unstated(&pattern.figures, &record).into_iter();
    let lines = lines.map(|of| Line { ticked: ticked.contains(&of.key), of });
    let (measured, made) = lines.partition(|line| line.of.measured);
    let sheet = PatternSheet {
        sheet: seen.sheet("Begun by another car's file"),
        base: seen.address(""),
        car: pattern.car,
        list: pattern.list.text().to_owned(),
        key: fingerprint(&pattern.public),
        begun: seen.who.ctx.clock.minute_of(pattern.at),
        by: pattern.by,
        faults: form.other_faults(&[]),
        overtaken,
        version,
        measured,
        made,
        may_change: may(seen.who.ctx.by.role, Deed::SetUpBuilds),
    };
    show(status, &sheet)
}

/// States what is ticked of this car.
pub(super) async fn state(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::SetUpBuilds)?;
    let mut form = Form::of(seen.who.units, typed);
    let done = actions::recorded::cage::state(&seen.who.ctx, seen.build(), form.version(), &form.chosen(STATED)).await;
    match done {
        Ok(_) => Ok(Redirect::to(&seen.address("/cage/pattern")).into_response()),
        Err(ActionError::Refused(faults)) => {
            form.refuse(faults);
            shown(&seen, StatusCode::UNPROCESSABLE_ENTITY, &form, false).await
        }
        Err(ActionError::Stale { .. }) => shown(&seen, StatusCode::CONFLICT, &form, true).await,
        Err(ActionError::NotFound(_)) => Err(Problem::NotFound),
        Err(other) => Err(other.into()),
    }
}
