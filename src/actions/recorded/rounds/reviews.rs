//! Answering a round part by part, and signing it: the answers are the scrutineer's own, and nothing follows from them
//! before they are signed.

use std::collections::BTreeSet;

use serde_json::json;

use super::reply;
use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::domain::derived::approving::not_shown;
use crate::domain::derived::contents::{Contents, Earlier};
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::recorded::reviews::{NewReviewed, PartAnswer, Reviewed, newest, standing};
use crate::domain::recorded::rounds::{Came, Decision, NewCondition, NewReply, Reply, Round};
use crate::domain::shop::people::Deed;
use crate::domain::words::faults::Fault;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::{Balloon, BuildId, QuestionId};

/// What is signed beside the answers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Signed {
    /// The round.
    pub round: u32,
    /// What is decided.
    pub decision: Decision,
    /// The joints that are released, where the round asks for single joints.
    pub released: Vec<Balloon>,
    /// What is said to the shop beside the answers.
    pub words: String,
    /// What was read of all that is open in the round, by its fingerprint, and why it is approved all the same.
    pub despite: Option<(Fingerprint, String)>,
    /// What a release is given under.
    pub conditions: Vec<NewCondition>,
    /// The earlier questions that it settles.
    pub settles: Vec<QuestionId>,
    /// The number of the newest answer that was read before signing.
    pub seen: i64,
    /// The licence or role they sign with, as typed.
    pub licence: String,
    /// The name they sign with, as typed, of whoever came by a reading link; none of whoever signed in.
    pub by_link: Option<String>,
}

/// Saves what is answered of a part of the newest round. `Stale` when somebody else answered it since it was read: both
/// stay in the records, and whoever was second is shown the first.
pub async fn answer(ctx: &Context, build: BuildId, new: NewReviewed) -> Result<Reviewed, ActionError> {
    ctx.allow(Deed::Review)?;
    let rounds = ctx.store.rounds(build).await?;
    let round = newest_round(&rounds, new.round)?;
    let contents = Contents::read(&round.contents)
        .ok_or_else(|| ActionError::Held(format!("What round {} showed cannot be read.", new.round)))?;
    if !contents.shown().contains(&new.part) {
        return Err(ActionError::Refused(vec![Fault::new("part", not_shown(new.round, new.part))]));
    }
    refuse(new.faults())?;
    let shown = contents.photos.get(&new.part.to_string()).map(Vec::as_slice).unwrap_or_default();
    if new.marks.iter().any(|mark| !shown.iter().any(|name| name == mark.sha256.text())) {
        let why =
            format!("A mark is on a photograph that round {} does not show of {}. Take it off.", new.round, new.part);
        return Err(ActionError::Refused(vec![Fault::new("marks", why)]));
    }
    let (id, number, part) = (round.id, round.number, new.part);
    let detail =
        json!({ "round": number, "part": part, "answer": new.answer, "remark": new.remark.trim(), "marks": new.marks });
    // What was answered is told to the shop when it is signed.
    let entry = ctx.entry("rounds", build, format!("{part} of round {number} was looked at; not signed yet."), detail);
    let (at, by) = (ctx.clock.now(), ctx.by.name.clone());
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let latest = write.rounds(build).await?.last().map_or(0, |round| round.number);
                if latest != number {
                    return Err(followed(number, latest));
                }
                let all = write.reviewed(id).await?;
                let stands = standing(&all).get(&part).map(|one| (*one).clone());
                if let Some(same) = stands.clone().filter(|stands| new.says(stands)) {
                    return Ok((same, None));
                }
                let now = stands.map_or(0, |stands| stands.number);
                if now != new.seen {
                    return Err(ActionError::Stale { now });
                }
                let remark = new.remark.trim().to_owned();
                let row = Reviewed { number: 0, part, answer: new.answer, remark, marks: new.marks, at, by };
                Ok((write.add_reviewed(id, row).await?, Some(entry)))
            })
        })
        .await
}

/// Accepts again, in the newest round, every part that was accepted before, of which everything shown is the same as then, and
/// which nobody answered yet. Each is an answer of its own in the records; gives how many there were.
pub async fn leave_accepted(ctx: &Context, build: BuildId, number: u32) -> Result<usize, ActionError> {
    ctx.allow(Deed::Review)?;
    let facts = ctx.store.facts(build).await?;
    let round = newest_round(&facts.rounds, number)?;
    let contents = Contents::read(&round.contents)
        .ok_or_else(|| ActionError::Held(format!("What round {number} showed cannot be read.")))?;
    let all = ctx.store.reviewed(round.id).await?;
    let answered = standing(&all);
    let earlier = Earlier::of(&facts.rounds, &facts.replies, number);
    let same = |part: &Balloon| earlier.accepted(&contents, *part).is_some_and(|accepted| accepted.same());
    let left = contents.shown().into_iter().filter(|part| !answered.contains_key(part)).filter(same);
    let mut many = 0;
    for part in left {
        let (remark, marks) = (String::new(), Vec::new());
        let new = NewReviewed { round: number, part, answer: Some(PartAnswer::Accepted), remark, marks, seen: 0 };
        match answer(ctx, build, new).await {
            Ok(_) => many += 1,
            // somebody answered it just now: that stands
            Err(ActionError::Stale { .. }) => {}
            Err(other) => return Err(other),
        }
    }
    Ok(many)
}

/// Signs the answers as they stand: they become the reply, with a question for each that wants something and was not in an
/// earlier reply to the same round. `Stale` when they are not those that were read.
pub async fn sign(ctx: &Context, build: BuildId, signed: Signed) -> Result<Reply, ActionError> {
    ctx.allow(Deed::Review)?;
    let facts = ctx.store.facts(build).await?;
    let round = newest_round(&facts.rounds, signed.round)?;
    let all = ctx.store.reviewed(round.id).await?;
    let now = newest(&all);
    if now != signed.seen {
        return Err(ActionError::Stale { now });
    }
    let (given_by, came) = match &signed.by_link {
        Some(typed) => (typed.clone(), Came::Link),
        None => (ctx.by.name.clone(), Came::SignedIn),
    };
    let new = as_reply(&facts, round, &all, signed);
    reply(ctx, build, NewReply { given_by, came: Some(came), ..new }).await
}

/// What would be recorded when this is signed, without a name.
pub fn as_reply(facts: &BuildFacts, round: &Round, all: &[Reviewed], signed: Signed) -> NewReply {
    let replies = facts.replies.iter().filter(|reply| reply.round == round.id);
    let said: BTreeSet<i64> = replies.flat_map(|reply| reply.answers.iter().flatten()).map(|one| one.number).collect();
    let answers: Vec<Reviewed> = standing(all).into_values().cloned().collect();
    let new = answers.iter().filter(|one| !said.contains(&one.number));
    let items = new.filter_map(|one| Some((Some(one.part), one.item()?))).collect();
    NewReply {
        round: round.number,
        packet_sha256: round.packet_sha256.clone(),
        decision: signed.decision,
        released: signed.released,
        words: signed.words,
        given_by: String::new(),
        licence: signed.licence,
        came: None,
        despite: signed.despite,
        items,
        conditions: signed.conditions,
        settles: signed.settles,
        answers: Some(answers),
    }
}

/// The round of this number, where no other has followed it.
fn newest_round(rounds: &[Round], number: u32) -> Result<&Round, ActionError> {
    let round = rounds.iter().find(|round| round.number == number).ok_or(ActionError::NotFound("round"))?;
    match rounds.last() {
        Some(newest) if newest.number != number => Err(followed(number, newest.number)),
        _ => Ok(round),
    }
}

fn followed(number: u32, newest: u32) -> ActionError {
    ActionError::Held(format!(
        "Round {newest} has followed round {number}. Answer that one: its packet shows what changed."
    ))
}
