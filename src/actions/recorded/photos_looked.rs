//! Looking at a photograph at the desk, and saying so.

use serde_json::json;

use crate::actions::context::Context;
use crate::actions::error::ActionError;
use crate::domain::recorded::photos::LookedAt;
use crate::domain::shop::people::Deed;
use crate::domain::words::ids::{BuildId, CaptureId};

/// Says that a kept photograph was looked at where it stands. Said twice, the first stands.
pub async fn look_at(ctx: &Context, build: BuildId, capture: CaptureId) -> Result<(), ActionError> {
    ctx.allow(Deed::LookOver)?;
    let (at, by) = (ctx.clock.now(), ctx.by.name.clone());
    let mut entry = ctx.entry("photos", build, String::new(), json!({}));
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let photo = write.photo(capture).await?.filter(|photo| photo.build == build && photo.kept());
                let photo = photo.ok_or(ActionError::NotFound("photo"))?;
                if write.is_looked(&photo).await? {
                    return Ok(((), None));
                }
                let where_it_is =
                    if photo.shot.is_empty() { "unassigned".to_owned() } else { format!("at {}", photo.shot) };
                entry.what = format!("The photo {where_it_is} was looked at.");
                entry.detail = json!({ "capture": capture, "shot": photo.shot, "sha256": photo.sha256 });
                write.add_looked(&LookedAt { capture, shot: photo.shot, at, by }).await?;
                Ok(((), Some(entry)))
            })
        })
        .await
}
