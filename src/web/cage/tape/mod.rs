//! The tape walk: one measurement at a time beside the car, kept by a plain form when there is no script.

mod kept;
mod pad;
mod steps;
mod view;

use std::collections::HashMap;

use axum::extract::{Form as Posted, Query};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

pub(super) use kept::{drawings, list, put};
use pad::Pad;
pub(super) use view::alone;

use super::standing;
use crate::actions::recorded::cage::Kept;
use crate::actions::{ActionError, recorded};
use crate::domain::cage::record::tape::taped::Taped;
use crate::domain::cage::{CageRecord, TapeMeasure, usual_bars};
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::shop::people::Deed;
use crate::domain::words::faults::Fault;
use crate::quantity::{Typed, Units};
use crate::web::cage::drawn::WithGuesses;
use crate::web::form::{Form, Pairs};
use crate::web::gate::Seen;
use crate::web::page::show;
use crate::web::problem::Problem;
use crate::web::reader;

/// Where the walk's address ends, below the build's.
const WALK: &str = "/cage/tape";

/// The record as the walk goes by it: before the first save with the bars that most cages have.
fn record_of(facts: &BuildFacts) -> Result<CageRecord, Problem> {
    let (record, version) = standing(facts)?;
    Ok(if version == 0 { CageRecord { options: usual_bars(), ..record } } else { record })
}

/// The figures of the car that the build was begun from: pictures are drawn by them, and nothing else.
async fn pattern_of(seen: &Seen) -> Result<Option<CageRecord>, Problem> {
    Ok(seen.who.ctx.store.pattern(seen.build()).await?.map(|pattern| pattern.figures))
}

/// The walk at a measurement, or at the first that is left.
pub(super) async fn walk(seen: Seen, Query(query): Query<HashMap<String, String>>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::SetUpBuilds)?;
    let text = |name: &str| query.get(name).map_or("", String::as_str);
    let record = record_of(&seen.facts)?;
    let units = reader::named(text("units")).unwrap_or(seen.who.units);
    let at = match text("at") {
        "" => steps::walked(&record, None).into_iter().find(|measure| record.measure(*measure).is_none()),
        named => named.parse().ok(),
    };
    let pad = Pad::of(at.and_then(|at| record.measures.get(&at)), units);
    let found = seen.found().await?;
    let drawn = WithGuesses::of(&found, &record, pattern_of(&seen).await?.as_ref());
    show(
        StatusCode::OK,
        &view::TapeSheet::of(&seen, &drawn, &record, view::At { at, pad, units, told: view::Told::Nothing }),
    )
}

/// Keeps what the tape said, and goes on to the next one or back to the one before.
pub(super) async fn keep(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::SetUpBuilds)?;
    let shown_in = typed.iter().find(|(name, _)| name == "shown_in").and_then(|(_, units)| reader::named(units));
    let units = shown_in.unwrap_or(seen.who.units);
    let form = Form::of(units, typed);
    let record = record_of(&seen.facts)?;
    // A form that says no measurement is none of ours: its sender begins where something is left.
    let Some(at) = form.text("at").parse::<TapeMeasure>().ok() else {
        return Ok(Redirect::to(&seen.address(WALK)).into_response());
    };
    let pad = Pad::sent(&form);
    let same = form.text("same") == "yes";
    let told = match keep_one(&seen, at, &Sent { pad: &pad, was: form.text("was"), same, units }).await? {
        view::Told::Nothing | view::Told::Set(_) => {
            let sent_to = (!same && form.text("go") != "back").then(|| at.mirrored()).filter(|other| *other != at);
            let walked = steps::walked(&record, sent_to.or(Some(at)));
            let place = walked.iter().position(|measure| *measure == at).unwrap_or_default();
            let to = if form.text("go") == "back" { walked.get(place.wrapping_sub(1)) } else { walked.get(place + 1) };
            let to = to.map_or_else(|| "done".to_owned(), |measure| measure.key());
            return Ok(Redirect::to(&format!("{}?at={to}", seen.address(WALK))).into_response());
        }
        told => told,
    };
    let status = match &told {
        view::Told::Theirs(_) => StatusCode::CONFLICT,
        _ => StatusCode::UNPROCESSABLE_ENTITY,
    };
    let found = seen.found().await?;
    let drawn = WithGuesses::of(&found, &record, pattern_of(&seen).await?.as_ref());
    show(status, &view::TapeSheet::of(&seen, &drawn, &record, view::At { at: Some(at), pad, units, told }))
}

/// A figure as it was sent: the pad, what stood there when it was taken, whether the right side is the same.
struct Sent<'a> {
    pad: &'a Pad,
    was: &'a str,
    same: bool,
    units: Units,
}

/// Sets one figure into the record, or tells why it is not set. An empty pad sets nothing: one goes on and comes back.
async fn keep_one(seen: &Seen, at: TapeMeasure, sent: &Sent<'_>) -> Result<view::Told, Problem> {
    let why = |why: String| Ok(view::Told::Why(why));
    let text = match sent.pad.typed(sent.units) {
        Ok(text) => text,
        Err(wrong) => return why(wrong.to_owned()),
    };
    if text.is_empty() {
        return Ok(view::Told::Nothing);
    }
    let value = match Typed::read_as(&text, sent.units) {
        Ok(value) => value,
        Err(unreadable) => return why(unreadable.to_string()),
    };
    let text = value.text.clone();
    let taped = Taped { measure: at, value, before: sent.was.to_owned(), right_the_same: sent.same };
    match recorded::cage::tape(&seen.who.ctx, seen.build(), &taped).await {
        Ok(Kept::Set) => Ok(view::Told::Set(text)),
        Ok(Kept::Overtaken(theirs)) => Ok(view::Told::Theirs(theirs)),
        Err(ActionError::Refused(faults)) => why(words(&faults)),
        Err(other) => Err(other.into()),
    }
}

fn words(faults: &[Fault]) -> String {
    faults.iter().map(|fault| fault.why.as_str()).collect::<Vec<_>>().join(" ")
}
