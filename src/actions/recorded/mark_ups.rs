//! Drawing over a photograph, and rubbing out what was drawn; the photograph itself is never touched.

use serde_json::json;

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::domain::recorded::mark_ups::{Drawn, MarkUp, room_faults};
use crate::domain::recorded::photos::Photo;
use crate::domain::shop::people::Deed;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::BuildId;

const ROOM: &str = "photos";

/// Draws a mark over a photograph of this build.
pub async fn draw(ctx: &Context, build: BuildId, sha256: &Fingerprint, drawn: Drawn) -> Result<MarkUp, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    refuse(drawn.faults())?;
    let mut mark = MarkUp {
        sha256: sha256.clone(),
        number: 0,
        drawn,
        at: ctx.clock.now(),
        by: ctx.by.name.clone(),
        rubbed_out: None,
    };
    let places = [drawn.from, drawn.to].map(|place| [place.across.ratio(), place.down.ratio()]);
    let detail = json!({ "sha256": sha256, "shape": drawn.shape.word(), "places": places, "of": drawn.of });
    let entry = ctx.entry(ROOM, build, format!("Drawn over a photo: {}.", drawn.words()), detail);
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let photos = write.photos_of_content(build, &mark.sha256).await?;
                if !photos.iter().any(Photo::shows) {
                    return Err(ActionError::NotFound("photo"));
                }
                let there = write.mark_ups(build, &mark.sha256).await?;
                refuse(room_faults(&there))?;
                mark.number = there.iter().map(|mark| mark.number).max().unwrap_or_default() + 1;
                write.add_mark_up(build, &mark).await?;
                Ok((mark, Some(entry)))
            })
        })
        .await
}

/// Rubs a mark out: it is not shown any more, and stays among what was drawn, with who rubbed it out and when.
pub async fn rub_out(ctx: &Context, build: BuildId, sha256: &Fingerprint, number: u32) -> Result<(), ActionError> {
    ctx.allow(Deed::RecordWork)?;
    let (sha256, by) = (sha256.clone(), (ctx.clock.now(), ctx.by.name.clone()));
    let detail = json!({ "sha256": sha256, "mark": number });
    let entry = ctx.entry(ROOM, build, format!("Mark {number} over a photo was rubbed out."), detail);
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let there = write.mark_ups(build, &sha256).await?;
                let mark = there.into_iter().find(|mark| mark.number == number);
                let mark = mark.ok_or(ActionError::NotFound("mark"))?;
                let stood = write.rub_out(build, &MarkUp { rubbed_out: Some(by), ..mark }).await?;
                Ok(((), stood.then_some(entry)))
            })
        })
        .await
}
