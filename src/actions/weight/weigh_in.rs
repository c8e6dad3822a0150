//! Recording a weigh-in.

use serde_json::json;

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::actions::memory::Looked;
use crate::domain::shop::people::Deed;
use crate::domain::weight::forecast::Forecast;
use crate::domain::weight::weigh_in::{Loads, Reading, WeighIn};
use crate::domain::words::ids::BuildId;

/// What is foreseen until now: it is frozen with the weighing of the finished car.
async fn forecast(ctx: &Context, build: BuildId) -> Result<Option<Forecast>, ActionError> {
    let Looked { facts, found } = ctx.looked(build).await?;
    let newest = facts.weigh_ins.first().zip(found.worked.foreseen.as_ref());
    Ok(newest.and_then(|(newest, foreseen)| Forecast::of(newest, &facts.foreseen, foreseen)))
}

/// Records what the scale showed today; with the cage in the car, what was foreseen is kept beside it.
pub async fn record(ctx: &Context, build: BuildId, reading: Reading) -> Result<WeighIn, ActionError> {
    ctx.allow(Deed::SetUpBuilds)?;
    refuse(reading.faults())?;
    let typed = match &reading.loads {
        Loads::Pads(pads) => json!({
            "left_front": pads.left_front.text,
            "right_front": pads.right_front.text,
            "left_rear": pads.left_rear.text,
            "right_rear": pads.right_rear.text,
        }),
        Loads::Whole(total) => json!({ "total": total.text }),
    };
    let detail = json!({
        "typed": typed,
        "resolution": reading.resolution.text,
        "total_kg": reading.total().kg(),
        "conditions": reading.conditions,
        "scale": reading.scale,
        "paper": reading.paper,
        "cage_in": reading.cage_in,
        "again": reading.again.iter().map(|again| &again.text).collect::<Vec<_>>(),
        "stood": reading.stood,
    });
    let forecast = if reading.cage_in { forecast(ctx, build).await? } else { None };
    let mut entry = ctx.entry("weigh_in", build, String::new(), detail);
    let mut weigh_in =
        WeighIn { id: ctx.clock.new_id().into(), number: 0, reading, day: ctx.clock.today(), by: ctx.by.name.clone() };
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                write.build(build).await?;
                weigh_in.number = write.next_weigh_in(build).await?;
                if let Some(forecast) = forecast {
                    // Somebody may have weighed meanwhile; what was foreseen says itself from which weigh-in it is.
                    let forecast = Forecast { weigh_in: weigh_in.number, ..forecast };
                    write.add_forecast(build, &forecast).await?;
                    if let Some(detail) = entry.detail.as_object_mut() {
                        detail.insert("foreseen".to_owned(), json!(forecast));
                    }
                }
                write.add_weigh_in(build, &weigh_in).await?;
                entry.what = format!("The car was weighed: W{}.", weigh_in.number);
                Ok((weigh_in, Some(entry)))
            })
        })
        .await
}
