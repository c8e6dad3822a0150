//! The backup that is made each night by itself.

use std::path::PathBuf;
use std::time::Duration;

use crate::actions;
use crate::actions::shop::backup_due::due;
use crate::clock::Clock;
use crate::store::backup::{Fewer, Taken};

/// How often it is looked whether one is due.
const LOOK: Duration = Duration::from_mins(10);

/// Makes a backup whenever one is due; what went wrong is written where the program writes of itself, and tried again.
pub(super) async fn back_up(shop: PathBuf, to: PathBuf, clock: Clock) {
    let mut looks = tokio::time::interval(LOOK);
    loop {
        looks.tick().await;
        let last = match actions::shop::backup::last(&shop) {
            Ok(last) => last.map(|last| last.made),
            Err(error) => {
                tracing::warn!(%error, "the last backup's note cannot be read");
                None
            }
        };
        if !due(last, clock.now(), clock.hour()) {
            continue;
        }
        match actions::shop::backup::take(&shop, &to, &clock, &|_, _| {}).await {
            Ok(Taken { fewer: Some(Fewer { before, files }), .. }) => {
                tracing::warn!(%before, files, "a backup was made, but the one before has files that it has not");
            }
            Ok(Taken { parted: Some(before), .. }) => {
                tracing::warn!(%before, "a backup was made, but the log of the one before does not go on in it");
            }
            Ok(taken) if taken.list.lost.is_empty() => tracing::info!(copied = taken.copied, "a backup was made"),
            Ok(taken) => {
                tracing::warn!(lost = taken.list.lost.len(), "a backup was made, but not everything was whole");
            }
            Err(error) => tracing::error!(error = &error as &dyn std::error::Error, "no backup could be made"),
        }
    }
}
