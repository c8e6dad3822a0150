//! Recording seats, belts and bottles with what their labels show.

pub mod moves;

use serde_json::json;

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::domain::recorded::kit::KitItem;
use crate::domain::recorded::kit::NewItem;
use crate::domain::shop::people::Deed;
use crate::domain::words::ids::{BuildId, KitId};

const ROOM: &str = "kit";

/// Adds an item to a build.
pub async fn add(ctx: &Context, build: BuildId, new: NewItem) -> Result<KitItem, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    let mut item = new.numbered(ctx.clock.new_id().into(), 0, 1);
    refuse(item.faults(ctx.clock.today()))?;
    let mut entry = ctx.entry(ROOM, build, String::new(), json!({ "item": item }));
    let (at, by) = (ctx.clock.now(), ctx.by.name.clone());
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                write.build(build).await?;
                item.number = write.next_kit(build).await?;
                write.add_kit(build, &item, at, &by).await?;
                entry.what = format!("K{}, {}, was added.", item.number, item.item);
                Ok((item, Some(entry)))
            })
        })
        .await
}

/// Changes what is said of an item. `Stale` when somebody changed it since `version`; what it said before stays in the log.
pub async fn change(
    ctx: &Context,
    build: BuildId,
    id: KitId,
    version: i64,
    new: NewItem,
) -> Result<KitItem, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    refuse(new.clone().numbered(id, 1, version).faults(ctx.clock.today()))?;
    let mut entry = ctx.entry(ROOM, build, String::new(), json!({}));
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let before = write.kit_item(build, id).await?;
                if before.version != version {
                    return Err(ActionError::Stale { now: before.version });
                }
                let item = new.numbered(id, before.number, version + 1);
                write.change_kit(&item).await?;
                entry.what = format!("K{}, {}, was changed.", item.number, item.item);
                entry.detail = json!({ "before": before, "item": item });
                Ok((item, Some(entry)))
            })
        })
        .await
}
