//! Setting from when on a photograph is called blurred, dark, washed out or nearly the same as another.

use serde_json::json;

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::domain::shop::looks::Bounds;
use crate::domain::shop::people::Deed;

/// Sets the bounds for the photographs that come from now on; what was said of those before stays.
pub async fn set_bounds(ctx: &Context, bounds: Bounds) -> Result<(), ActionError> {
    ctx.allow(Deed::RunShop)?;
    refuse(bounds.faults())?;
    let what = "It was set from when on a photo is called blurred, dark, washed out or nearly the same.".to_owned();
    let entry = ctx.shop_entry("photos", what, json!(bounds));
    let (at, by) = (ctx.clock.now(), ctx.by.name.clone());
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                if write.look_bounds().await? == bounds {
                    return Ok(((), None));
                }
                write.set_look_bounds(&bounds, at, &by).await?;
                Ok(((), Some(entry)))
            })
        })
        .await
}
