//! Moving a build to another edition of its book.

use std::sync::Arc;

use serde_json::{Value, json};

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::actions::memory::Looked;
use crate::domain::book;
use crate::domain::derived::editions::{EditionChange, VerdictChange, under};
use crate::domain::derived::findings::Findings;
use crate::domain::recorded::facts::{BookText, BuildFacts};
use crate::domain::shop::people::Deed;
use crate::domain::words::faults::Fault;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::{BookId, BuildId};
use crate::domain::words::limits;
use crate::quantity::Units;

/// A move as it is asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Move {
    /// The edition it is moved to.
    pub to: BookId,
    /// The build's last log entry when its mover looked at what changes.
    pub as_of: i64,
    /// Why.
    pub reason: String,
}

/// Moves a build to another edition, with a reason. `Stale` when the build moved on since its mover looked at what changes:
/// look again. Rounds that are issued keep their edition.
pub async fn move_build(ctx: &Context, build: BuildId, asked: Move) -> Result<EditionChange, ActionError> {
    ctx.allow(Deed::RunShop)?;
    let facts = ctx.store.facts(build).await?;
    let from = facts.book.clone().ok_or(ActionError::NotFound("rule book"))?;
    let to = ctx.store.book(asked.to).await?.ok_or(ActionError::NotFound("rule book"))?;
    refuse(faults(&asked, &from, &to.toml))?;
    if facts.as_of != asked.as_of {
        return Err(ActionError::Stale { now: facts.as_of });
    }
    let to = BookText { id: to.id, name: to.name, edition: to.edition, toml: to.toml };
    let name = facts.build.name.clone();
    let change = worked(ctx, facts, to.clone()).await?;
    let reason = asked.reason.trim().to_owned();
    let what = format!(
        "{name} was moved from {} to {}: {} {}.",
        from.describe(),
        to.describe(),
        sentence(&reason),
        change.in_short()
    );
    let of = |book: &BookText| {
        json!({ "id": book.id, "name": book.name, "edition": book.edition,
            "sha256": Fingerprint::of(book.toml.as_bytes()) })
    };
    let detail = json!({ "from": of(&from), "to": of(&to), "reason": reason, "class": change.class,
        "tubes": change.tubes, "verdicts": change.verdicts.iter().map(describe).collect::<Vec<Value>>(),
        "photographs_more": change.shots_new.len(), "photographs_less": change.shots_gone.len() });
    let entry = ctx.entry("books", build, what, detail);
    let books = (from.id, to.id);
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let now = write.as_of(build).await?;
                if now != asked.as_of {
                    return Err(ActionError::Stale { now });
                }
                write.move_book(build, books, &reason, &entry).await?;
                Ok((change, Some(entry)))
            })
        })
        .await
}

/// A reason as a sentence of its own.
fn sentence(reason: &str) -> String {
    if reason.ends_with(['.', '!', '?']) { reason.to_owned() } else { format!("{reason}.") }
}

fn faults(asked: &Move, from: &BookText, toml: &str) -> Vec<Fault> {
    let mut faults = limits::title_faults("reason", &asked.reason);
    if asked.to == from.id {
        faults.push(Fault::new("to", "The build is judged by this edition already."));
    } else if let Err(mistakes) = book::read(toml) {
        let what = mistakes.first().map(|first| format!("Line {}: {}", first.line, first.what)).unwrap_or_default();
        faults.push(Fault::new("to", format!("This edition's text does not read: nothing would be judged. {what}")));
    }
    faults
}

async fn worked(ctx: &Context, facts: BuildFacts, to: BookText) -> Result<EditionChange, ActionError> {
    let day = ctx.clock.today();
    let Looked { facts, found: before } = ctx.memory.of(Arc::new(facts), day).await?;
    let worked =
        tokio::task::spawn_blocking(move || EditionChange::of(&before, &Findings::of(&under(&facts, to), day)));
    worked.await.map_err(|error| ActionError::NotWorked(error.to_string()))
}

/// A verdict that is another, as the log keeps it.
fn describe(change: &VerdictChange) -> Value {
    let word = |verdict: Option<&crate::domain::judge::verdicts::Verdict>| {
        verdict.map(|verdict| verdict.describe(Units::Metric))
    };
    let either = change.either();
    json!({ "rule": either.map(|verdict| &verdict.rule_id), "of": either.and_then(|verdict| verdict.of),
        "was": word(change.was.as_ref()), "is": word(change.is.as_ref()) })
}
