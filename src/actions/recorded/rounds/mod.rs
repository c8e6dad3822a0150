//! Issuing rounds, recording replies, and what the newest reply says of the hold point.

pub mod as_issued;
pub mod links;
pub mod mails;
pub mod reviews;

use jiff::Timestamp;
use serde_json::json;

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::actions::memory::Looked;
use crate::actions::shop::signing;
use crate::domain::derived::approving;
use crate::domain::derived::approving::Beside;
use crate::domain::recorded::questions::Question;
use crate::domain::recorded::reviews::newest;
use crate::domain::recorded::rounds::NewReply;
use crate::domain::recorded::rounds::mails::{Mail, NewMail};
use crate::domain::recorded::rounds::{Decision, Despite, Reply, Round};
use crate::domain::shop::people::Deed;
use crate::domain::words::faults::Fault;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::{Balloon, BuildId};
use crate::domain::words::limits;
use crate::store::vault::Item;

const ROOM: &str = "rounds";

/// A round as it is handed in, its packet made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Issue {
    /// The form's own key: pressing twice gives one round.
    pub key: String,
    /// The number printed on the packet.
    pub number: u32,
    /// The build's last log entry when the contents were gathered.
    pub as_of: i64,
    /// The contents list, canonical JSON.
    pub contents: String,
    /// The packet, PDF.
    pub packet: Vec<u8>,
    /// What was done to its photographs so that it can be sent, in a sentence; empty for nothing.
    pub reduced: String,
}

/// Issues a round wholly or not at all. `Stale` when the build, or its rounds, moved since the contents were gathered:
/// gather again. The same key gives the same round.
pub async fn issue(ctx: &Context, build: BuildId, issue: Issue) -> Result<Round, ActionError> {
    ctx.allow(Deed::IssueRounds)?;
    refuse(issue_faults(&issue))?;
    if let Some(round) = issued_under(ctx, build, &issue.key).await? {
        return Ok(round);
    }
    let (bytes, reduced) = (issue.packet, issue.reduced);
    let signer = signing::signer(ctx).await?;
    let key = signer.number();
    let signing = tokio::task::spawn_blocking(move || (Fingerprint::of(&bytes), signer.sign(&bytes), bytes)).await;
    let (packet_sha256, signature, packet) = signing.map_err(|error| ActionError::NotWorked(error.to_string()))?;
    let signature = signature?;
    ctx.store.vault().put(Item::Packet(packet_sha256.clone()), packet).await?;
    let round = Round {
        id: ctx.clock.new_id().into(),
        build,
        number: issue.number,
        issue_key: issue.key,
        contents_sha256: Fingerprint::of(issue.contents.as_bytes()),
        contents: issue.contents,
        packet_sha256,
        as_of: issue.as_of,
        issued: ctx.clock.now(),
        by: ctx.by.name.clone(),
    };
    let detail = json!({
        "round": round.number, "contents_sha256": round.contents_sha256, "packet_sha256": round.packet_sha256,
    });
    let entry =
        ctx.entry(ROOM, build, format!("Round {} was issued. {reduced}", round.number).trim_end().to_owned(), detail);
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                write.build(build).await?;
                if let Some(round) = write.round_of_key(&round.issue_key).await? {
                    return same_build(round, build).map(|round| (round, None));
                }
                let now = write.as_of(build).await?;
                let next = write.rounds(build).await?.last().map_or(1, |last| last.number + 1);
                if now != round.as_of || next != round.number {
                    return Err(ActionError::Stale { now });
                }
                write.add_round(&round).await?;
                write.add_round_signature(round.id, key, &signature).await?;
                Ok((round, Some(entry)))
            })
        })
        .await
}

/// Records the scrutineer's reply: the reply, a question for each item, what it settles. A reply to a round that another
/// has followed is kept, and releases nothing.
pub async fn reply(ctx: &Context, build: BuildId, new: NewReply) -> Result<Reply, ActionError> {
    typed_from(ctx, build, new, None).await
}

/// The same of a reply that was typed from a mail, which is kept with it or not at all.
pub async fn typed_from(
    ctx: &Context,
    build: BuildId,
    new: NewReply,
    mail: Option<NewMail>,
) -> Result<Reply, ActionError> {
    ctx.allow(if new.answers.is_some() { Deed::Review } else { Deed::Reply })?;
    refuse(new.faults())?;
    let (round, open) = answered(ctx, build, &new).await?;
    if round.packet_sha256 != new.packet_sha256 {
        let why = "This is not the fingerprint of that round's packet. Look at the packet's cover.";
        return Err(ActionError::Refused(vec![Fault::new("packet_sha256", why)]));
    }
    refuse(new.released_faults(&round))?;
    refuse(new.item_faults(&round))?;
    refuse(new.answer_faults(&round))?;
    refuse(new.despite_faults(&open))?;
    let mail = mails::with(ctx, new.came, mail).await?;
    let why = new.despite.as_ref().map(|(_, words)| words.trim().to_owned()).filter(|_| !open.is_empty());
    let despite = why.map(|words| Despite { open, words });
    let at = ctx.clock.now();
    let what = recorded(&new, despite.as_ref(), mail.as_ref());
    let entry = ctx.entry(ROOM, build, what, detail(&new, despite.as_ref(), mail.as_ref()));
    let (asked, settles, answers) = (came_with(ctx, build, &new, at), new.settles.clone(), new.answers.clone());
    let reply = recorded_reply(ctx, new, &round, despite, at);
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                write.build(build).await?;
                if let Some(answers) = &answers {
                    // What is signed is what stands: an answer that was given meanwhile is read first.
                    let now = newest(&write.reviewed(round.id).await?);
                    if now != newest(answers) {
                        return Err(ActionError::Stale { now });
                    }
                }
                write.add_reply(&reply).await?;
                if let Some(mail) = &mail {
                    write.add_mail(&reply.id, mail).await?;
                }
                for mut question in asked {
                    question.number = write.next_question(build).await?;
                    write.add_question(&question, Some(&reply.id)).await?;
                }
                for question in settles {
                    write.question(build, question).await?;
                    write.set_settled(question, Some(at)).await?;
                }
                Ok((reply, Some(entry)))
            })
        })
        .await
}

/// A reply as it is recorded.
fn recorded_reply(ctx: &Context, new: NewReply, round: &Round, despite: Option<Despite>, at: Timestamp) -> Reply {
    Reply {
        id: ctx.clock.new_id().to_string(),
        round: round.id,
        decision: new.decision,
        released: new.released,
        despite,
        answers: new.answers,
        words: new.words.trim().to_owned(),
        given_by: new.given_by.trim().to_owned(),
        licence: new.licence.trim().to_owned(),
        came: new.came,
        received: at,
        by: ctx.by.name.clone(),
        mails: Vec::new(),
    }
}

/// What the log keeps of a reply.
fn detail(new: &NewReply, despite: Option<&Despite>, mail: Option<&Mail>) -> serde_json::Value {
    let mail = mail.map(|mail| json!({ "name": mail.name, "size": mail.size, "sha256": mail.sha256 }));
    json!({
        "mail": mail,
        "round": new.round, "decision": new.decision.word(), "words": new.words, "given_by": new.given_by,
        "licence": new.licence, "came": new.came, "released": new.released, "items": new.items, "conditions": new.conditions,
        "settles": new.settles, "despite": despite, "answers": new.answers,
    })
}

/// What the log says of a reply.
fn recorded(new: &NewReply, despite: Option<&Despite>, mail: Option<&Mail>) -> String {
    let joints: Vec<String> = new.released.iter().map(ToString::to_string).collect();
    let released = if joints.is_empty() { String::new() } else { format!(" for {}", joints.join(", ")) };
    let passed = despite.map(|despite| format!(", though {} still open", approving::things(despite.open.len())));
    let passed = passed.unwrap_or_default();
    let under = match new.conditions.len() {
        0 => String::new(),
        1 => ", under 1 condition".to_owned(),
        many => format!(", under {many} conditions"),
    };
    let from = mail.map(|mail| format!(" Attached: “{}”, SHA-256 {}.", mail.name, mail.sha256)).unwrap_or_default();
    format!("The reply to round {} was recorded: {}{released}{under}{passed}.{from}", new.round, new.decision.word())
}

/// What is open in the round that a reply approves; nothing of one that does not approve.
pub async fn still_open(ctx: &Context, build: BuildId, new: &NewReply) -> Result<Vec<String>, ActionError> {
    ctx.allow(Deed::Reply)?;
    Ok(answered(ctx, build, new).await?.1)
}

/// The round that is answered, and what is open in it where it is approved.
async fn answered(ctx: &Context, build: BuildId, new: &NewReply) -> Result<(Round, Vec<String>), ActionError> {
    let Looked { facts, found } = ctx.looked(build).await?;
    let round = facts.rounds.iter().find(|round| round.number == new.round).ok_or(ActionError::NotFound("round"))?;
    if new.decision != Decision::Approved {
        return Ok((round.clone(), Vec::new()));
    }
    let changes = &found.changes;
    let beside = Beside { items: &new.items, settles: &new.settles };
    Ok((round.clone(), approving::still_open(&facts, changes, round, beside)))
}

/// The questions and conditions that come with a reply.
fn came_with(ctx: &Context, build: BuildId, new: &NewReply, at: Timestamp) -> Vec<Question> {
    let by = new.given_by.trim();
    let asked = |item: &(Option<Balloon>, String)| asked(ctx, build, item, by, at);
    let items = new.items.iter().map(asked);
    let conditions = new
        .conditions
        .iter()
        .map(|one| Question { condition: Some(one.condition), ..asked(&(one.about, one.text.clone())) });
    items.chain(conditions).collect()
}

fn asked(ctx: &Context, build: BuildId, item: &(Option<Balloon>, String), by: &str, at: Timestamp) -> Question {
    Question {
        id: ctx.clock.new_id().into(),
        build,
        number: 0,
        about: item.0,
        text: item.1.trim().to_owned(),
        from_reply: true,
        condition: None,
        asked: at,
        by: by.to_owned(),
        settled: None,
        answers: Vec::new(),
    }
}

/// The round that was issued under a form's key, if one was.
pub(in crate::actions) async fn issued_under(
    ctx: &Context,
    build: BuildId,
    key: &str,
) -> Result<Option<Round>, ActionError> {
    let there = ctx.store.round_of_key(key).await?;
    there.map(|round| same_build(round, build)).transpose()
}

fn same_build(round: Round, build: BuildId) -> Result<Round, ActionError> {
    if round.build == build { Ok(round) } else { Err(ActionError::NotFound("round")) }
}

fn issue_faults(issue: &Issue) -> Vec<Fault> {
    let mut faults = limits::title_faults("key", &issue.key);
    if serde_json::from_str::<serde_json::Value>(&issue.contents).is_err() {
        faults.push(Fault::new("contents", "The contents list does not read as JSON."));
    }
    if !issue.packet.starts_with(b"%PDF-") {
        faults.push(Fault::new("packet", "The packet is no PDF."));
    }
    faults
}
