//! Beginning a build by another car's file: the same shell, a new car. What was decided of the cage is taken over; its figures
//! lie beside until somebody states them of this car; all else of that car stays in its file.

use std::io::Read;

use serde_json::json;

use super::fault_of;
use super::loading::whole_of;
use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::actions::shop::builds::{added, detail, trimmed, twin_fault};
use crate::actions::shop::signing::fingerprint;
use crate::domain::cage::CageRecord;
use crate::domain::recorded::car_file::CarFault;
use crate::domain::recorded::car_file::pattern::{Pattern, parted};
use crate::domain::recorded::facts::CageText;
use crate::domain::shop::builds::{Build, NewBuild, known_by};
use crate::domain::shop::people::Deed;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::{BookId, BuildId};

const ROOM: &str = "builds";

/// To which book the new build is begun.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BookFor {
    /// The very text that the file's car was built to, where this shop has it; else none.
    TheSame,
    /// One of the shop's own, or none.
    This(Option<BookId>),
}

/// What is said of the build that is begun.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewByPattern {
    /// Its name in the shop.
    pub name: String,
    /// Its book.
    pub book: BookFor,
    /// Whether somebody says that it is another car than the one that has this name already.
    pub another: bool,
}

/// A build that was begun by a car's file.
#[derive(Debug, Clone, PartialEq)]
pub struct Begun {
    /// The build.
    pub build: Build,
    /// By what.
    pub pattern: Pattern,
}

/// Begins a build by a car's file. The name is looked at before the file is read; nothing of the shop is changed before the whole
/// of it was read and tried out as if it were loaded.
///
/// # Errors
/// `NotAllowed`; `Refused` at `name`, at [`TWIN`](crate::actions::shop::builds::TWIN), or at [`super::FILE`] with what is wrong with
/// the file, or that no cage is recorded in it; `Store` where the disk has no room.
pub async fn begin_by(
    ctx: &Context,
    new: NewByPattern,
    from: impl Read + Send + 'static,
    tell: impl Fn(u64) + Send + Sync + 'static,
) -> Result<Begun, ActionError> {
    ctx.allow(Deed::RunShop)?;
    ctx.allow(Deed::SetUpBuilds)?;
    let NewByPattern { name, book, another } = new;
    let new = trimmed(&NewBuild { name, about: String::new(), book: None, event_day: None });
    refuse(new.faults())?;
    let twin = ctx.store.builds().await?.into_iter().find(|build| known_by(&build.name) == known_by(&new.name));
    refuse(twin.filter(|_| !another).iter().map(twin_fault).collect())?;
    let (tried, public) = whole_of(ctx, from, tell).await?;
    let (manifest, list) = (&tried.whole.manifest, Fingerprint::of(tried.whole.list.as_bytes()));
    let unread = |why: String| fault_of(&CarFault::Records(why));
    let Some(cage) = tried.facts.cage.as_ref().map(CageText::record).transpose().map_err(unread)? else {
        let none = "no cage is recorded in it, so that there is nothing to begin by".to_owned();
        return Err(fault_of(&CarFault::Records(none)));
    };
    let book = match (book, &tried.facts.book) {
        (BookFor::This(book), _) => book,
        (BookFor::TheSame, None) => None,
        (BookFor::TheSame, Some(of)) => {
            ctx.store.books().await?.into_iter().find(|book| book.toml == of.toml).map(|book| book.id)
        }
    };
    let (decided, figures) = parted(cage);
    let (car, at, by) = (manifest.name.clone(), ctx.clock.now(), ctx.by.name.clone());
    begun(ctx, NewBuild { book, ..new }, another, decided, Pattern { car, list, public, at, by, figures }).await
}

/// Puts build, cage and pattern into the shop, in one change.
async fn begun(
    ctx: &Context,
    new: NewBuild,
    another: bool,
    decided: CageRecord,
    pattern: Pattern,
) -> Result<Begun, ActionError> {
    refuse(decided.faults())?;
    let text =
        |record: &CageRecord| serde_json::to_string(record).map_err(|error| ActionError::NotWorked(error.to_string()));
    let (cage, figures) = (text(&decided)?, text(&pattern.figures)?);
    let id: BuildId = ctx.clock.new_id().into();
    let what = format!(
        "{} was begun by the car's file of {} as a pattern: SHA-256 of its list {}, signed by the key {}. What was chosen of the \
         cage was taken over; no figure of that car was measured on this one.",
        new.name,
        pattern.car,
        pattern.list,
        fingerprint(&pattern.public)
    );
    let mut about = detail(&new);
    if let Some(about) = about.as_object_mut() {
        let by = json!({ "car": pattern.car, "list": pattern.list, "public": pattern.public,
            "figures": Fingerprint::of(figures.as_bytes()), "cage": Fingerprint::of(cage.as_bytes()) });
        about.insert("pattern".to_owned(), by);
    }
    let entry = ctx.entry(ROOM, id, what, about);
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let build = added(write, id, &new, another).await?;
                write.save_cage(id, 0, &cage, &entry).await?;
                write.add_pattern(id, &pattern, &figures).await?;
                Ok((Begun { build, pattern }, Some(entry)))
            })
        })
        .await
}
