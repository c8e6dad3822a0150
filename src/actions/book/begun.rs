//! Beginning a book on screen: with nothing in it, or from the invented example; its class table and its bars by short forms.

use serde_json::{Value, json};

use super::drafts::{keep, open, save, unwritable};
use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::domain::book::reading::shipped::EXAMPLE;
use crate::domain::book::{self, ClassTable, NeededBars, NewBook};
use crate::domain::shop::people::Deed;
use crate::domain::words::ids::DraftId;
use crate::store::book::drafts::Draft;

/// Begins a book with nothing in it but its head.
pub async fn begin_empty(ctx: &Context, new: &NewBook) -> Result<Draft, ActionError> {
    ctx.allow(Deed::RunShop)?;
    refuse(new.faults())?;
    let toml = new.text().ok_or_else(unwritable)?;
    keep(ctx, None, toml, format!("A rule book was begun: {} {}, {}.", new.body, new.name, new.edition)).await
}

/// Begins a draft from the invented example.
pub async fn begin_from_example(ctx: &Context) -> Result<Draft, ActionError> {
    ctx.allow(Deed::RunShop)?;
    let what = "A draft was begun from the invented example. No figure of it is any body's.".to_owned();
    keep(ctx, None, EXAMPLE.to_owned(), what).await
}

/// Writes the class table of a draft as it stands at a version.
pub async fn write_classes(ctx: &Context, at: (DraftId, i64), table: &ClassTable) -> Result<i64, ActionError> {
    let draft = at_version(ctx, at).await?;
    refuse(table.faults())?;
    let (toml, rows) = table.write(&draft.toml).ok_or_else(unwritable)?;
    if let Err(mistakes) = book::read(&toml) {
        refuse(ClassTable::faults_of(&mistakes, &rows))?;
    }
    written(ctx, &draft, toml, "In a draft, the class table was written.").await
}

/// Writes the bars that a draft, as it stands at a version, asks for by ticks.
pub async fn write_bars(ctx: &Context, at: (DraftId, i64), bars: &NeededBars) -> Result<i64, ActionError> {
    let draft = at_version(ctx, at).await?;
    refuse(bars.faults())?;
    let toml = bars.write(&draft.toml).ok_or_else(unwritable)?;
    written(ctx, &draft, toml, "In a draft, the bars that must be there were ticked.").await
}

async fn at_version(ctx: &Context, at: (DraftId, i64)) -> Result<Draft, ActionError> {
    ctx.allow(Deed::RunShop)?;
    let draft = open(ctx, at.0).await?;
    if draft.version == at.1 { Ok(draft) } else { Err(ActionError::Stale { now: draft.version }) }
}

async fn written(ctx: &Context, draft: &Draft, toml: String, what: &str) -> Result<i64, ActionError> {
    if toml == draft.toml {
        return Ok(draft.version);
    }
    let lines = |one: &str, other: &str| -> Value {
        let others: std::collections::HashSet<&str> = other.lines().collect();
        one.lines().filter(|line| !line.trim().is_empty() && !others.contains(line)).map(|line| json!(line)).collect()
    };
    let changed = json!({ "was": lines(&draft.toml, &toml), "is": lines(&toml, &draft.toml) });
    save(ctx, (draft.id, draft.version), toml, (what.to_owned(), changed)).await
}
