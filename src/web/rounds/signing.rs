//! Signing a review: reading the form, and giving the reply.

use axum::extract::Form as Posted;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use super::door::Door;
use super::reader::Read;
use super::sign_off::SignOff;
use crate::actions::ActionError;
use crate::actions::recorded::rounds::as_issued::as_issued;
use crate::actions::recorded::rounds::reviews::{Signed, sign as sign_answers};
use crate::domain::recorded::questions::Condition;
use crate::domain::recorded::rounds::{Decision, NewCondition};
use crate::domain::shop::people::Deed;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::{Balloon, QuestionId};
use crate::domain::words::limits;
use crate::web::form::{Form, Pairs};
use crate::web::page::show;
use crate::web::problem::Problem;

/// The answer as a whole.
pub(super) async fn sheet(door: Door) -> Result<Response, Problem> {
    let form = Form::empty(door.seen.who.units);
    shown(&door, StatusCode::OK, &form).await
}

/// Signs it.
pub(super) async fn sign(door: Door, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let door = door.who_may(Deed::Review)?;
    let mut form = Form::of(door.seen.who.units, typed);
    let linked = door.reader().link.is_some();
    let decided = decision(form.text("decision"));
    if decided.is_none() {
        form.fault("decision", "Choose what you decide.");
    }
    // whoever came by a link is known by nothing but what they type
    if linked {
        for (field, why) in [("name", "Type your name."), ("licence", "Type your licence, or your role.")] {
            if form.text(field).trim().is_empty() {
                form.fault(field, why);
            } else {
                form.refuse(limits::title_faults(field, form.text(field)));
            }
        }
    }
    told_conditions(&mut form);
    let Some(decided) = decided.filter(|_| !form.is_faulty()) else {
        return shown(&door, StatusCode::UNPROCESSABLE_ENTITY, &form).await;
    };
    let mut status = StatusCode::UNPROCESSABLE_ENTITY;
    let by_link = linked.then(|| form.text("name").to_owned());
    let signed = Signed { by_link, ..signed_as(&form, door.round, decided) };
    match sign_answers(&door.seen.who.ctx, door.seen.build(), signed).await {
        Ok(_) if linked => return Ok(Redirect::to(&door.address("/receipt")).into_response()),
        Ok(_) => return Ok(Redirect::to(&door.seen.address("/rounds#now")).into_response()),
        Err(ActionError::Refused(faults)) => form.refuse(faults),
        Err(ActionError::Held(why)) => form.fault("decision", why),
        Err(ActionError::Stale { .. }) => {
            let why = "Another answer was saved since you read this. It stands below. Read it, then sign again.";
            form.fault("decision", why);
            status = StatusCode::CONFLICT;
        }
        Err(other) => return Err(other.into()),
    }
    shown(&door, status, &form).await
}

async fn shown(door: &Door, status: StatusCode, form: &Form) -> Result<Response, Problem> {
    let looked = door.seen.looked();
    let issued = as_issued(&door.seen.who.ctx, &looked, door.round).await?;
    let reader = door.reader();
    let read = Read::of(&reader, &issued, &looked.facts, &looked.found).ok_or(Problem::NotFound)?;
    show(status, &SignOff::of(&read, door.sheet("Sign off"), form))
}

/// What a form's word decides.
pub(super) fn decision(word: &str) -> Option<Decision> {
    Decision::of(word)
}

/// What is signed, as the form has it, by whoever signed in.
pub(super) fn signed_as(form: &Form, round: u32, decision: Decision) -> Signed {
    let read: Option<Fingerprint> = form.text("despite").parse().ok();
    let released = form.chosen("released").iter().filter_map(|joint| joint.parse().ok()).collect();
    Signed {
        round,
        decision,
        released: if decision == Decision::Approved { released } else { Vec::new() },
        words: form.text("words").to_owned(),
        despite: read.map(|read| (read, form.text("despite_words").to_owned())),
        conditions: conditions(form),
        settles: settles(form),
        seen: form.text("seen").parse().unwrap_or(-1),
        licence: form.text("licence").trim().to_owned(),
        by_link: None,
    }
}

/// So many conditions can be entered on the sheet.
pub(super) const CONDITIONS: usize = 4;

/// Tells what is wrong with the conditions as they are typed.
fn told_conditions(form: &mut Form) {
    for line in 1..=CONDITIONS {
        let [about, text] = [format!("condition_about_{line}"), format!("condition_{line}")];
        let part: Option<Balloon> = form.parse(&about, "A number of the packet, like J7; or leave it empty.");
        if part.is_some() && form.text(&text).is_empty() {
            form.fault(&text, "Write the condition.");
        }
    }
}

/// The conditions that were typed; what names no part is of the cage as a whole.
pub(super) fn conditions(form: &Form) -> Vec<NewCondition> {
    let one = |line: usize| {
        let text = form.text(&format!("condition_{line}")).trim().to_owned();
        let holds = !form.chosen(&format!("condition_holds_{line}")).is_empty();
        let condition = if holds { Condition::Holds } else { Condition::Open };
        let about = form.text(&format!("condition_about_{line}")).parse().ok();
        (!text.is_empty()).then_some(NewCondition { about, text, condition })
    };
    (1..=CONDITIONS).filter_map(one).collect()
}

/// The questions that were ticked as settled.
pub(super) fn settles(form: &Form) -> Vec<QuestionId> {
    form.chosen("settles").iter().filter_map(|id| id.parse().ok()).collect()
}
