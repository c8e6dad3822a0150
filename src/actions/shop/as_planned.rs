//! Taking a stick of the cut plan down as cut: all its bars at once, each from that stick.

use serde_json::json;

use super::stock;
use crate::actions::context::Context;
use crate::actions::error::ActionError;
use crate::domain::shop::people::Deed;
use crate::domain::shop::stock::{BarCut, Cut, Stick, Taken};
use crate::domain::words::ids::{Balloon, BuildId};
use crate::domain::work::cut_plan::{AsPlanned, Ground, NotAsPlanned};
use crate::store::Entry;

/// What became of a stick of the plan.
#[derive(Debug, Clone, PartialEq)]
pub enum Recorded {
    /// Every bar of it has its cut; these were added now.
    All(Vec<Balloon>),
    /// None was added, and why.
    Nothing(NotAsPlanned),
}

/// So many times the records are read again when somebody wrote between reading and writing.
const TRIES: usize = 8;

/// What is written down.
struct ToWrite {
    stick: Stick,
    bars: Vec<Balloon>,
    cuts: Vec<(Cut, Entry)>,
}

/// Records that a stick of the plan was cut as it was shown: every bar of it that has no cut yet, in one change. A stick
/// from the rack is given to the build with it. When anything is another than was shown nothing is recorded.
pub async fn take(ctx: &Context, build: BuildId, planned: &AsPlanned) -> Result<Recorded, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    let mut last = ActionError::Stale { now: 0 };
    for _ in 0..TRIES {
        let read_at = ctx.store.log(1).await?.first().map_or(0, |entry| entry.number);
        let to_write = match read(ctx, build, planned).await? {
            Ok(to_write) if to_write.bars.is_empty() => return Ok(Recorded::All(Vec::new())),
            Ok(to_write) => to_write,
            Err(why) => return Ok(Recorded::Nothing(why)),
        };
        let bars = to_write.bars.clone();
        match write(ctx, build, read_at, to_write).await {
            Ok(()) => return Ok(Recorded::All(bars)),
            Err(stale @ ActionError::Stale { .. }) => last = stale,
            Err(other) => return Err(other),
        }
    }
    Err(last)
}

/// The cuts to add, by the records as they are now.
async fn read(
    ctx: &Context,
    build: BuildId,
    planned: &AsPlanned,
) -> Result<Result<ToWrite, NotAsPlanned>, ActionError> {
    let sticks = ctx.store.sticks().await?;
    let stick = sticks.into_iter().find(|stick| stick.id == planned.stick).ok_or(ActionError::NotFound("stick"))?;
    let saw = ctx.store.saw().await?.unwrap_or_default();
    let all = ctx.looked_at_all().await?;
    let own = all.iter().find(|looked| looked.facts.build.id == build).ok_or(ActionError::NotFound("build"))?;
    let worked = &own.found.worked;
    let ground = Ground { facts: &own.facts, cage: &worked.cage, saw: &saw, tube_settled: worked.tubes_asked };
    let of_all =
        all.iter().flat_map(|looked| looked.facts.cuts.iter().map(|cut| (looked.facts.build.id == build, cut)));
    let bars = match planned.open(ground, &stick, &of_all.collect::<Vec<_>>()) {
        Ok(bars) => bars,
        Err(why) => return Ok(Err(why)),
    };
    let one = |bar: &Balloon| {
        let taken = worked.cage.member(*bar).map(|member| Taken::of(member, &saw));
        let (cut, _, mut entry) = stock::cut(ctx, build, BarCut { member: *bar, stick: stick.id, again: false }, taken);
        entry.what = format!("{bar} was cut from {}, as planned.", stick.describe_number());
        (cut, entry)
    };
    let cuts = bars.iter().map(one).collect();
    Ok(Ok(ToWrite { stick, bars, cuts }))
}

/// Writes them, when nobody wrote anything since the records were read.
async fn write(ctx: &Context, build: BuildId, read_at: i64, to_write: ToWrite) -> Result<(), ActionError> {
    let ToWrite { stick, cuts, .. } = to_write;
    let given = ctx.entry(stock::ROOM, build, String::new(), json!({ "stick": stick.id }));
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let now = write.entry_to_come().await? - 1;
                if now != read_at {
                    return Err(ActionError::Stale { now });
                }
                if stick.given_to.is_none() {
                    let to = write.build(build).await?.name;
                    write.give_stick(stick.id, Some(build)).await?;
                    write
                        .log(Entry { what: format!("{} was given to {to}.", stick.describe_number()), ..given })
                        .await?;
                }
                for (cut, entry) in cuts {
                    write.add_cut(build, &cut).await?;
                    write.log(entry).await?;
                }
                Ok(((), None))
            })
        })
        .await
}
