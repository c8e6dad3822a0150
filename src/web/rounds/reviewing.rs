//! Reviewing a round part by part: the sheet of a part, saving what is answered of it, the photographs it shows.

use std::collections::HashMap;

use axum::extract::{Form as Posted, Path, Query, State};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Redirect, Response};

use super::door::{Door, DoorOf};
use super::marking::{self, Wish};
use super::reader::Read;
use super::review::{Review, Typed};
use super::tally::{next, next_of};
use crate::actions::ActionError;
use crate::actions::recorded::looking::Here;
use crate::actions::recorded::rounds::as_issued::as_issued;
use crate::actions::recorded::rounds::reviews::{answer as save_answer, leave_accepted};
use crate::domain::derived::contents::Contents;
use crate::domain::recorded::reviews::{NewReviewed, PartAnswer, Reviewed, standing};
use crate::domain::shop::people::Deed;
use crate::domain::words::faults::Fault;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::Balloon;
use crate::web::app::App;
use crate::web::form::{Form, Pairs};
use crate::web::page::show;
use crate::web::problem::Problem;
use crate::web::shown::sent_photo::{Asked, sent_photo};

/// The sheet of a part: `?part=J7`, else the first that is not answered.
pub(super) async fn sheet(door: Door, Query(asked): Query<HashMap<String, String>>) -> Result<Response, Problem> {
    let part = match asked.get("part") {
        Some(part) => Some(part.parse().map_err(|_| Problem::NotFound)?),
        None => None,
    };
    shown(&door, part, Typed::nothing()).await
}

/// Where to go on after an answer is saved.
const SIGN: &str = "sign";
/// What the button sends that leaves accepted what was accepted before and is the same.
const SAME: &str = "same";

/// Saves what is answered of a part and goes on: to the next, or to where a button says. What follows from the build is
/// worked out only where the sheet has to be shown again.
pub(super) async fn answer(door: DoorOf, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let door = DoorOf { who: door.who.who_may(Deed::Review)?, ..door };
    let mut form = Form::of(door.who.units, typed);
    let part: Balloon = form.text("part").parse().map_err(|_| {
        ActionError::Refused(vec![Fault::new("part", "This names no part. Open the round's sheet again.")])
    })?;
    if let Some(marked) = marked(&door, part, &mut form).await? {
        return Ok(marked);
    }
    let go = form.text("go").to_owned();
    let marks = marking::marks(&mut form);
    let new = NewReviewed {
        round: door.round,
        part,
        answer: PartAnswer::of(form.text("answer")),
        remark: form.text("remark").to_owned(),
        marks,
        seen: form.text("seen").parse().unwrap_or(-1),
    };
    // Whoever only goes elsewhere has said nothing.
    let nothing = new.answer.is_none() && new.remark.trim().is_empty() && new.marks.is_empty();
    if nothing && !go.is_empty() {
        return onward(&door, part, &go).await;
    }
    let mut status = StatusCode::UNPROCESSABLE_ENTITY;
    if form.is_faulty() {
        return shown(&door.whole().await?, Some(part), Typed { form: Some(form), status }).await;
    }
    match save_answer(&door.who.ctx, door.build.id, new).await {
        Ok(_) => return onward(&door, part, &go).await,
        Err(ActionError::Refused(faults)) => form.refuse(faults),
        Err(ActionError::Held(why)) => form.fault("answer", why),
        Err(ActionError::Stale { .. }) => status = StatusCode::CONFLICT,
        Err(other) => return Err(other.into()),
    }
    shown(&door.whole().await?, Some(part), Typed { form: Some(form), status }).await
}

/// What a form wants with a mark on a photograph, which is no saving yet; none where it is to be saved.
async fn marked(door: &DoorOf, part: Balloon, form: &mut Form) -> Result<Option<Response>, Problem> {
    let photos = door.who.ctx.store.photos(door.build.id).await?;
    let dots = |sha256: &Fingerprint| {
        let photo = photos.iter().find(|photo| photo.sha256 == *sha256 && photo.received.is_some())?;
        photo.received.as_ref()?.dots
    };
    Ok(match marking::wish(form, dots)? {
        None => None,
        Some(Wish::See(photo)) => Some(marking::sheet(door.clone(), part, &photo, form).await?),
        Some(Wish::Stay) => {
            let (form, status) = (Some(form.clone()), StatusCode::OK);
            Some(shown(&door.clone().whole().await?, Some(part), Typed { form, status }).await?)
        }
    })
}

/// To the part that a button names, to the next one that is not answered, or to the end.
async fn onward(door: &DoorOf, from: Balloon, go: &str) -> Result<Response, Problem> {
    let base = format!("{}/review", door.base);
    let store = &door.who.ctx.store;
    if go == SAME {
        leave_accepted(&door.who.ctx, door.build.id, door.round).await?;
    }
    let next = match go.parse() {
        Ok(there) => Some(there),
        Err(_) if go == SIGN => None,
        Err(_) => {
            let rounds = store.rounds(door.build.id).await?;
            let round = rounds.iter().find(|round| round.number == door.round).ok_or(Problem::NotFound)?;
            let asked = Contents::read(&round.contents).map(|contents| contents.asked()).unwrap_or_default();
            let all = store.reviewed(round.id).await?;
            let answers: Vec<&Reviewed> = standing(&all).into_values().collect();
            next_of(&asked, &answers, Some(from))
        }
    };
    let to = next.map_or_else(|| format!("{base}/sign"), |part: Balloon| format!("{base}?part={part}"));
    Ok(Redirect::to(&to).into_response())
}

async fn shown(door: &Door, part: Option<Balloon>, typed: Typed) -> Result<Response, Problem> {
    let looked = door.seen.looked();
    let issued = as_issued(&door.seen.who.ctx, &looked, door.round).await?;
    let reader = door.reader();
    let read = Read::of(&reader, &issued, &looked.facts, &looked.found).ok_or(Problem::NotFound)?;
    let shown = &read.shown;
    let first = || next(&read, None).or_else(|| shown.first().copied());
    let part = part.or_else(first).filter(|part| shown.contains(part)).ok_or(Problem::NotFound)?;
    show(typed.status, &Review::of(&read, door.sheet("Review"), part, &typed))
}

/// A photograph that the round shows.
pub(super) async fn photo(
    State(app): State<App>,
    door: DoorOf,
    Path(at): Path<HashMap<String, String>>,
    headers: HeaderMap,
) -> Result<Response, Problem> {
    let named = |name: &str| at.get(name).cloned().unwrap_or_default();
    let sha256: Fingerprint = named("sha256").parse().map_err(|_| Problem::NotFound)?;
    let here = Here::in_round(&door.who.ctx, door.build.id, door.round, sha256.clone()).await?;
    let asked = Asked { sha256: &sha256, name: &named("view"), slug: &door.build.slug, headers: &headers };
    sent_photo(&here, &app.look, asked).await
}
