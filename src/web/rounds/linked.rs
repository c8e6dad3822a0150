//! Reading links: the office makes one and withdraws it; whoever has it looks at the round, answers, and keeps a receipt.

use askama::Template;
use axum::extract::{Form as Posted, Path, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};

use super::door::Door;
use super::link_view::{Front, LinkMade, Sent};
use super::reviewing;
use super::{issued, signed, signing};
use crate::actions::ActionError;
use crate::actions::recorded::packet;
use crate::actions::recorded::rounds::links;
use crate::domain::recorded::rounds::links::{GoodFor, NewReadingLink};
use crate::domain::recorded::rounds::receipt::receipt as receipt_of;
use crate::domain::recorded::rounds::{Came, Reply, Round};
use crate::domain::shop::people::Deed;
use crate::web::app::App;
use crate::web::form::{Form, Pairs};
use crate::web::gate::Seen;
use crate::web::headers::READ;
use crate::web::page::{Sheet, show};
use crate::web::problem::Problem;
use crate::web::routing::{Routes, get, post};

/// The addresses.
pub(super) fn routes() -> Routes {
    Routes::new()
        .route("/builds/{build}/rounds/{round}/links", post(make))
        .route("/builds/{build}/rounds/{round}/links/{reading}/withdraw", post(withdraw))
        .route("/read/{secret}", get(front))
        .route("/read/{secret}/review", get(reviewing::sheet).post(reviewing::answer))
        .route("/read/{secret}/review/sign", get(signing::sheet).post(signing::sign))
        .route("/read/{secret}/packet.pdf", get(issued))
        .route("/read/{secret}/packet.pdf.sig", get(signed::signature))
        .route("/read/{secret}/allowed_signers", get(signed::signers))
        .route("/read/{secret}/photos/{sha256}/{view}", get(reviewing::photo))
        .route("/read/{secret}/receipt", get(receipt))
        .route("/read/{secret}/receipt.txt", get(receipt_file))
}

async fn make(
    State(app): State<App>,
    seen: Seen,
    Path((_, round)): Path<(String, String)>,
    Posted(typed): Posted<Pairs>,
) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::IssueRounds)?;
    let number = round.parse().map_err(|_| Problem::NotFound)?;
    let mut form = Form::of(seen.who.units, typed);
    let good_for = GoodFor::of_text(form.text("days"));
    let new = NewReadingLink { round: number, reader: form.text("reader").to_owned(), good_for };
    let ctx = &seen.who.ctx;
    match links::make(ctx, seen.build(), new).await {
        Ok((link, secret)) => {
            let round = seen.facts.rounds.iter().find(|round| round.id == link.round).ok_or(Problem::NotFound)?;
            let address = format!("{}{READ}/{secret}", app.reached.address);
            let made = LinkMade::of(&seen, round, &link, &Sent { address, bytes: packet::length(ctx, round).await? });
            let page = show(StatusCode::OK, &made)?;
            // it stands on this one sheet and is asked for again nowhere
            return Ok(([(header::CACHE_CONTROL, "no-store")], page).into_response());
        }
        Err(ActionError::Refused(faults)) => form.refuse(faults),
        Err(ActionError::Held(why)) => form.fault("reader", why),
        Err(other) => return Err(other.into()),
    }
    super::sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, &form).await
}

async fn withdraw(seen: Seen, Path((_, _, link)): Path<(String, String, String)>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::IssueRounds)?;
    let link = link.parse().map_err(|_| Problem::NotFound)?;
    links::withdraw(&seen.who.ctx, seen.build(), link).await?;
    Ok(Redirect::to(&seen.address("/rounds#links")).into_response())
}

/// What the link leads to. Looking records nothing.
async fn front(door: Door) -> Result<Response, Problem> {
    let answered = answered(&door).is_some();
    let signature = packet::signature(&door.seen.who.ctx, door.seen.build(), door.round).await?;
    let front = Front::of(&door, answered, signature.as_ref()).ok_or(Problem::NotFound)?;
    show(StatusCode::OK, &front)
}

/// The newest answer to the round that came through this link, or another for the same reader: nobody is shown somebody
/// else's as their own.
fn answered(door: &Door) -> Option<(&Round, &Reply)> {
    let facts = &door.seen.facts;
    let round = facts.rounds.iter().find(|round| round.number == door.round)?;
    let reader = door.reader().link?.name();
    let came = |reply: &&Reply| reply.round == round.id && reply.came == Some(Came::Link) && reply.by == reader;
    facts.replies.iter().rfind(came).map(|reply| (round, reply))
}

/// The receipt on a sheet.
#[derive(Template)]
#[template(path = "rounds/receipt.html")]
struct Receipt {
    sheet: Sheet,
    text: String,
    file: String,
    back: String,
    held: bool,
}

async fn receipt(door: Door) -> Result<Response, Problem> {
    let Some((round, reply)) = answered(&door) else { return Ok(unanswered(&door)) };
    let text = receipt_of(&door.seen.facts.build.name, round, reply, &door.seen.facts.questions);
    let (file, back) = (door.address("/receipt.txt"), door.address("/review/sign"));
    show(StatusCode::OK, &Receipt { sheet: door.sheet("Receipt"), text, file, back, held: door.seen.held() })
}

/// Back to the beginning, where nobody has answered through a link yet.
fn unanswered(door: &Door) -> Response {
    Redirect::to(&door.address("")).into_response()
}

async fn receipt_file(door: Door) -> Result<Response, Problem> {
    let Some((round, reply)) = answered(&door) else { return Ok(unanswered(&door)) };
    let build = &door.seen.facts.build;
    let name = format!("{}-round-{}-answer.txt", build.slug, round.number);
    Ok(signed::kept_as(&name, receipt_of(&build.name, round, reply, &door.seen.facts.questions)))
}
