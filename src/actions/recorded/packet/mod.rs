//! Making the packet of a build, to look at or to issue.

mod size;

use std::collections::BTreeMap;

use size::{Fitted, Pictures, fitted};

use super::looking::Here;
use super::photos::Look;
use super::rounds;
use super::rounds::Issue;
use crate::actions::context::Context;
use crate::actions::error::ActionError;
use crate::actions::memory::Looked;
use crate::documents::packet::{Packet, Reduced, make};
use crate::documents::pdf::Jpeg;
use crate::domain::derived::contents::{Contents, Earlier};
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::recorded::photos::Photo;
use crate::domain::recorded::rounds::{ReleaseRequest, Round, Wanted};
use crate::domain::shop::people::Deed;
use crate::domain::shop::signing::RoundSignature;
use crate::domain::words::faults::Fault;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::BuildId;
use crate::domain::work::lowering::Plan;
use crate::quantity::Units;
use crate::store::vault::{Item, View};

/// Gathering again this often when the build moved meanwhile; then a person is asked.
const TRIES: u32 = 3;

struct Made {
    pdf: Vec<u8>,
    reduced: Option<Reduced>,
    contents: Contents,
}

/// What a packet asks, and how it is made.
#[derive(Clone, Copy)]
struct Gather<'a> {
    wanted: Wanted,
    units: Units,
    look: &'a Look,
    draft: bool,
}

/// The packet as it stands, marked as a draft.
pub async fn draft(
    ctx: &Context,
    build: BuildId,
    wanted: impl Into<Wanted>,
    units: Units,
    look: &Look,
) -> Result<Vec<u8>, ActionError> {
    ctx.allow(Deed::SeeBuilds)?;
    Ok(gathered(ctx, build, Gather { wanted: wanted.into(), units, look, draft: true }).await?.pdf)
}

/// Gathers everything, makes the packet and issues it as the next round; wholly or not at all. The same key gives the
/// same round.
pub async fn issue(
    ctx: &Context,
    build: BuildId,
    (key, wanted): (&str, impl Into<Wanted>),
    units: Units,
    look: &Look,
) -> Result<Round, ActionError> {
    ctx.allow(Deed::IssueRounds)?;
    // Pressed twice: the packet is made once.
    if let Some(round) = rounds::issued_under(ctx, build, key).await? {
        return Ok(round);
    }
    let gather = Gather { wanted: wanted.into(), units, look, draft: false };
    for _ in 1..TRIES {
        match issue_once(ctx, build, key, gather).await {
            Err(ActionError::Stale { .. }) => {}
            done => return done,
        }
    }
    issue_once(ctx, build, key, gather).await
}

async fn issue_once(ctx: &Context, build: BuildId, key: &str, gather: Gather<'_>) -> Result<Round, ActionError> {
    let Made { pdf, reduced, contents } = gathered(ctx, build, gather).await?;
    let issue = Issue {
        key: key.to_owned(),
        number: contents.round,
        as_of: contents.as_of,
        contents: contents.canonical(),
        packet: pdf,
        reduced: reduced.map(|reduced| reduced.describe()).unwrap_or_default(),
    };
    rounds::issue(ctx, build, issue).await
}

async fn gathered(ctx: &Context, build: BuildId, gather: Gather<'_>) -> Result<Made, ActionError> {
    let Gather { wanted, units, look, draft } = gather;
    let Looked { facts, found } = ctx.looked(build).await?;
    if facts.book.is_none() {
        return Err(ActionError::Held(
            "This vehicle is only logged: without a rule book there is no packet.".to_owned(),
        ));
    }
    let pictures = pictures(ctx, &facts, look).await?;
    let (day, clock, made_by) = (ctx.clock.today(), ctx.clock.clone(), ctx.by.name.clone());
    let work = move || {
        let next = facts.rounds.last().map_or(1, |round| round.number + 1);
        let mut contents = Contents::of(&facts, &found.worked, next);
        if wanted.release == ReleaseRequest::Lowering {
            contents.early = found.worked.lowering.as_ref().map(Plan::asks).unwrap_or_default();
            if contents.early.is_empty() {
                let why = "The lowering plan names no joint to release. Look at the plan first.";
                return Err(ActionError::Refused(vec![Fault::new("asks", why)]));
            }
        }
        let earlier = Earlier::of(&facts.rounds, &facts.replies, next);
        let of = |pictures: &Pictures, reduced: Option<Reduced>| {
            make(&Packet {
                facts: &facts,
                found: &found,
                contents: &contents,
                changes: &found.changes,
                earlier: &earlier,
                pictures,
                reduced,
                draft,
                made_by: &made_by,
                day,
                units,
                day_of: &|at| clock.day_of(at),
            })
        };
        fitted(&pictures, wanted.size, &of)
            .map(|Fitted { pdf, reduced }| Made { pdf, reduced, contents })
            .map_err(|error| ActionError::NotWorked(error.to_string()))
    };
    tokio::task::spawn_blocking(work).await.map_err(|error| ActionError::NotWorked(error.to_string()))?
}

/// The copies for print of every photograph that counts. A photograph that could not be shown when it came counts for
/// nothing, and its sheet says so; one that could be is promised, and without it there is no packet.
async fn pictures(ctx: &Context, facts: &BuildFacts, look: &Look) -> Result<Pictures, ActionError> {
    let shown = facts.photos.iter().filter(|photo| photo.shows());
    let once: BTreeMap<&Fingerprint, &Photo> = shown.map(|photo| (&photo.sha256, photo)).collect();
    let mut pictures = BTreeMap::new();
    for (name, photo) in once {
        let Some(here) = Here::recorded(ctx, photo) else { continue };
        let jpeg = match here.view_or_why(View::Print, look).await? {
            Ok(held) => Jpeg::of(held.bytes().await?).ok_or_else(String::new),
            Err(why) => Err(why),
        };
        pictures.insert(name.clone(), jpeg.map_err(|why| ActionError::Held(missing(ctx, photo, &why)))?);
    }
    Ok(pictures)
}

/// That the picture of a photograph cannot be had, and what to do.
fn missing(ctx: &Context, photo: &Photo, why: &str) -> String {
    let of = if photo.shot.is_empty() { "that answers no shot".to_owned() } else { format!("of {}", photo.shot) };
    let kept = photo.received.as_ref().map(|received| ctx.clock.minute_of(received.at)).unwrap_or_default();
    let name = photo.sha256.text().get(..16).unwrap_or_default();
    format!(
        "The photograph {of}, by {}, kept {kept} ({name}…), cannot be shown now, so there is no packet without it. {why} \
         Bring its file back from a backup, or take it again and withdraw this one with the reason.",
        photo.by
    )
}

/// The signature of a round's packet; none of a round that was issued before packets were signed.
pub async fn signature(ctx: &Context, build: BuildId, number: u32) -> Result<Option<RoundSignature>, ActionError> {
    ctx.allow(Deed::SeeRounds)?;
    let rounds = ctx.store.rounds(build).await?;
    let round = rounds.iter().find(|round| round.number == number).ok_or(ActionError::NotFound("round"))?;
    let all = ctx.store.round_signatures(build).await?;
    Ok(all.into_iter().find(|one| one.round == round.id))
}

/// How long a round's packet is, in bytes.
pub async fn length(ctx: &Context, round: &Round) -> Result<u64, ActionError> {
    ctx.allow(Deed::SeeRounds)?;
    let packet = ctx.store.vault().get(&Item::Packet(round.packet_sha256.clone())).await?;
    Ok(packet.ok_or(ActionError::NotFound("packet"))?.length())
}

/// A round's packet as it was issued, byte for byte.
pub async fn issued(ctx: &Context, build: BuildId, number: u32) -> Result<(Round, Vec<u8>), ActionError> {
    ctx.allow(Deed::SeeRounds)?;
    let rounds = ctx.store.rounds(build).await?;
    let round = rounds.into_iter().find(|round| round.number == number).ok_or(ActionError::NotFound("round"))?;
    let packet = ctx.store.vault().get(&Item::Packet(round.packet_sha256.clone())).await?;
    let bytes = packet.ok_or(ActionError::NotFound("packet"))?.bytes().await?;
    Ok((round, bytes))
}
