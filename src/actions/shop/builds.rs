//! Beginning a build and editing what it is.

use serde_json::{Value, json};

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::domain::shop::builds::{Build, NewBuild, slug};
use crate::domain::shop::people::Deed;
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::BuildId;

const ROOM: &str = "builds";

/// Begins a build.
pub async fn begin(ctx: &Context, new: NewBuild) -> Result<Build, ActionError> {
    ctx.allow(Deed::SetUpBuilds)?;
    let new = trimmed(&new);
    refuse(new.faults())?;
    let id: BuildId = ctx.clock.new_id().into();
    let address = slug(&new.name);
    let entry = ctx.entry(ROOM, id, format!("{} was begun.", new.name), detail(&new));
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                if let Some(book) = new.book {
                    write.book(book).await?;
                }
                let build = write.add_build(id, &new, &address).await?;
                Ok((build, Some(entry)))
            })
        })
        .await
}

/// Edits a build that nobody else has saved since `version`. Its address stays.
pub async fn edit(ctx: &Context, id: BuildId, version: i64, new: NewBuild) -> Result<Build, ActionError> {
    ctx.allow(Deed::SetUpBuilds)?;
    let new = trimmed(&new);
    refuse(new.faults())?;
    let entry = ctx.entry(ROOM, id, format!("{} was edited.", new.name), detail(&new));
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let stands = write.build(id).await?;
                if stands.book.is_some() && stands.book != new.book {
                    let why = "A build keeps its edition until it is moved to another, with a reason.";
                    return Err(ActionError::Refused(vec![Fault::new("book", why)]));
                }
                if let Some(book) = new.book {
                    write.book(book).await?;
                }
                let build = write.edit_build(id, version, &new).await?;
                Ok((build, Some(entry)))
            })
        })
        .await
}

fn trimmed(new: &NewBuild) -> NewBuild {
    NewBuild { name: new.name.trim().to_owned(), about: new.about.trim().to_owned(), ..*new }
}

fn detail(new: &NewBuild) -> Value {
    json!({ "name": new.name, "about": new.about, "book": new.book, "event_day": new.event_day })
}
