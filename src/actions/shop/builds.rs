//! Beginning a build and editing what it is.

use serde_json::{Value, json};

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::domain::book::read;
use crate::domain::shop::builds::{Build, NewBuild, slug};
use crate::domain::shop::people::Deed;
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::{BookId, BuildId};
use crate::store::Write;

const ROOM: &str = "builds";

/// Where the fault stands that a build has this name already.
pub const TWIN: &str = "another";

/// Begins a build. A name that another has already, however it is spelt, is refused at [`TWIN`].
pub async fn begin(ctx: &Context, new: NewBuild) -> Result<Build, ActionError> {
    begin_as(ctx, new, false).await
}

/// Begins a build that somebody says is another car than the one of the same name.
pub async fn begin_another(ctx: &Context, new: NewBuild) -> Result<Build, ActionError> {
    begin_as(ctx, new, true).await
}

async fn begin_as(ctx: &Context, new: NewBuild, another: bool) -> Result<Build, ActionError> {
    ctx.allow(Deed::SetUpBuilds)?;
    let new = trimmed(&new);
    refuse(new.faults())?;
    let id: BuildId = ctx.clock.new_id().into();
    let entry = ctx.entry(ROOM, id, format!("{} was begun.", new.name), detail(&new));
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let build = added(write, id, &new, another).await?;
                Ok((build, Some(entry)))
            })
        })
        .await
}

/// Adds a build, in a change that does more; `another` where somebody says that it is another car than the one of its name.
pub(super) async fn added(write: &mut Write, id: BuildId, new: &NewBuild, another: bool) -> Result<Build, ActionError> {
    if let Some(twin) = write.build_called(&new.name).await?.filter(|_| !another) {
        return Err(ActionError::Refused(vec![twin_fault(&twin)]));
    }
    if let Some(book) = new.book {
        write.book(book).await?;
    }
    Ok(write.add_build(id, new, &slug(&new.name)).await?)
}

/// What is said of a name that a build has already.
pub(super) fn twin_fault(twin: &Build) -> Fault {
    let about = if twin.about.is_empty() { String::new() } else { format!(": {}", twin.about) };
    Fault::new(TWIN, format!("A build is called {} already{about}. Say whether this is another car.", twin.name))
}

/// Gives a build that has none its first book. A build that has one is moved instead.
pub async fn take_book(ctx: &Context, id: BuildId, book: BookId) -> Result<Build, ActionError> {
    ctx.allow(Deed::SetUpBuilds)?;
    let build = ctx.store.build(id).await?.ok_or(ActionError::NotFound("build"))?;
    let text = ctx.store.book(book).await?.ok_or(ActionError::NotFound("rule book"))?.toml;
    if read(&text).is_err() {
        let why = "This edition's text does not read with this program: nothing would be judged by it.";
        return Err(ActionError::Refused(vec![Fault::new("to", why)]));
    }
    let new = NewBuild { name: build.name, about: build.about, book: Some(book), event_day: build.event_day };
    edit(ctx, id, build.version, new).await
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

pub(super) fn trimmed(new: &NewBuild) -> NewBuild {
    NewBuild { name: new.name.trim().to_owned(), about: new.about.trim().to_owned(), ..*new }
}

pub(super) fn detail(new: &NewBuild) -> Value {
    json!({ "name": new.name, "about": new.about, "book": new.book, "event_day": new.event_day })
}
