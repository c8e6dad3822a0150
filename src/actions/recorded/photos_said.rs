//! Saying something of a photograph on the walk: that it is kept although something was remarked, what is seen in it.

use serde_json::json;

use crate::actions::context::Context;
use crate::actions::error::ActionError;
use crate::domain::recorded::photos::{PhotoSaid, Statement};
use crate::domain::shop::people::Deed;
use crate::domain::words::ids::{BuildId, CaptureId};
use crate::domain::words::limits;

/// Says this of a photograph where it stands; what was said of it before stays as it was said. A photograph that is not the
/// build's, or was withdrawn, is not found.
///
/// # Errors
/// [`ActionError::NotFound`]; [`ActionError::Refused`] for words that are too long.
pub async fn say(
    ctx: &Context,
    build: BuildId,
    capture: CaptureId,
    statements: Vec<Statement>,
) -> Result<(), ActionError> {
    ctx.allow(Deed::RecordWork)?;
    let too_long = statements.iter().flat_map(|one| limits::text_faults("words", one.parts().1)).collect::<Vec<_>>();
    if !too_long.is_empty() {
        return Err(ActionError::Refused(too_long));
    }
    let (at, by) = (ctx.clock.now(), ctx.by.name.clone());
    let mut entry = ctx.entry("photos", build, String::new(), json!({}));
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let photo = write.photo(capture).await?;
                let photo = photo.filter(|photo| photo.build == build && photo.withdrawn.is_none());
                let photo = photo.ok_or(ActionError::NotFound("photo"))?;
                let mut new = Vec::new();
                for said in statements {
                    let one = PhotoSaid { capture, shot: photo.shot.clone(), said, at, by: by.clone() };
                    if !new.contains(&one) && !write.is_said(&one).await? {
                        new.push(one);
                    }
                }
                for one in &new {
                    write.add_said(one).await?;
                }
                if new.is_empty() {
                    return Ok(((), None));
                }
                let place = if photo.shot.is_empty() { "unassigned".to_owned() } else { format!("at {}", photo.shot) };
                entry.what = format!("Of the photo {place}: {}.", described(&new));
                entry.detail = json!({ "capture": capture, "sha256": photo.sha256, "said": new });
                Ok(((), Some(entry)))
            })
        })
        .await
}

fn described(new: &[PhotoSaid]) -> String {
    let one = |said: &PhotoSaid| match &said.said {
        Statement::KeptSo(remark) => format!("kept so, “{remark}”"),
        Statement::Seen(what) => format!("seen, {what}"),
    };
    new.iter().map(one).collect::<Vec<_>>().join("; ")
}
