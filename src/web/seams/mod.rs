//! The seams: what each joint's weld takes of wire and time, by the shop's own rates.

mod heat;
mod view;

use axum::extract::Form as Posted;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::form::{Form, Pairs};
use super::gate::Seen;
use super::page::show;
use super::problem::Problem;
use super::routing::{Routes, get};
use super::shown::shop_figures::rates;
use crate::actions::{self, ActionError};
use crate::domain::work::seams::Rates;
use crate::store::Stated;

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new()
        .route("/builds/{build}/seams", get(seams).post(state))
        .route("/builds/{build}/heat-input", get(heat::heat))
}

async fn seams(seen: Seen) -> Result<Response, Problem> {
    let form = Form::filled(seen.who.units, recorded(&seen).await?);
    sheet(&seen, StatusCode::OK, &form).await
}

/// How the shop welds, and by which statement.
async fn recorded(seen: &Seen) -> Result<Pairs, Problem> {
    // the statement is read first: who reads older figures than it names would overwrite what he has not seen
    let version = seen.who.ctx.store.stated(Stated::WeldRates).await?.to_string();
    let (now, _) = rates(seen).await?;
    let typed = [
        ("leg", &now.leg.text),
        ("wire", &now.wire.text),
        ("efficiency", &now.efficiency.text),
        ("laid", &now.laid.text),
        ("arc", &now.arc.text),
        ("version", &version),
    ];
    Ok(typed.map(|(name, text)| (name.to_owned(), text.clone())).to_vec())
}

async fn sheet(seen: &Seen, status: StatusCode, form: &Form) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let rates = rates(seen).await?;
    show(status, &view::Seams::of(seen, &found, rates, form))
}

async fn state(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let mut form = Form::of(seen.who.units, typed);
    let (leg, wire, laid) = (form.read("leg"), form.read("wire"), form.read("laid"));
    let (efficiency, arc) = (form.read("efficiency"), form.read("arc"));
    if let (Some(leg), Some(wire), Some(efficiency), Some(laid), Some(arc)) = (leg, wire, efficiency, laid, arc) {
        let stated = Rates { leg, wire, efficiency, laid, arc };
        match actions::recorded::seams::state(&seen.who.ctx, stated, form.over()).await {
            Ok(()) => return Ok(Redirect::to(&seen.address("/seams")).into_response()),
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(ActionError::Stale { .. }) => {
                form.overtaken(recorded(&seen).await?);
                return sheet(&seen, StatusCode::CONFLICT, &form).await;
            }
            Err(other) => return Err(other.into()),
        }
    }
    sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, &form).await
}
