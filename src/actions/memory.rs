//! What follows from each build, kept in memory for as long as nothing it depends on changes.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

use jiff::civil::Date;
use tokio::sync::Semaphore;
use tokio::task::JoinSet;

use super::context::Context;
use super::error::ActionError;
use crate::domain::derived::findings::Findings;
use crate::domain::derived::worked::Worked;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::words::ids::BuildId;
use crate::store::{Seen, Store};

/// Most builds whose findings are kept; of more, those not asked for the longest are forgotten (own choice: a build with two
/// thousand photographs takes some megabytes).
const MOST: usize = 200;

/// The findings of builds. Where the log has no entry that it had not when a build was read, its facts are not read again: no row of them
/// can be changed without an entry (`store/covered`). Else what is remembered was worked out of facts that are compared, all of them.
/// Cheap to clone; clones remember the same.
#[derive(Debug, Clone)]
pub struct Memory(Arc<Mutex<Kept>>);

#[derive(Debug)]
struct Kept {
    most: usize,
    of: HashMap<BuildId, Remembered>,
    /// Counts up with every asking: what was asked for when.
    asked: u64,
}

#[derive(Debug)]
struct Remembered {
    /// What the log said of the build and of what it shares with others, before its facts were read; none where that is not known.
    seen: Option<Seen>,
    day: Date,
    looked: Looked,
    asked: u64,
}

/// A build with what follows from it.
#[derive(Debug, Clone)]
pub struct Looked {
    /// What is recorded.
    pub facts: Arc<BuildFacts>,
    /// What follows.
    pub found: Arc<Findings>,
}

impl Default for Memory {
    fn default() -> Self {
        Self::of_at_most(MOST)
    }
}

impl Memory {
    /// One that keeps so many builds.
    pub fn of_at_most(most: usize) -> Self {
        Self(Arc::new(Mutex::new(Kept { most, of: HashMap::new(), asked: 0 })))
    }

    /// What follows from these facts on this day, worked out away from the threads that answer others.
    pub async fn of(&self, facts: Arc<BuildFacts>, day: Date) -> Result<Looked, ActionError> {
        let same = |there: &Remembered| there.day == day && is_of(&there.looked, &facts);
        match self.recall(facts.build.id, same) {
            Some(looked) => Ok(looked),
            None => self.worked(facts, day).await,
        }
    }

    /// A build as it is recorded with what follows from it on this day; read again only where something may have changed.
    ///
    /// # Errors
    /// `NotFound`.
    pub async fn of_build(&self, store: &Store, build: BuildId, day: Date) -> Result<Looked, ActionError> {
        // how far the log is before the facts are read: what is written meanwhile is seen at the next asking
        let seen = store.seen(build).await?;
        if let Some(there) = self.recall(build, |there| there.day == day && there.seen == Some(seen)) {
            return Ok(there);
        }
        let looked = self.of(Arc::new(store.facts(build).await?), day).await?;
        self.is_as_of(seen, &looked);
        Ok(looked)
    }

    /// Every build of the shop with what follows from it, oldest first. Only those that may have changed are read again, and
    /// as many are worked out at once as the machine has processors.
    pub async fn of_all(&self, store: &Store, day: Date) -> Result<Vec<Looked>, ActionError> {
        let at_once = Arc::new(Semaphore::new(std::thread::available_parallelism().map_or(1, usize::from)));
        let mut working = JoinSet::new();
        let all = store.seen_of_all().await?;
        let mut looked: Vec<Option<Looked>> = Vec::new();
        for (place, (build, seen)) in all.into_iter().enumerate() {
            let there = self.recall(build, |there| there.day == day && there.seen.as_ref() == Some(&seen));
            if there.is_none() {
                let (memory, store, turn) = (self.clone(), store.clone(), Arc::clone(&at_once));
                working.spawn(async move {
                    let _turn = turn.acquire_owned().await;
                    Ok::<_, ActionError>((place, memory.of_build(&store, build, day).await?))
                });
            }
            looked.push(there);
        }
        while let Some(done) = working.join_next().await {
            let (place, worked) = done.map_err(|error| ActionError::NotWorked(error.to_string()))??;
            if let Some(slot) = looked.get_mut(place) {
                *slot = Some(worked);
            }
        }
        Ok(looked.into_iter().flatten().collect())
    }

    fn recall(&self, build: BuildId, same: impl FnOnce(&Remembered) -> bool) -> Option<Looked> {
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        kept.asked += 1;
        let asked = kept.asked;
        let there = kept.of.get_mut(&build).filter(|there| same(there))?;
        there.asked = asked;
        Some(there.looked.clone())
    }

    /// Remembers how far the log was before these facts were read.
    fn is_as_of(&self, seen: Seen, looked: &Looked) {
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(there) = kept.of.get_mut(&looked.facts.build.id)
            && Arc::ptr_eq(&there.looked.found, &looked.found)
        {
            there.seen = Some(seen);
        }
    }

    async fn worked(&self, facts: Arc<BuildFacts>, day: Date) -> Result<Looked, ActionError> {
        let of = Arc::clone(&facts);
        let found = tokio::task::spawn_blocking(move || Findings::of(&of, day)).await;
        let found = Arc::new(found.map_err(|error| ActionError::NotWorked(error.to_string()))?);
        let looked = Looked { facts, found };
        self.remember(day, looked.clone());
        Ok(looked)
    }

    fn remember(&self, day: Date, looked: Looked) {
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        kept.asked += 1;
        let (asked, build) = (kept.asked, looked.facts.build.id);
        kept.of.insert(build, Remembered { seen: None, day, looked, asked });
        if kept.of.len() > kept.most
            && let Some(oldest) = kept.of.iter().min_by_key(|entry| entry.1.asked).map(|entry| *entry.0)
        {
            kept.of.remove(&oldest);
        }
    }
}

/// What the rules say of facts that are nobody's record: worked out away from the threads that answer others, and not kept.
pub async fn worked_apart(facts: BuildFacts, day: Date) -> Result<Worked, ActionError> {
    let worked = tokio::task::spawn_blocking(move || Worked::of(&facts, day)).await;
    worked.map_err(|error| ActionError::NotWorked(error.to_string()))
}

impl Context {
    /// Every build of the shop with what follows from it, oldest first.
    pub async fn looked_at_all(&self) -> Result<Vec<Looked>, ActionError> {
        self.memory.of_all(&self.store, self.clock.today()).await
    }

    /// A build as it is recorded now, with what follows from it.
    pub async fn looked(&self, build: BuildId) -> Result<Looked, ActionError> {
        self.memory.of_build(&self.store, build, self.clock.today()).await
    }
}

/// Whether a build was looked at with these very facts.
fn is_of(looked: &Looked, facts: &Arc<BuildFacts>) -> bool {
    Arc::ptr_eq(&looked.facts, facts) || (looked.facts.as_of == facts.as_of && looked.facts == *facts)
}
