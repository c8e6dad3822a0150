//! Listing what goes into a weighed car and comes out of it, and taking it back.

use serde_json::json;

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::domain::shop::people::Deed;
use crate::domain::weight::carried::{Listed, Thing};
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::BuildId;
use crate::domain::words::limits;

/// Lists a thing that goes in or comes out.
pub async fn add(ctx: &Context, build: BuildId, thing: Thing) -> Result<Listed, ActionError> {
    ctx.allow(Deed::SetUpBuilds)?;
    let thing = Thing { name: thing.name.trim().to_owned(), ..thing };
    refuse(thing.faults())?;
    let what = format!("Foreseen: {}.", thing.describe());
    let entry = ctx.entry("foreseen", build, what, json!(thing));
    let (added, by) = (ctx.clock.now(), ctx.by.name.clone());
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                write.build(build).await?;
                if write.foreseen(build).await?.len() >= limits::CARRIED_THINGS {
                    let why = format!(
                        "{} things are listed already. Take some back, or sum small ones up.",
                        limits::CARRIED_THINGS
                    );
                    return Err(ActionError::Refused(vec![Fault::new("thing", why)]));
                }
                let (place, weigh_in) = write.next_foreseen(build).await?;
                let listed = Listed { place, thing, weigh_in, added, by };
                write.add_foreseen(build, &listed).await?;
                Ok((listed, Some(entry)))
            })
        })
        .await
}

/// Takes everything off the list that was listed before the newest weighing: the scale has it now. The log says what it was.
pub async fn take_back_weighed(ctx: &Context, build: BuildId) -> Result<(), ActionError> {
    ctx.allow(Deed::SetUpBuilds)?;
    let at = ctx.clock.now();
    let mut entry = ctx.entry("foreseen", build, String::new(), json!({}));
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let newest = write.next_weigh_in(build).await? - 1;
                let listed = write.foreseen(build).await?;
                let weighed = listed.into_iter().filter(|listed| listed.before(newest));
                let weighed: Vec<Listed> = weighed.collect();
                if weighed.is_empty() {
                    return Ok(((), None));
                }
                for listed in &weighed {
                    write.take_back_foreseen(build, listed.place, at).await?;
                }
                let things: Vec<String> = weighed.iter().map(|listed| listed.thing.describe()).collect();
                entry.what = format!("Taken back, as W{newest} has them: {}.", things.join("; "));
                let was: Vec<&Thing> = weighed.iter().map(|listed| &listed.thing).collect();
                entry.detail = json!({ "weigh_in": newest, "was": was });
                Ok(((), Some(entry)))
            })
        })
        .await
}

/// Takes a thing off the list; the log says what it was.
pub async fn take_back(ctx: &Context, build: BuildId, place: u32) -> Result<(), ActionError> {
    ctx.allow(Deed::SetUpBuilds)?;
    let at = ctx.clock.now();
    let mut entry = ctx.entry("foreseen", build, String::new(), json!({ "place": place }));
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let listed = write.foreseen(build).await?;
                let thing = listed.into_iter().find(|listed| listed.place == place);
                let thing = thing.ok_or(ActionError::NotFound("thing on the list"))?.thing;
                write.take_back_foreseen(build, place, at).await?;
                entry.what = format!("Taken back: {}.", thing.describe());
                entry.detail = json!({ "place": place, "was": thing });
                Ok(((), Some(entry)))
            })
        })
        .await
}
