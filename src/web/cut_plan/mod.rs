//! The cut plan: which bar is cut from which stick, what is to buy, and how the shop cuts.

mod as_planned;
mod view;

use axum::extract::{Form as Posted, Query};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;

use super::csv;
use super::form::{Form, Pairs};
use super::gate::Seen;
use super::page::show;
use super::problem::Problem;
use super::routing::{Routes, get, post};
use super::shown::plans::Patience;
use super::shown::plans::{planned, searched};
use super::shown::shop_figures::saw;
use crate::actions::{self, ActionError};
use crate::domain::shop::people::Deed;
use crate::domain::shop::saw::Saw;
use crate::domain::work::cut_plan::rows;
use crate::store::Stated;

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new()
        .route("/builds/{build}/cuts", get(plan).post(state))
        .route("/builds/{build}/cuts/as-planned", post(as_planned::record))
        .route("/builds/{build}/cuts.csv", get(table))
}

/// Whether somebody asked that the search go on.
#[derive(Debug, Deserialize)]
struct Search {
    #[serde(default)]
    search: String,
}

async fn plan(seen: Seen, Query(asked): Query<Search>) -> Result<Response, Problem> {
    let patience = if asked.search == "on" { Patience::Long } else { Patience::Page };
    sheet(&seen, StatusCode::OK, &filled(&seen).await?, "", patience).await
}

/// The form with what the shop states of its saw.
async fn filled(seen: &Seen) -> Result<Form, Problem> {
    Ok(Form::filled(seen.who.units, recorded(seen).await?))
}

/// What the shop states of its saw, and by which statement.
async fn recorded(seen: &Seen) -> Result<Pairs, Problem> {
    // the statement is read first: who reads older figures than it names would overwrite what he has not seen
    let version = seen.who.ctx.store.stated(Stated::Saw).await?.to_string();
    let now = saw(&seen.who).await?.0;
    let typed = [
        ("kerf", &now.kerf.text),
        ("trim", &now.trim.text),
        ("cope", &now.cope.text),
        ("grip", &now.grip.text),
        ("buy", &now.buy.text),
        ("keep", &now.keep.text),
        ("version", &version),
    ];
    Ok(typed.map(|(name, text)| (name.to_owned(), text.clone())).to_vec())
}

/// The sheet, with what was typed of the saw and what is told of a stick that was not recorded.
async fn sheet(
    seen: &Seen,
    status: StatusCode,
    form: &Form,
    told: &str,
    patience: Patience,
) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let (saw, stated) = saw(&seen.who).await?;
    let sticks = seen.who.ctx.store.sticks().await?;
    let plan = searched(seen, &found, patience).await?;
    let shop = view::Shop { saw: &saw, stated, sticks: &sticks };
    show(status, &view::Cuts::of(seen, &found, (&plan, shop), form, told))
}

async fn table(seen: Seen) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let plan = planned(&seen, &found).await?;
    let [head, lines @ ..] = &*rows(&plan) else { return Err(Problem::NotFound) };
    let head = head.each_ref().map(String::as_str);
    csv::table(&format!("{}-cut-plan.csv", seen.facts.build.slug), head, lines.iter().cloned())
}

async fn state(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::RecordWork)?;
    let mut form = Form::of(seen.who.units, typed);
    let (kerf, trim, cope) = (form.read("kerf"), form.read("trim"), form.read("cope"));
    let (grip, buy, keep) = (form.read("grip"), form.read("buy"), form.read("keep"));
    if let ((Some(kerf), Some(trim), Some(cope)), (Some(grip), Some(buy), Some(keep))) =
        ((kerf, trim, cope), (grip, buy, keep))
    {
        let stated = Saw { kerf, trim, cope, grip, buy, keep };
        match actions::shop::saw::state(&seen.who.ctx, stated, form.over()).await {
            Ok(()) => return Ok(Redirect::to(&seen.address("/cuts")).into_response()),
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(ActionError::Stale { .. }) => {
                form.overtaken(recorded(&seen).await?);
                return sheet(&seen, StatusCode::CONFLICT, &form, "", Patience::Page).await;
            }
            Err(other) => return Err(other.into()),
        }
    }
    sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, &form, "", Patience::Page).await
}
