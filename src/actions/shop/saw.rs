//! Stating how the shop cuts its tube, for the cut plan.

use serde_json::json;

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::domain::shop::people::Deed;
use crate::domain::shop::saw::Saw;
use crate::store::Stated;

/// States how the shop cuts its tube; the newest counts, for all builds. `Stale` where somebody stated otherwise than what was
/// before the writer, the statement `over`.
pub async fn state(ctx: &Context, saw: Saw, over: Option<i64>) -> Result<(), ActionError> {
    ctx.allow(Deed::RecordWork)?;
    refuse(saw.faults())?;
    let what = format!("How the shop cuts its tube was stated: kerf {}, sticks of {}.", saw.kerf.text, saw.buy.text);
    let entry = ctx.shop_entry("cuts", what, json!(saw));
    let (at, by) = (ctx.clock.now(), ctx.by.name.clone());
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                write.states_over(Stated::Saw, over).await?;
                write.add_saw(&saw, at, &by).await?;
                Ok(((), Some(entry)))
            })
        })
        .await
}
