//! Moving an item of kit from one car to another.

use serde_json::json;

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::domain::recorded::kit::KitItem;
use crate::domain::recorded::kit::moves::Moving;
use crate::domain::shop::people::Deed;
use crate::domain::words::ids::{BuildId, KitId};

const ROOM: &str = "kit";

/// Moves an item on: its row stays where it was, and it goes on under the next number of the other car. Both cars' logs
/// say so. `Stale` when somebody changed the item since `version`.
pub async fn move_on(
    ctx: &Context,
    build: BuildId,
    (id, version): (KitId, i64),
    moving: Moving,
) -> Result<KitItem, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    let moving = Moving { why: moving.why.trim().to_owned(), ..moving };
    let (clock, at, by) = (ctx.clock.clone(), ctx.clock.now(), ctx.by.name.clone());
    let new: KitId = ctx.clock.new_id().into();
    let mut went = ctx.entry(ROOM, build, String::new(), json!({}));
    let mut came = ctx.entry(ROOM, moving.to, String::new(), json!({}));
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let (here, there) = (write.build(build).await?.name, write.build(moving.to).await?.name);
                let item = write.kit_item(build, id).await?;
                if item.version != version {
                    return Err(ActionError::Stale { now: item.version });
                }
                let (day, recorded) = write.kit_since(id).await?;
                let since = day.unwrap_or_else(|| clock.day_of(recorded));
                refuse(moving.faults(build, since, clock.today()))?;
                let number = write.next_kit(moving.to).await?;
                let arrived = KitItem { id: new, number, version: 1, ..item.clone() };
                write.add_kit(moving.to, &arrived, at, &by).await?;
                write.add_kit_move((id, new), &moving, at, &by).await?;
                let (day, why) = (moving.day, &moving.why);
                went.what = format!("K{}, {}, went to {there} on {day}, as K{number}: {why}", item.number, item.item);
                came.what = format!("K{number}, {}, came from {here} on {day}, as K{}: {why}", item.item, item.number);
                let detail = json!({ "from": here, "was": item, "to": there, "is": arrived, "day": day, "why": why });
                went.detail = detail.clone();
                came.detail = detail;
                write.also(came).await?;
                Ok((arrived, Some(went)))
            })
        })
        .await
}
