//! Recording what is known of how far a scale may be off.

use serde_json::json;

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::domain::shop::people::Deed;
use crate::domain::weight::scale_paper::{Filed, NewPaper, Paper};
use crate::domain::words::ids::BuildId;

/// Records a scale's class or certificate for a build.
pub async fn record(ctx: &Context, build: BuildId, new: NewPaper) -> Result<Filed, ActionError> {
    ctx.allow(Deed::SetUpBuilds)?;
    let new = NewPaper { name: new.name.trim().to_owned(), number: new.number.trim().to_owned(), ..new };
    refuse(new.faults(ctx.clock.today()))?;
    let NewPaper { name, number, checked, accuracy } = new;
    let paper = Paper { place: 0, name, number, checked, accuracy };
    let what = format!("A scale's paper was recorded: {}.", paper.describe());
    let entry = ctx.entry("weigh_in", build, what, json!(paper));
    let mut filed = Filed { paper, recorded: ctx.clock.now(), by: ctx.by.name.clone() };
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                write.build(build).await?;
                filed.paper.place = write.scale_papers(build).await?.last().map_or(1, |last| last.paper.place + 1);
                write.add_scale_paper(build, &filed).await?;
                Ok((filed, Some(entry)))
            })
        })
        .await
}
