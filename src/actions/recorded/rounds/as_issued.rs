//! A round as it was issued: its frozen contents, the cage that it was drawn from, and what was answered of it.

use std::sync::Arc;

use crate::actions::context::Context;
use crate::actions::error::ActionError;
use crate::actions::memory::Looked;
use crate::domain::cage::{Cage, CageRecord, solve};
use crate::domain::derived::contents::Contents;
use crate::domain::derived::findings::Findings;
use crate::domain::recorded::facts::CageText;
use crate::domain::recorded::reviews::Reviewed;
use crate::domain::recorded::rounds::Round;
use crate::domain::shop::people::Deed;

/// Most saves of a cage that are looked through for the one of a round (own choice: a cage is saved some hundred times).
const SAVES: u32 = 400;

/// A round with all that a sheet of it shows. What is recorded now is beside it, for what stands around the round: photographs'
/// rows, which never change, and the hold.
#[derive(Debug, Clone)]
pub struct AsIssued {
    /// The round.
    pub round: Round,
    /// What it showed; none where this program cannot read it.
    pub contents: Option<Contents>,
    /// What the round before it showed; none of the first.
    pub before: Option<Contents>,
    /// The cage that it was drawn from; none where no record that is kept says what the round froze.
    pub cage: Option<Cage>,
    /// What was answered of it so far, oldest first.
    pub answers: Vec<Reviewed>,
    /// The number of the newest round.
    pub newest: u32,
}

/// A round as it was issued.
pub async fn as_issued(ctx: &Context, looked: &Looked, number: u32) -> Result<AsIssued, ActionError> {
    ctx.allow(Deed::SeeRounds)?;
    let facts = &looked.facts;
    let at = facts.rounds.iter().position(|round| round.number == number).ok_or(ActionError::NotFound("round"))?;
    let round = facts.rounds.get(at).ok_or(ActionError::NotFound("round"))?.clone();
    let contents = Contents::read(&round.contents);
    let before = at.checked_sub(1).and_then(|before| facts.rounds.get(before));
    let before = before.and_then(|round| Contents::read(&round.contents));
    let cage = match &contents {
        Some(contents) => cage_of(ctx, looked, contents).await?,
        None => None,
    };
    let answers = ctx.store.reviewed(round.id).await?;
    let newest = facts.rounds.last().map_or(number, |round| round.number);
    Ok(AsIssued { round, contents, before, cage, answers, newest })
}

/// The cage that a round was drawn from: the one there is, where its record still says what the round froze, else the newest
/// earlier record that does.
async fn cage_of(ctx: &Context, looked: &Looked, contents: &Contents) -> Result<Option<Cage>, ActionError> {
    let Looked { facts, found } = looked;
    if facts.cage.is_some() && found.worked.cage_reads && contents.drawn_from(&found.worked.record) {
        return Ok(Some(found.worked.cage.clone()));
    }
    let earlier = facts.earlier_cages.iter().rev().filter_map(|earlier| earlier.cage.as_ref());
    let mut record = record_of(earlier, contents);
    if record.is_none() {
        let saves = ctx.store.cage_saves(facts.build.id, SAVES).await?;
        record = record_of(saves.iter().map(|save| &save.cage), contents);
    }
    let Some(record) = record else { return Ok(None) };
    let found: Arc<Findings> = Arc::clone(found);
    let work = move || solve(&record.numbered_for(&found.worked.tubes), &found.worked.tubes);
    tokio::task::spawn_blocking(work).await.map(Some).map_err(|error| ActionError::NotWorked(error.to_string()))
}

fn record_of<'t>(texts: impl Iterator<Item = &'t CageText>, contents: &Contents) -> Option<CageRecord> {
    texts.filter_map(|text| text.record().ok()).find(|record| contents.drawn_from(record))
}
