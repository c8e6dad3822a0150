//! Issuing rounds, recording replies, and what the newest reply says of the hold point.

use serde_json::json;

use super::context::{Context, refuse};
use super::error::ActionError;
use super::questions::words_faults;
use crate::domain::derived::approving;
use crate::domain::derived::approving::Beside;
use crate::domain::derived::contents::{Asks, Contents};
use crate::domain::derived::findings::Findings;
use crate::domain::recorded::questions::Question;
use crate::domain::recorded::rounds::{Decision, Despite, Reply, Round};
use crate::domain::shop::people::Deed;
use crate::domain::words::faults::Fault;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::{Balloon, BuildId, QuestionId};
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
}

/// A reply as it is entered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewReply {
    /// The round it replies to.
    pub round: u32,
    /// The SHA-256 of the packet it replies to.
    pub packet_sha256: Fingerprint,
    /// What was decided.
    pub decision: Decision,
    /// The joints it releases for welding while the cage is lowered, where the round asks for that.
    pub released: Vec<Balloon>,
    /// The scrutineer's words.
    pub words: String,
    /// Who gave it, as typed.
    pub given_by: String,
    /// What was read of all that is open in the round, by its fingerprint, and why it is approved all the same; none where
    /// nobody was asked yet.
    pub despite: Option<(Fingerprint, String)>,
    /// A question for each item, with its balloon as printed.
    pub items: Vec<(Option<Balloon>, String)>,
    /// The questions that it settles.
    pub settles: Vec<QuestionId>,
}

/// Issues a round wholly or not at all. `Stale` when the build, or its rounds, moved since the contents were gathered:
/// gather again. The same key gives the same round.
pub async fn issue(ctx: &Context, build: BuildId, issue: Issue) -> Result<Round, ActionError> {
    ctx.allow(Deed::IssueRounds)?;
    refuse(issue_faults(&issue))?;
    if let Some(round) = issued_under(ctx, build, &issue.key).await? {
        return Ok(round);
    }
    let hashing = tokio::task::spawn_blocking(move || (Fingerprint::of(&issue.packet), issue.packet)).await;
    let (packet_sha256, packet) = hashing.map_err(|error| ActionError::NotWorked(error.to_string()))?;
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
    let entry = ctx.entry(ROOM, build, format!("Round {} was issued.", round.number), detail);
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
                Ok((round, Some(entry)))
            })
        })
        .await
}

/// Records the scrutineer's reply: the reply, a question for each item, what it settles. A reply to a round that another
/// has followed is kept, and releases nothing.
pub async fn reply(ctx: &Context, build: BuildId, new: NewReply) -> Result<Reply, ActionError> {
    ctx.allow(Deed::Reply)?;
    refuse(reply_faults(&new))?;
    let (round, open) = answered(ctx, build, &new).await?;
    if round.packet_sha256 != new.packet_sha256 {
        let why = "This is not the fingerprint of that round's packet. Look at the packet's cover.";
        return Err(ActionError::Refused(vec![Fault::new("packet_sha256", why)]));
    }
    refuse(released_faults(&round, &new))?;
    refuse(item_faults(&round, &new))?;
    refuse(despite_faults(&open, &new))?;
    let why = new.despite.as_ref().map(|(_, words)| words.trim().to_owned()).filter(|_| !open.is_empty());
    let despite = why.map(|words| Despite { open, words });
    let at = ctx.clock.now();
    let asked: Vec<Question> = new.items.iter().map(|item| asked(ctx, build, item, new.given_by.trim())).collect();
    let detail = json!({
        "round": new.round, "decision": new.decision.word(), "words": new.words, "given_by": new.given_by,
        "released": new.released, "items": new.items, "settles": new.settles, "despite": despite,
    });
    let joints: Vec<String> = new.released.iter().map(ToString::to_string).collect();
    let released = if joints.is_empty() { String::new() } else { format!(" for {}", joints.join(", ")) };
    let passed = despite.as_ref().map(|despite| format!(", though {} still open", things(despite.open.len())));
    let passed = passed.unwrap_or_default();
    let what = format!("The reply to round {} was recorded: {}{released}{passed}.", new.round, new.decision.word());
    let entry = ctx.entry(ROOM, build, what, detail);
    let (id, by) = (ctx.clock.new_id().to_string(), ctx.by.name.clone());
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                write.build(build).await?;
                let reply = Reply {
                    id,
                    round: round.id,
                    decision: new.decision,
                    released: new.released,
                    despite,
                    words: new.words.trim().to_owned(),
                    given_by: new.given_by.trim().to_owned(),
                    received: at,
                    by,
                };
                write.add_reply(&reply).await?;
                for mut question in asked {
                    question.number = write.next_question(build).await?;
                    write.add_question(&question, Some(&reply.id)).await?;
                }
                for question in new.settles {
                    write.question(build, question).await?;
                    write.set_settled(question, Some(at)).await?;
                }
                Ok((reply, Some(entry)))
            })
        })
        .await
}

/// What is open in the round that a reply approves; nothing of one that does not approve.
pub async fn still_open(ctx: &Context, build: BuildId, new: &NewReply) -> Result<Vec<String>, ActionError> {
    ctx.allow(Deed::Reply)?;
    Ok(answered(ctx, build, new).await?.1)
}

/// The round that is answered, and what is open in it where it is approved.
async fn answered(ctx: &Context, build: BuildId, new: &NewReply) -> Result<(Round, Vec<String>), ActionError> {
    let facts = ctx.store.facts(build).await?;
    let round = facts.rounds.iter().find(|round| round.number == new.round).ok_or(ActionError::NotFound("round"))?;
    if new.decision == Decision::NotYet {
        return Ok((round.clone(), Vec::new()));
    }
    let changes = Findings::of(&facts, ctx.clock.today()).changes;
    let beside = Beside { items: &new.items, settles: &new.settles };
    Ok((round.clone(), approving::still_open(&facts, &changes, round, beside)))
}

fn things(count: usize) -> String {
    if count == 1 { "1 thing is".to_owned() } else { format!("{count} things are") }
}

/// An approval over what is open is confirmed by somebody who read the list, and says why.
fn despite_faults(open: &[String], new: &NewReply) -> Vec<Fault> {
    if open.is_empty() {
        return Vec::new();
    }
    let one = |at: &str, why: String| vec![Fault::new(at, why)];
    match &new.despite {
        None => one(
            "despite",
            format!(
                "{} still open in this round. Nothing is recorded yet: read the list, tick that it was read, and write why \
                 the scrutineer approves all the same.",
                things(open.len())
            ),
        ),
        Some((read, _)) if *read != approving::fingerprint(open) => {
            one("despite", "What is open is not what was read. Read the list again, and tick it again.".to_owned())
        }
        Some((_, words)) if words.trim().is_empty() => {
            one("despite_words", "Write why it is approved all the same, in the scrutineer's words.".to_owned())
        }
        Some((_, words)) => limits::text_faults("despite_words", words),
    }
}

/// What is asked is asked of something that the round showed.
fn item_faults(round: &Round, new: &NewReply) -> Vec<Fault> {
    let Some(contents) = Contents::read(&round.contents) else { return Vec::new() };
    let parts = new.items.iter().filter_map(|(about, _)| *about);
    parts.filter(|part| !contents.shows(*part)).map(|part| Fault::new("items", not_shown(round.number, part))).collect()
}

/// What is said of a number that a round does not show.
pub fn not_shown(round: u32, part: Balloon) -> String {
    format!("{part} is not in round {round}. Look at the packet; leave it empty for the whole car.")
}

fn asked(ctx: &Context, build: BuildId, item: &(Option<Balloon>, String), by: &str) -> Question {
    Question {
        id: ctx.clock.new_id().into(),
        build,
        number: 0,
        about: item.0,
        text: item.1.trim().to_owned(),
        from_reply: true,
        asked: ctx.clock.now(),
        by: by.to_owned(),
        settled: None,
        answers: Vec::new(),
    }
}

/// The round that was issued under a form's key, if one was.
pub(super) async fn issued_under(ctx: &Context, build: BuildId, key: &str) -> Result<Option<Round>, ActionError> {
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

fn reply_faults(new: &NewReply) -> Vec<Fault> {
    let mut faults = limits::title_faults("given_by", &new.given_by);
    faults.extend(limits::text_faults("words", &new.words));
    faults.extend(new.items.iter().flat_map(|item| words_faults("items", &item.1)));
    if new.decision == Decision::NotYet && new.items.is_empty() && new.words.trim().is_empty() {
        faults.push(Fault::new("words", "Say what is missing, in words or item by item."));
    }
    faults
}

/// An early round is answered joint by joint; one about the whole cage releases no single joint.
fn released_faults(round: &Round, new: &NewReply) -> Vec<Fault> {
    let (asked, approved) = (Asks::of(round).joints(), new.decision == Decision::Approved);
    let why = if new.released.iter().any(|joint| !asked.contains_key(joint)) {
        "This round does not ask for the release of such a joint. Open the sheet again."
    } else if approved && !asked.is_empty() && new.released.is_empty() {
        "Tick the joints that were released; with none of them the decision is “not yet”."
    } else if !approved && !new.released.is_empty() {
        "A joint is released by “approved” only. Choose that, or untick it."
    } else {
        return Vec::new();
    };
    vec![Fault::new("released", why)]
}
