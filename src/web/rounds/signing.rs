//! Signing a review: reading the form, and giving the reply.

use axum::extract::{Form as Posted, Path};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::reader::{Read, Reader};
use super::reviewing::found_round;
use super::sign_off::SignOff;
use crate::actions::ActionError;
use crate::actions::recorded::as_issued::as_issued;
use crate::actions::recorded::reviews::{Signed, sign as sign_answers};
use crate::domain::recorded::rounds::Decision;
use crate::domain::shop::people::Deed;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::QuestionId;
use crate::web::form::{Form, Pairs};
use crate::web::gate::{Seen, SeenRounds};
use crate::web::page::show;
use crate::web::problem::Problem;

/// The answer as a whole.
pub(super) async fn sheet(
    SeenRounds(seen): SeenRounds,
    Path((_, round)): Path<(String, String)>,
) -> Result<Response, Problem> {
    let form = Form::empty(seen.who.units);
    shown(&seen, &round, StatusCode::OK, &form).await
}

/// Signs it.
pub(super) async fn sign(
    SeenRounds(seen): SeenRounds,
    Path((_, round)): Path<(String, String)>,
    Posted(typed): Posted<Pairs>,
) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::Review)?;
    let number = found_round(&round)?;
    let mut form = Form::of(seen.who.units, typed);
    let Some(decided) = decision(form.text("decision")) else {
        form.fault("decision", "Choose what you decide.");
        return shown(&seen, &round, StatusCode::UNPROCESSABLE_ENTITY, &form).await;
    };
    match sign_answers(&seen.who.ctx, seen.build(), signed_as(&form, number, decided)).await {
        Ok(_) => return Ok(Redirect::to(&seen.address("/rounds#now")).into_response()),
        Err(ActionError::Refused(faults)) => form.refuse(faults),
        Err(ActionError::Held(why)) => form.fault("decision", why),
        Err(ActionError::Stale { .. }) => {
            let why = "Another answer was saved since you read this. It stands below. Read it, then sign again.";
            form.fault("decision", why);
            return shown(&seen, &round, StatusCode::CONFLICT, &form).await;
        }
        Err(other) => return Err(other.into()),
    }
    shown(&seen, &round, StatusCode::UNPROCESSABLE_ENTITY, &form).await
}

async fn shown(seen: &Seen, round: &str, status: StatusCode, form: &Form) -> Result<Response, Problem> {
    let looked = seen.looked();
    let issued = as_issued(&seen.who.ctx, &looked, found_round(round)?).await?;
    let reader = Reader::signed_in(seen);
    let read = Read::of(&reader, &issued, &looked.facts, &looked.found).ok_or(Problem::NotFound)?;
    show(status, &SignOff::of(&read, seen.sheet("Sign off"), form))
}

/// What a form's word decides.
pub(super) fn decision(word: &str) -> Option<Decision> {
    [Decision::Approved, Decision::NotYet].into_iter().find(|decision| decision.word() == word)
}

/// What is signed, as the form has it.
pub(super) fn signed_as(form: &Form, round: u32, decision: Decision) -> Signed {
    let read: Option<Fingerprint> = form.text("despite").parse().ok();
    let released = form.chosen("released").iter().filter_map(|joint| joint.parse().ok()).collect();
    Signed {
        round,
        decision,
        released: if decision == Decision::Approved { released } else { Vec::new() },
        words: form.text("words").to_owned(),
        despite: read.map(|read| (read, form.text("despite_words").to_owned())),
        settles: settles(form),
        seen: form.text("seen").parse().unwrap_or(-1),
    }
}

/// The questions that were ticked as settled.
pub(super) fn settles(form: &Form) -> Vec<QuestionId> {
    form.chosen("settles").iter().filter_map(|id| id.parse().ok()).collect()
}
