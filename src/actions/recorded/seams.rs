//! Stating how the shop welds, for the estimate of wire and time.

use serde_json::json;

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::domain::shop::people::Deed;
use crate::domain::work::seams::Rates;
use crate::store::Stated;

/// States how the shop welds; the newest counts, for all builds. `Stale` where somebody stated otherwise than what was before
/// the writer, the statement `over`.
pub async fn state(ctx: &Context, rates: Rates, over: Option<i64>) -> Result<(), ActionError> {
    ctx.allow(Deed::RecordWork)?;
    refuse(rates.faults())?;
    let what = format!("How the shop welds was stated: leg {}, wire {}.", rates.leg.text, rates.wire.text);
    let entry = ctx.shop_entry("seams", what, json!(rates));
    let (at, by) = (ctx.clock.now(), ctx.by.name.clone());
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                write.states_over(Stated::WeldRates, over).await?;
                write.add_weld_rates(&rates, at, &by).await?;
                Ok(((), Some(entry)))
            })
        })
        .await
}
