//! Cut plans, each searched for once and kept for as long as the same is asked.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};

use tokio::sync::Mutex as Turn;

use crate::domain::derived::findings::Findings;
use crate::domain::shop::stock::Stick;
use crate::domain::words::ids::BuildId;
use crate::domain::work::cut_list::balance;
use crate::domain::work::cut_plan::of_build;
use crate::domain::work::cut_plan::{CutPlan, CutRequest, Effort};
use crate::web::gate::Seen;
use crate::web::problem::Problem;
use crate::web::shown::shop_figures::saw;

/// How long is searched for a plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Patience {
    /// As long as a page may take.
    Page,
    /// As long as somebody waits who asked for more.
    Long,
}

impl Patience {
    /// Own choice, both: a page has one minute at most.
    pub(crate) const fn seconds(self) -> u64 {
        match self {
            Self::Page => 5,
            Self::Long => 40,
        }
    }

    const fn steps(self) -> usize {
        match self {
            Self::Page => Effort::USUAL,
            Self::Long => usize::MAX,
        }
    }
}

/// The newest plan of each build. Who asks for one that is being searched for waits for that one.
#[derive(Debug, Clone, Default)]
pub struct Plans(Arc<Mutex<HashMap<BuildId, OfBuild>>>);

/// A build's newest plan; who searches for it holds it.
type OfBuild = Arc<Turn<Option<Kept>>>;

#[derive(Debug)]
struct Kept {
    asked: CutRequest,
    patience: Patience,
    plan: Arc<CutPlan>,
}

impl Plans {
    /// The plan that is asked for, searched for away from the threads that answer others where it is not there.
    pub(crate) async fn of(
        &self,
        build: BuildId,
        asked: CutRequest,
        patience: Patience,
    ) -> Result<Arc<CutPlan>, Problem> {
        let turn = {
            let mut all = self.0.lock().unwrap_or_else(PoisonError::into_inner);
            Arc::clone(all.entry(build).or_default())
        };
        let mut kept = turn.lock().await;
        let enough = |kept: &&Kept| kept.asked == asked && (kept.patience >= patience || kept.plan.is_proven());
        if let Some(there) = kept.as_ref().filter(enough) {
            return Ok(Arc::clone(&there.plan));
        }
        let work = move || {
            let until = Instant::now() + Duration::from_secs(patience.seconds());
            let mut effort = Effort::watched(patience.steps(), |_| Instant::now() < until);
            let plan = Arc::new(asked.planned(&mut effort));
            Kept { asked, patience, plan }
        };
        let worked = tokio::task::spawn_blocking(work).await.map_err(|error| Problem::NotMade(error.to_string()))?;
        let plan = Arc::clone(&worked.plan);
        *kept = Some(worked);
        Ok(plan)
    }
}

/// The plan for what of a build is not cut yet.
pub(crate) async fn planned(seen: &Seen, found: &Findings) -> Result<Arc<CutPlan>, Problem> {
    searched(seen, found, Patience::Page).await
}

/// The same, searched for as long as somebody will wait.
pub(crate) async fn searched(seen: &Seen, found: &Findings, patience: Patience) -> Result<Arc<CutPlan>, Problem> {
    let saw = saw(&seen.who).await?.0;
    let all = seen.who.ctx.looked_at_all().await?;
    let sticks = seen.who.ctx.store.sticks().await?;
    let facts = Arc::clone(&seen.facts);
    let cage = found.worked.cage.clone();
    let work = move || {
        let left = |stick: Stick| {
            let left = balance(&stick, all.iter().map(|looked| &*looked.facts));
            (stick, left)
        };
        let sticks: Vec<_> = sticks.into_iter().map(left).collect();
        of_build(&facts, &cage, &sticks, &saw)
    };
    let asked = tokio::task::spawn_blocking(work).await.map_err(|error| Problem::NotMade(error.to_string()))?;
    seen.who.plans.of(seen.facts.build.id, asked, patience).await
}
