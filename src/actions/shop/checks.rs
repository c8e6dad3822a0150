//! Checking the shop by itself: one check at a time, its result remembered until a later one.

use std::error::Error as _;
use std::sync::Arc;

use tokio::sync::Mutex;

use super::health::{Report, verify};
use crate::actions::context::Context;
use crate::actions::error::ActionError;
use crate::clock::Clock;
use crate::domain::shop::people::Deed;
use crate::store::Store;
use crate::store::checked::{LastCheck, Read};

/// Whose turn it is to check. Cheap to clone.
#[derive(Debug, Clone, Default)]
pub struct Checks {
    turn: Arc<Mutex<()>>,
}

impl Checks {
    /// Whether a check is under way.
    pub fn under_way(&self) -> bool {
        self.turn.try_lock().is_err()
    }

    /// Checks everything and remembers what was found; none where a check is under way, or the shop was closed meanwhile.
    /// One that could not be made to its end is remembered too, with why: nobody may take it for a good one.
    pub async fn check(&self, store: &Store, clock: &Clock) -> Result<Option<LastCheck>, ActionError> {
        let Ok(_turn) = self.turn.try_lock() else { return Ok(None) };
        let found = verify(store).await;
        if store.closed() {
            return Ok(None);
        }
        let check = match found {
            Ok(report) => remembered(&report, clock),
            Err(error) => LastCheck::of(clock.now(), None, vec![unfinished(&error)]),
        };
        store.remember_check(&check).await?;
        Ok(Some(check))
    }
}

/// Remembers what a check from outside found; beside a shop that another program serves nothing is written.
pub async fn remember(store: &Store, report: &Report, clock: &Clock) -> Result<(), ActionError> {
    if !store.is_beside() {
        store.remember_check(&remembered(report, clock)).await?;
    }
    Ok(())
}

/// What is remembered of a report.
fn remembered(report: &Report, clock: &Clock) -> LastCheck {
    let read = Read {
        entries: report.log.entries,
        rows: report.rows,
        photos: report.photos,
        packets: report.packets,
        mails: report.mails,
        views: report.views + report.unmarked_views,
    };
    LastCheck::of(clock.now(), Some(read), report.bad.clone())
}

/// Why a check came to no end, to the last reason behind it.
fn unfinished(error: &ActionError) -> String {
    let mut words = format!("The check could not be made to its end: {error}");
    let mut behind = error.source();
    while let Some(reason) = behind {
        words = format!("{words}: {reason}");
        behind = reason.source();
    }
    format!("{words}.")
}

/// Begins a check beside what else is done; where one is under way, that is the one.
pub fn begin(ctx: &Context, checks: &Checks) -> Result<(), ActionError> {
    ctx.allow(Deed::RunShop)?;
    let (checks, store, clock) = (checks.clone(), ctx.store.clone(), ctx.clock.clone());
    tokio::spawn(async move {
        if let Err(error) = checks.check(&store, &clock).await {
            tracing::error!(%error, "what a check found could not be remembered");
        }
    });
    Ok(())
}

/// What the office is told among the open items of the shop until a later check is well.
pub fn open_item(last: Option<&LastCheck>) -> Option<&'static str> {
    last.filter(|last| !last.good()).map(|last| {
        if last.read.is_some() {
            "The last check found something that is not as it was kept: look before anything else is issued"
        } else {
            "The last check of the shop could not be made to its end: look why"
        }
    })
}
