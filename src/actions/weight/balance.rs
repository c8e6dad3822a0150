//! Recording where a car's wheels stand.

use serde_json::json;

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::domain::shop::people::Deed;
use crate::domain::weight::balance::Wheels;
use crate::domain::words::ids::BuildId;

/// Records where a build's wheels stand; the newest counts.
pub async fn record(ctx: &Context, build: BuildId, wheels: Wheels) -> Result<(), ActionError> {
    ctx.allow(Deed::SetUpBuilds)?;
    refuse(wheels.faults())?;
    let what = format!("Where the wheels stand was measured: wheelbase {}.", wheels.wheelbase.text);
    let entry = ctx.entry("balance", build, what, json!(wheels));
    let (at, by) = (ctx.clock.now(), ctx.by.name.clone());
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                write.build(build).await?;
                write.add_wheels(build, &wheels, at, &by).await?;
                Ok(((), Some(entry)))
            })
        })
        .await
}
