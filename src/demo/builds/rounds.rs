//! Rounds of the demo: issued by the office, answered by the scrutineer.

use crate::actions::recorded::{packet, rounds};
use crate::demo::DemoError;
use crate::demo::house::{House, Past};
use crate::domain::derived::approving;
use crate::domain::recorded::rounds::NewReply;
use crate::domain::recorded::rounds::{Came, Decision, PacketSize, ReleaseRequest, Round, Wanted};
use crate::domain::shop::people::Role;
use crate::domain::words::ids::{Balloon, BuildId};
use crate::quantity::Units;

/// Makes the packet and issues it.
pub(super) async fn issue(house: &House, build: BuildId, past: Past, units: Units) -> Result<Round, DemoError> {
    let key = format!("demo round {}", past.days);
    // the photographs as they are kept for print
    let wanted = Wanted { release: ReleaseRequest::WholeCage, size: PacketSize::Twenty };
    Ok(packet::issue(&house.at(Role::Office, past)?, build, (&key, wanted), units, house.look()).await?)
}

/// Records the scrutineer's reply.
pub(super) async fn reply(
    house: &House,
    round: &Round,
    past: Past,
    (decision, words): (Decision, &str),
    items: Vec<(Option<Balloon>, String)>,
) -> Result<(), DemoError> {
    let mut reply = NewReply {
        round: round.number,
        packet_sha256: round.packet_sha256.clone(),
        decision,
        released: Vec::new(),
        despite: None,
        words: words.to_owned(),
        given_by: "the league's scrutineer".to_owned(),
        licence: String::new(),
        came: Some(Came::SignedIn),
        items,
        conditions: Vec::new(),
        settles: Vec::new(),
        answers: None,
    };
    let scrutineer = house.at(Role::Scrutineer, past)?;
    let open = rounds::still_open(&scrutineer, round.build, &reply).await?;
    if !open.is_empty() {
        reply.despite = Some((approving::fingerprint(&open), "I look at these at final inspection.".to_owned()));
    }
    rounds::reply(&scrutineer, round.build, reply).await?;
    Ok(())
}
