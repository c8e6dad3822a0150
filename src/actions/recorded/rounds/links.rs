//! Links by which a round is read and answered without a sign-in: making one, withdrawing it, and what one leads to.

use jiff::Timestamp;
use serde_json::json;

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::actions::memory::Memory;
use crate::actions::secrets;
use crate::clock::Clock;
use crate::domain::recorded::rounds::links::{NewReadingLink, ReadingLink};
use crate::domain::shop::builds::Build;
use crate::domain::shop::people::{Deed, Person, Role};
use crate::domain::words::ids::{BuildId, LinkId};
use crate::store::Store;

/// So many links to a build's rounds can be good at once (own choice).
const MOST: usize = 20;

/// What a link leads to: one round, in the name of whom it was made for.
#[derive(Debug, Clone)]
pub struct Opened {
    /// The link.
    pub link: ReadingLink,
    /// The build.
    pub build: Build,
    /// Whoever has the link, with a scrutineer's deeds; nobody of the shop.
    pub ctx: Context,
}

/// Makes a link to a round; its secret is told here and never again.
///
/// # Errors
/// `Refused` for an empty name, `Held` where too many links are good already.
pub async fn make(ctx: &Context, build: BuildId, new: NewReadingLink) -> Result<(ReadingLink, String), ActionError> {
    ctx.allow(Deed::IssueRounds)?;
    refuse(new.faults())?;
    let rounds = ctx.store.rounds(build).await?;
    let round = rounds.iter().find(|round| round.number == new.round).ok_or(ActionError::NotFound("round"))?;
    let (secret, made) = (secrets::token(), ctx.clock.now());
    let link = ReadingLink {
        id: ctx.clock.new_id().into(),
        build,
        round: round.id,
        number: round.number,
        reader: new.reader.trim().to_owned(),
        made,
        by: ctx.by.name.clone(),
        ends: ctx.clock.after(new.good_for.span()),
        withdrawn: None,
    };
    let what = format!("A reading link to round {} was made for {}.", new.round, link.reader);
    let detail = json!({ "link": link.id, "round": new.round, "reader": link.reader, "ends": link.ends });
    let entry = ctx.entry("rounds", build, what, detail);
    let kept = secrets::hashed(&secret);
    let link = ctx
        .store
        .change::<_, ActionError, _>(move |write| {
            Box::pin(async move {
                let good = write.reading_links(build).await?.iter().filter(|one| one.is_good(made)).count();
                if good >= MOST {
                    return Err(ActionError::Held(format!("{MOST} links are good already. Withdraw one first.")));
                }
                write.add_reading_link(&link, &kept).await?;
                Ok((link, Some(entry)))
            })
        })
        .await?;
    Ok((link, secret))
}

/// Withdraws a link: with its next request it leads nowhere. Withdrawing one again changes nothing.
pub async fn withdraw(ctx: &Context, build: BuildId, id: LinkId) -> Result<(), ActionError> {
    ctx.allow(Deed::IssueRounds)?;
    let (at, by) = (ctx.clock.now(), ctx.by.name.clone());
    let mut entry = ctx.entry("rounds", build, String::new(), json!({ "link": id }));
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let all = write.reading_links(build).await?;
                let link = all.into_iter().find(|link| link.id == id).ok_or(ActionError::NotFound("link"))?;
                if link.withdrawn.is_some() {
                    return Ok(((), None));
                }
                write.withdraw_reading_link(id, at, &by).await?;
                entry.what = format!("The reading link for {} was withdrawn.", link.reader);
                Ok(((), Some(entry)))
            })
        })
        .await
}

/// The links to a build's rounds, oldest first.
pub async fn all(ctx: &Context, build: BuildId) -> Result<Vec<ReadingLink>, ActionError> {
    ctx.allow(Deed::IssueRounds)?;
    Ok(ctx.store.reading_links(build).await?)
}

/// What a secret leads to. Opening it records nothing: programs that look through mail open links too.
///
/// # Errors
/// `NotFound` for a secret that never was, `ReadingLinkOver` for one that is withdrawn or whose days are over.
pub async fn opened(store: &Store, clock: &Clock, memory: &Memory, secret: &str) -> Result<Opened, ActionError> {
    let found = store.reading_link_of(&secrets::hashed(secret)).await?;
    let link = found.ok_or(ActionError::NotFound("link"))?;
    let now: Timestamp = clock.now();
    if !link.is_good(now) {
        return Err(ActionError::ReadingLinkOver);
    }
    let build = store.build(link.build).await?.ok_or(ActionError::NotFound("build"))?;
    let by = Person { id: uuid::Uuid::nil().into(), name: link.name(), role: Role::Scrutineer };
    let ctx = Context { store: store.clone(), clock: clock.clone(), by, memory: memory.clone() };
    Ok(Opened { link, build, ctx })
}
