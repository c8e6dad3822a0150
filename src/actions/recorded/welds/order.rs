//! Setting the order in which a cage is welded, or having it as suggested again.

use serde_json::json;

use super::ROOM;
use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::domain::recorded::welds::order::{WeldOrder, faults};
use crate::domain::shop::people::Deed;
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::{Balloon, BuildId};
use crate::domain::work::weld_order::all;

/// Sets the order; none has it as suggested. `seen` is the version that was changed, 0 before the first: `Stale` where somebody
/// else changed it since, and nothing is set.
///
/// # Errors
/// `NotAllowed`; `Refused` at `order`; `Stale`.
pub async fn set(
    ctx: &Context,
    build: BuildId,
    seen: i64,
    joints: Option<Vec<Balloon>>,
) -> Result<WeldOrder, ActionError> {
    ctx.allow(Deed::OrderWelds)?;
    refuse(faults(joints.as_deref().unwrap_or_default()))?;
    let looked = ctx.looked(build).await?;
    let seams = all(&looked.found.worked.cage, &looked.facts.welds);
    if let Some(gone) = joints.iter().flatten().find(|joint| !seams.iter().any(|seam| seam.at == **joint)) {
        let why = format!("{gone} is no joint and no foot of this cage any more. Open the sheet again.");
        return Err(ActionError::Refused(vec![Fault::new("order", why)]));
    }
    let what = match &joints {
        Some(joints) => {
            let names: Vec<String> = joints.iter().map(ToString::to_string).collect();
            format!("The order of welding was set: {}.", names.join(", "))
        }
        None => "The order of welding is as suggested again.".to_owned(),
    };
    let entry = ctx.entry(ROOM, build, what, json!({ "before": seen, "joints": joints }));
    let (at, by) = (ctx.clock.now(), ctx.by.name.clone());
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                write.build(build).await?;
                let stands = write.weld_order(build).await?;
                let now = stands.as_ref().map_or(0, |order| order.version);
                // pressed twice, or what two people want alike: it is set once
                if let Some(same) = stands.filter(|order| order.joints == joints) {
                    return Ok((same, None));
                }
                if now != seen {
                    return Err(ActionError::Stale { now });
                }
                let order = WeldOrder { version: now + 1, joints, at, by };
                write.add_weld_order(build, &order).await?;
                Ok((order, Some(entry)))
            })
        })
        .await
}
