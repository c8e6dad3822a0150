//! What follows from each build, kept in memory for as long as nothing of the build changes.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

use jiff::civil::Date;

use super::cuts::Plans;
use super::gate::SignedIn;
use super::problem::Problem;
use crate::domain::derived::findings::Findings;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::words::ids::BuildId;

/// The findings of builds. A key is the build, its last log entry and the day: facts with the same number are the same
/// facts, so that what is remembered cannot be wrong.
#[derive(Debug, Clone, Default)]
pub struct Memory {
    found: Arc<Mutex<HashMap<BuildId, Remembered>>>,
    /// The cut plans.
    pub(crate) plans: Plans,
}

#[derive(Debug)]
struct Remembered {
    as_of: i64,
    day: Date,
    facts: Arc<BuildFacts>,
    found: Arc<Findings>,
}

/// A build with what follows from it.
#[derive(Debug, Clone)]
pub(crate) struct Looked {
    /// What is recorded.
    pub(crate) facts: Arc<BuildFacts>,
    /// What follows.
    pub(crate) found: Arc<Findings>,
}

impl Memory {
    /// What follows from these facts, worked out away from the threads that answer others.
    pub(crate) async fn of(&self, facts: Arc<BuildFacts>, day: Date) -> Result<Looked, Problem> {
        if let Some(looked) = self.recall(facts.build.id, facts.as_of, day) {
            return Ok(looked);
        }
        let worked = Arc::clone(&facts);
        let found = tokio::task::spawn_blocking(move || Findings::of(&worked, day)).await;
        let found = Arc::new(found.map_err(|error| Problem::NotMade(error.to_string()))?);
        let remembered = Remembered { as_of: facts.as_of, day, facts: Arc::clone(&facts), found: Arc::clone(&found) };
        self.found.lock().unwrap_or_else(PoisonError::into_inner).insert(facts.build.id, remembered);
        Ok(Looked { facts, found })
    }

    fn recall(&self, build: BuildId, as_of: i64, day: Date) -> Option<Looked> {
        let kept = self.found.lock().unwrap_or_else(PoisonError::into_inner);
        let there = kept.get(&build).filter(|there| there.as_of == as_of && there.day == day)?;
        Some(Looked { facts: Arc::clone(&there.facts), found: Arc::clone(&there.found) })
    }

    /// Every build of the shop with what follows from it; only those that changed are read and worked out again.
    pub(crate) async fn of_all(&self, who: &SignedIn) -> Result<Vec<Looked>, Problem> {
        let store = &who.ctx.store;
        let day = who.ctx.clock.today();
        let as_ofs: HashMap<BuildId, i64> = store.as_ofs().await?.into_iter().collect();
        let mut all = Vec::new();
        for build in store.builds().await? {
            let as_of = as_ofs.get(&build.id).copied().unwrap_or_default();
            let looked = match self.recall(build.id, as_of, day) {
                Some(looked) => looked,
                None => self.of(Arc::new(store.facts(build.id).await?), day).await?,
            };
            all.push(looked);
        }
        Ok(all)
    }
}
