//! Rounds issued and replies recorded by a process of its own, and whether what is found afterwards is whole.

use std::path::PathBuf;

use tackbook::actions;
use tackbook::actions::Context;
use tackbook::actions::recorded::rounds::Issue;
use tackbook::actions::shop::signing::{Checked, Stands, check};
use tackbook::domain::derived::contents::Contents;
use tackbook::domain::derived::worked::Worked;
use tackbook::domain::recorded::rounds::{Decision, NewReply, Round};
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::domain::words::ids::BuildId;
use tackbook::store::vault::Item;

use crate::child::{FOLDER, open, say};
use crate::kept::kept;
use crate::promised::Promised;

/// What the process that issues rounds is called among the tests.
pub(crate) const ISSUES_ROUNDS: &str = "rounds::issues_rounds_until_it_is_ended";
/// How long a packet is: several blocks of a disk, and no whole number of them.
const PACKET: usize = 20_011;

#[tokio::test]
#[ignore = "the other tests start it as a process of its own"]
async fn issues_rounds_until_it_is_ended() {
    let folder = PathBuf::from(std::env::var_os(FOLDER).unwrap());
    let (ctx, build) = open(&folder).await;
    say("OPEN");
    for number in 1.. {
        let round = actions::recorded::rounds::issue(&ctx, build, made(&ctx, build, number).await).await.unwrap();
        say(&format!("ISSUED {number} {}", round.packet_sha256));
        actions::recorded::rounds::reply(&ctx, build, answer(&round)).await.unwrap();
        say(&format!("REPLIED {number}"));
    }
}

pub(crate) async fn made(ctx: &Context, build: BuildId, number: u32) -> Issue {
    let facts = ctx.store.facts(build).await.unwrap();
    let contents = Contents::of(&facts, &Worked::of(&facts, ctx.clock.today()), number);
    let mut packet = format!("%PDF-1.7 round {number} of {build}").into_bytes();
    packet.resize(PACKET, b'.');
    Issue {
        key: format!("key {number}"),
        number,
        as_of: contents.as_of,
        contents: contents.canonical(),
        packet,
        reduced: String::new(),
    }
}

/// A reply with one question.
pub(crate) fn answer(round: &Round) -> NewReply {
    NewReply {
        round: round.number,
        packet_sha256: round.packet_sha256.clone(),
        decision: Decision::NotYet,
        released: Vec::new(),
        despite: None,
        words: "Seen.".to_owned(),
        given_by: "scrutineer".to_owned(),
        licence: String::new(),
        came: None,
        items: vec![(None, question(round.number))],
        conditions: Vec::new(),
        settles: Vec::new(),
        answers: None,
    }
}

fn question(round: u32) -> String {
    format!("What of round {round}?")
}

/// Every promise about rounds and replies that was broken, and every one of them that is there in part.
pub(crate) async fn broken(ctx: &Context, build: BuildId, promised: &Promised) -> Vec<String> {
    let mut broken = Vec::new();
    let rounds = ctx.store.rounds(build).await.unwrap();
    let signatures = ctx.store.round_signatures(build).await.unwrap();
    let log = ctx.store.log_of_build(build, 10_000).await.unwrap();
    let logged = |what: &str| log.iter().filter(|entry| entry.what.starts_with(what)).count();
    for (number, packet) in &promised.issued {
        if !rounds.iter().any(|round| round.number == *number && round.packet_sha256.text() == packet) {
            broken.push(format!("round {number} was issued and is not there"));
        }
    }
    for round in &rounds {
        let number = round.number;
        let packet = kept(&ctx.store, Item::Packet(round.packet_sha256.clone())).await.unwrap_or_default();
        if Fingerprint::of(&packet) != round.packet_sha256 {
            broken.push(format!("round {number} is there without its packet"));
        }
        let signed = signatures.iter().find(|one| one.round == round.id).map(|one| check(&packet, &one.signature));
        if !matches!(signed, Some(Checked::Unaltered { .. })) {
            broken.push(format!("round {number} is there without its signature: {signed:?}"));
        }
        if logged(&format!("Round {number} was issued")) != 1 {
            broken.push(format!("round {number} is not once in the log"));
        }
    }
    if logged("Round ") != rounds.len() {
        broken.push(format!("the log tells of {} rounds, there are {}", logged("Round "), rounds.len()));
    }
    let key = actions::shop::signing::standing(ctx).await.unwrap();
    if !key.keys.is_empty() && key.stands != Stands::AsRecorded {
        broken.push(format!("a key is recorded that is not there: {:?}", key.stands));
    }
    broken.extend(half_replies(ctx, build, promised, logged("The reply to round ")).await);
    broken
}

async fn half_replies(ctx: &Context, build: BuildId, promised: &Promised, logged: usize) -> Vec<String> {
    let mut broken = Vec::new();
    let facts = ctx.store.facts(build).await.unwrap();
    let of = |number: u32| {
        let round = facts.rounds.iter().find(|round| round.number == number);
        facts.replies.iter().filter(|reply| round.is_some_and(|round| round.id == reply.round)).count()
    };
    for number in &promised.replied {
        if of(*number) != 1 {
            broken.push(format!("the reply to round {number} was recorded and is there {} times", of(*number)));
        }
    }
    for round in &facts.rounds {
        let asked = facts.questions.iter().filter(|one| one.text == question(round.number)).count();
        if asked != of(round.number) {
            broken.push(format!(
                "round {} has {} replies and {asked} of their questions",
                round.number,
                of(round.number)
            ));
        }
    }
    if logged != facts.replies.len() {
        broken.push(format!("the log tells of {logged} replies, there are {}", facts.replies.len()));
    }
    broken
}
