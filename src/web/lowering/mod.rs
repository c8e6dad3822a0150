//! The lowering plan: how far, through which holes, in which order, and what it waits for.

mod view;

use axum::extract::{Form as Posted, Path};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::form::{Form, Pairs};
use super::gate::Seen;
use super::page::{show, show_pdf};
use super::problem::Problem;
use super::routing::{Routes, get, post};
use super::shown::headed::SheetHead;
use crate::actions::{self, ActionError};
use crate::documents::fabrication::{Lowered, lowering_sheets, make};
use crate::domain::derived::findings::Findings;
use crate::domain::derived::lowering_steps::NewLook;
use crate::domain::derived::lowering_steps::Task;
use crate::domain::derived::release::Release;
use crate::domain::recorded::lowering::{Lowering, Settings};
use crate::domain::shop::people::Deed;
use crate::domain::words::faults::Fault;
use crate::domain::work::lowering::Plan;
use crate::store::Stated;

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new()
        .route("/builds/{build}/lowering", get(plan).post(say))
        .route("/builds/{build}/lowering.pdf", get(printed))
        .route("/builds/{build}/lowering/looks/{place}", post(look))
}

/// The plan as it is wanted, or as it would be, and how the release of its joints stands.
fn planned(seen: &Seen, found: &Findings) -> Option<(Plan, Release)> {
    if let Some(plan) = &found.worked.lowering {
        return Some((plan.clone(), found.release.clone()));
    }
    let settings = seen.facts.lowering.as_ref().map(|lowering| lowering.settings.clone()).unwrap_or_default();
    let plan = Plan::of(&found.worked.record, &found.worked.cage, &settings)?;
    let release = found.released(&seen.facts, Some(&plan));
    Some((plan, release))
}

async fn plan(seen: Seen) -> Result<Response, Problem> {
    let form = Form::filled(seen.who.units, recorded(&seen).await?);
    sheet(&seen, StatusCode::OK, &form, None).await
}

/// How the cage is lowered, and by which statement.
async fn recorded(seen: &Seen) -> Result<Pairs, Problem> {
    let store = &seen.who.ctx.store;
    // the statement is read first: who reads older figures than it names would overwrite what he has not seen
    let version = store.stated(Stated::Lowering(seen.build())).await?;
    let (wanted, now) = match store.facts(seen.build()).await?.lowering {
        Some(said) => (said.wanted, said.settings),
        None => (false, Settings::default()),
    };
    let mut typed: Pairs = vec![("room".to_owned(), now.room.text.clone()), ("over".to_owned(), now.over.text.clone())];
    typed.extend(now.roof_front.map(|roof| ("roof_front".to_owned(), roof.text.clone())));
    typed.extend(now.under.map(|under| ("under".to_owned(), under.text.clone())));
    typed.extend(wanted.then(|| ("wanted".to_owned(), "yes".to_owned())));
    typed.push(("version".to_owned(), version.to_string()));
    Ok(typed)
}

async fn sheet(seen: &Seen, status: StatusCode, form: &Form, faulty: Option<&str>) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let plan = planned(seen, &found);
    show(status, &view::LoweringSheet::of(seen, &found, plan.as_ref(), (form, faulty)))
}

async fn say(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::SetUpBuilds)?;
    let mut form = Form::of(seen.who.units, typed);
    let (room, over) = (form.read("room"), form.read("over"));
    let (roof_front, under) = (form.read_if_typed("roof_front"), form.read_if_typed("under"));
    if let (Some(room), Some(over), false) = (room, over, form.is_faulty()) {
        let settings = Settings { room, over, roof_front, under };
        let lowering = Lowering { wanted: form.text("wanted") == "yes", settings };
        match actions::recorded::lowering::plan(&seen.who.ctx, seen.build(), lowering, form.over()).await {
            Ok(()) => return Ok(Redirect::to(&seen.address("/lowering")).into_response()),
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(ActionError::Stale { .. }) => {
                form.overtaken(recorded(&seen).await?);
                return sheet(&seen, StatusCode::CONFLICT, &form, None).await;
            }
            Err(other) => return Err(other.into()),
        }
    }
    sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, &form, None).await
}

async fn look(
    seen: Seen,
    Path((_, place)): Path<(String, String)>,
    Posted(typed): Posted<Pairs>,
) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::RecordWork)?;
    let found = seen.found().await?;
    let plan = found.worked.lowering.as_ref().ok_or(Problem::NotFound)?;
    let looked = match plan.holes.iter().find(|hole| hole.plate.to_string() == place) {
        Some(hole) => hole.mark(),
        None if Task::ticked_at(&place).is_some() => Vec::new(),
        None => return Err(Problem::NotFound),
    };
    let mut form = Form::of(seen.who.units, typed);
    let at = format!("note_{place}");
    let (ticked, note) = (form.chosen("ticked"), form.text(&at).to_owned());
    let new = NewLook { place: place.clone(), plan: plan.mark(), looked, ticked, note };
    match actions::recorded::lowering::look(&seen.who.ctx, seen.build(), new).await {
        Ok(()) => return Ok(Redirect::to(&seen.address(&format!("/lowering#{place}"))).into_response()),
        Err(ActionError::Refused(faults)) => {
            let beside = |fault: Fault| if fault.at == "note" { Fault::new(&at, fault.why) } else { fault };
            form.refuse(faults.into_iter().map(beside).collect());
        }
        Err(other) => return Err(other.into()),
    }
    sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, &form, Some(&place)).await
}

async fn printed(seen: Seen) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let (plan, release) = planned(&seen, &found).ok_or(Problem::NotFound)?;
    let name = format!("{}-lowering.pdf", seen.facts.build.slug);
    let work = move || {
        let description = SheetHead::of(&seen);
        let of = description.sheets(&seen, &found);
        let (looks, wanted) = (&seen.facts.looks, found.worked.lowering.is_some());
        let lowered = Lowered { plan: &plan, release: &release, looks, wanted };
        make(&of, &lowering_sheets(&of, &lowered))
    };
    let made = tokio::task::spawn_blocking(work).await.map_err(|error| Problem::NotMade(error.to_string()))?;
    let pdf = made.map_err(|error| Problem::NotMade(error.to_string()))?;
    Ok(show_pdf(&name, pdf))
}
