//! Recording a weigh-in.

use serde_json::json;

use super::context::{Context, refuse};
use super::error::ActionError;
use crate::domain::ids::BuildId;
use crate::domain::people::Deed;
use crate::domain::weigh_in::{Reading, WeighIn};

/// Records what the pads said today.
pub async fn record(ctx: &Context, build: BuildId, reading: Reading) -> Result<WeighIn, ActionError> {
    ctx.allow(Deed::SetUpBuilds)?;
    refuse(reading.faults())?;
    let detail = json!({
        "left_front": reading.pads.left_front.text,
        "right_front": reading.pads.right_front.text,
        "left_rear": reading.pads.left_rear.text,
        "right_rear": reading.pads.right_rear.text,
        "resolution": reading.resolution.text,
        "total_kg": reading.pads.total().kg(),
        "conditions": reading.conditions,
    });
    let mut entry = ctx.entry("weigh_in", build, String::new(), detail);
    let mut weigh_in =
        WeighIn { id: ctx.clock.new_id().into(), number: 0, reading, day: ctx.clock.today(), by: ctx.by.name.clone() };
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                write.build(build).await?;
                weigh_in.number = write.next_weigh_in(build).await?;
                write.add_weigh_in(build, &weigh_in).await?;
                entry.what = format!("The car was weighed: W{}.", weigh_in.number);
                Ok((weigh_in, Some(entry)))
            })
        })
        .await
}
