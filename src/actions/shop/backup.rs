//! Backing a shop up while it is open, and restoring it with proof.

use std::path::Path;

use super::health::{Report, verify};
use crate::actions::error::ActionError;
use crate::clock::Clock;
use crate::store::backup::{self, Last, List, Taken, Tell};
use crate::store::{BroughtUp, Store};

/// A shop that was restored, and what checking it found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Restored {
    /// The backup it came from.
    pub list: List,
    /// What became of its records, where an earlier program had made them.
    pub brought_up: Option<BroughtUp>,
    /// What checking every file, every row and the log found.
    pub report: Report,
}

/// Makes a backup of the shop in a folder; it may be open meanwhile.
pub async fn take(shop: &Path, to: &Path, clock: &Clock, tell: Tell<'_>) -> Result<Taken, ActionError> {
    Ok(backup::take(shop, to, clock.now(), tell).await?)
}

/// What a shop's folder remembers of its last backup.
pub fn last(shop: &Path) -> Result<Option<Last>, ActionError> {
    Ok(backup::last(shop)?)
}

/// Restores a backup into an empty folder, opens the shop there and checks everything in it, as `verify` does.
pub async fn restore(from: &Path, name: Option<&str>, folder: &Path, tell: Tell<'_>) -> Result<Restored, ActionError> {
    let restored = backup::restore(from, name, folder, tell).await?;
    let store = Store::open_there(folder).await?;
    let brought_up = store.brought_up().cloned();
    let checked = verify(&store).await;
    store.close().await;
    let mut report = checked?;
    let damaged = restored.damaged.into_iter().map(|path| format!("{path} is missing or altered in the backup."));
    report.bad.extend(damaged);
    Ok(Restored { list: restored.list, brought_up, report })
}
