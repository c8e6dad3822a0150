//! Rounds: looking at the packet before it goes out, issuing it, reviewing it part by part, recording the reply.

mod door;
mod link_view;
mod linked;
mod mails;
mod marking;
mod now;
mod part;
mod reader;
mod review;
mod reviewing;
mod sign_off;
mod signed;
mod signing;
mod tally;
mod view;

use std::collections::HashMap;

use axum::extract::{Form as Posted, Path, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};

use self::door::DoorOf;
use self::mails::{MAIL, Sent};
use super::app::App;
use super::form::{Form, Pairs};
use super::gate::{Seen, SeenRounds};
use super::page::{show, show_pdf};
use super::problem::Problem;
use super::routing::{Routes, get, post};
use crate::actions::ActionError;
use crate::actions::recorded::packet;
use crate::actions::recorded::rounds::{links, typed_from};
use crate::domain::derived::approving::not_shown;
use crate::domain::derived::contents::Contents;
use crate::domain::recorded::questions::Condition;
use crate::domain::recorded::reviews::CHANGE_ASKED;
use crate::domain::recorded::rounds::{Came, NewCondition, NewReply};
use crate::domain::recorded::rounds::{Decision, PacketSize, ReleaseRequest, Wanted};
use crate::domain::shop::people::{Deed, may};
use crate::domain::shop::signing::packet_name;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::{Balloon, QuestionId};

/// So many lines a reply can have on the sheet; a longer one goes into the words.
const LINES: usize = 12;

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new()
        .route("/builds/{build}/rounds", get(rounds).post(issue))
        .route("/builds/{build}/packet.pdf", get(draft))
        .route("/builds/{build}/rounds/{round}/packet.pdf", get(issued))
        .route("/builds/{build}/rounds/{round}/packet.pdf.sig", get(signed::signature))
        .route("/builds/{build}/rounds/{round}/allowed_signers", get(signed::signers))
        .route("/builds/{build}/rounds/{round}/reply", post(reply).up_to(mails::MOST))
        .route("/builds/{build}/rounds/{round}/replies/{reply}/mails", post(mails::attach).up_to(mails::MOST))
        .route("/builds/{build}/rounds/{round}/replies/{reply}/mails/{sha256}", get(mails::file))
        .route("/builds/{build}/rounds/{round}/review", get(reviewing::sheet).post(reviewing::answer))
        .route("/builds/{build}/rounds/{round}/review/sign", get(signing::sheet).post(signing::sign))
        .route("/builds/{build}/rounds/{round}/photos/{sha256}/{view}", get(reviewing::photo))
        .merge(linked::routes())
}

async fn rounds(SeenRounds(seen): SeenRounds) -> Result<Response, Problem> {
    sheet(&seen, StatusCode::OK, &Form::empty(seen.who.units)).await
}

async fn sheet(seen: &Seen, status: StatusCode, form: &Form) -> Result<Response, Problem> {
    let found = seen.found().await?;
    let ctx = &seen.who.ctx;
    let made = if may(ctx.by.role, Deed::IssueRounds) { links::all(ctx, seen.build()).await? } else { Vec::new() };
    let people = seen.who.ctx.store.people().await?.into_iter();
    let scrutineers: Vec<String> = people.filter(|one| may(one.role, Deed::Review)).map(|one| one.name).collect();
    let signatures = ctx.store.round_signatures(seen.build()).await?;
    let around = view::Around { scrutineers: &scrutineers, links: &made, signatures: &signatures };
    show(status, &view::Rounds::of(seen, &found, form, &around))
}

async fn issue(State(app): State<App>, seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::IssueRounds)?;
    let mut form = Form::of(seen.who.units, typed);
    let (ctx, key) = (&seen.who.ctx, form.text("key").to_owned());
    let wanted = Wanted { release: asked(form.text("asks")), size: PacketSize::of_text(form.text("size")) };
    match packet::issue(ctx, seen.build(), (&key, wanted), seen.who.units, &app.look).await {
        Ok(_) => return Ok(Redirect::to(&seen.address("/rounds#now")).into_response()),
        Err(ActionError::Refused(faults)) => form.refuse(faults),
        Err(ActionError::Held(why)) => form.fault("key", why),
        Err(ActionError::Stale { .. }) => {
            let why = "The build changes faster than the packet can be made. Wait until nobody is working on it, then press again.";
            form.fault("key", why);
        }
        Err(other) => return Err(other.into()),
    }
    sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, &form).await
}

/// What a round asks, as it is sent: just the joints of the lowering plan, or the whole cage.
fn asked(sent: &str) -> ReleaseRequest {
    if sent == "lowering" { ReleaseRequest::Lowering } else { ReleaseRequest::WholeCage }
}

async fn draft(
    State(app): State<App>,
    seen: Seen,
    Query(query): Query<HashMap<String, String>>,
) -> Result<Response, Problem> {
    let text = |name: &str| query.get(name).map_or("", String::as_str);
    let wanted = Wanted { release: asked(text("asks")), size: PacketSize::of_text(text("size")) };
    let pdf = packet::draft(&seen.who.ctx, seen.build(), wanted, seen.who.units, &app.look).await?;
    Ok(show_pdf(&format!("{}-draft.pdf", seen.facts.build.slug), pdf))
}

async fn issued(door: DoorOf) -> Result<Response, Problem> {
    let (round, pdf) = packet::issued(&door.who.ctx, door.build.id, door.round).await?;
    Ok(show_pdf(&packet_name(&door.build.slug, round.number), pdf))
}

async fn reply(
    SeenRounds(seen): SeenRounds,
    Path((_, number)): Path<(String, String)>,
    Sent { pairs, mail }: Sent,
) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::Reply)?;
    let round = number.parse().map_err(|_| Problem::NotFound)?;
    let mut form = Form::of(seen.who.units, pairs);
    let chosen = matches!(mail, Some(Ok(_)));
    let mail = mail.transpose().unwrap_or_else(|why| {
        form.fault(MAIL, why);
        None
    });
    if let Some(new) = read(&mut form, &seen, round) {
        match typed_from(&seen.who.ctx, seen.build(), new, mail).await {
            Ok(_) => return Ok(Redirect::to(&seen.address("/rounds#now")).into_response()),
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(other) => return Err(other.into()),
        }
    }
    if chosen && form.field(MAIL, "").fault.is_none() {
        // a browser gives a file back to nobody
        form.fault(MAIL, "Nothing is recorded yet. Choose the file once more.");
    }
    sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, &form).await
}

fn read(form: &mut Form, seen: &Seen, round: u32) -> Option<NewReply> {
    let showed = seen.facts.rounds.iter().find(|one| one.number == round);
    let showed = showed.and_then(|round| Contents::read(&round.contents));
    let decision = Decision::of(form.text("decision"));
    if decision.is_none() {
        form.fault("decision", "Choose what the scrutineer decided.");
    }
    for line in 1..=LINES {
        let (about, asked) = (format!("about_{line}"), format!("asked_{line}"));
        if form.text(&asked).is_empty() && !form.text(&about).is_empty() {
            form.fault(&asked, "Write what is asked of it.");
        }
        let part: Option<Balloon> = form.parse(&about, "A number of the packet, like J7; or leave it empty.");
        if let (Some(part), Some(showed)) = (part, &showed)
            && !showed.shows(part)
        {
            form.fault(&about, not_shown(round, part));
        }
    }
    let (items, conditions) = (items(form), conditions(form));
    let released: Vec<Balloon> = form.chosen("released").iter().filter_map(|joint| joint.parse().ok()).collect();
    let settles = settles(form);
    let read: Option<Fingerprint> = form.parse("despite", "This is no fingerprint. Open the sheet again.");
    let despite = read.map(|read| (read, form.text("despite_words").to_owned()));
    let packet_sha256 = form.parse("packet_sha256", "This is no fingerprint. Open the sheet again.");
    if form.is_faulty() {
        return None;
    }
    let (words, given_by) = (form.text("words").to_owned(), form.text("given_by").to_owned());
    Some(NewReply {
        round,
        packet_sha256: packet_sha256?,
        decision: decision?,
        released,
        despite,
        words,
        given_by,
        licence: form.text("licence").trim().to_owned(),
        came: if may(seen.who.ctx.by.role, Deed::Review) { Some(Came::SignedIn) } else { Came::of(form.text("came")) },
        items,
        conditions,
        settles,
        answers: None,
    })
}

/// What is asked, line by line; what does not read is left out here and told at its field.
fn items(form: &Form) -> Vec<(Option<Balloon>, String)> {
    let item = |line: usize| {
        let text = form.text(&format!("asked_{line}"));
        let change = form.text(&format!("kind_{line}")) == "change";
        let text = if change { format!("{CHANGE_ASKED}{text}") } else { text.to_owned() };
        (form.text(&format!("about_{line}")).parse().ok(), text)
    };
    let asks = |line: &usize| !form.text(&format!("asked_{line}")).is_empty() && condition(form, *line).is_none();
    (1..=LINES).filter(asks).map(item).collect()
}

/// What a line's kind makes of it, where that is a condition of the release.
fn condition(form: &Form, line: usize) -> Option<Condition> {
    match form.text(&format!("kind_{line}")) {
        "condition" => Some(Condition::Open),
        "holds" => Some(Condition::Holds),
        _ => None,
    }
}

/// The lines that are conditions of the release.
fn conditions(form: &Form) -> Vec<NewCondition> {
    let one = |line: usize| {
        let condition = condition(form, line)?;
        let text = form.text(&format!("asked_{line}")).trim().to_owned();
        let about = form.text(&format!("about_{line}")).parse().ok();
        (!text.is_empty()).then_some(NewCondition { about, text, condition })
    };
    (1..=LINES).filter_map(one).collect()
}

/// The questions that were ticked as settled.
fn settles(form: &Form) -> Vec<QuestionId> {
    form.chosen("settles").iter().filter_map(|id| id.parse().ok()).collect()
}
