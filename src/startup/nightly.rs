//! What is done each night by itself: a backup, where a folder is given for it, then a check of the whole shop.

use std::path::{Path, PathBuf};
use std::time::Duration;

use jiff::Timestamp;

use crate::actions;
use crate::actions::shop::backup_due::due;
use crate::actions::shop::checks::Checks;
use crate::clock::Clock;
use crate::store::Store;
use crate::store::backup::{Fewer, Taken};

/// How often it is looked whether something is due. The first check is not made before so long either: whoever starts the
/// program waits for its pages, not for a disk that is read from end to end.
const LOOK: Duration = Duration::from_mins(10);

/// What the nights need.
pub(super) struct Nights {
    /// The shop's folder.
    pub(super) shop: PathBuf,
    /// Where backups are made into; none are where it is not said.
    pub(super) to: Option<PathBuf>,
    /// The shop's records.
    pub(super) store: Store,
    /// What time it is.
    pub(super) clock: Clock,
    /// Whose turn it is to check.
    pub(super) checks: Checks,
}

impl Nights {
    /// Does whatever is due whenever it is; what went wrong is written where the program writes of itself, and tried again.
    pub(super) async fn pass(self) {
        let mut looks = tokio::time::interval(LOOK);
        let mut first = true;
        loop {
            looks.tick().await;
            if let Some(to) = &self.to {
                self.back_up(to).await;
            }
            if !std::mem::take(&mut first) {
                self.check().await;
            }
        }
    }

    fn is_due(&self, last: Option<Timestamp>) -> bool {
        due(last, self.clock.now(), self.clock.hour())
    }

    async fn back_up(&self, to: &Path) {
        let last = match actions::shop::backup::last(&self.shop) {
            Ok(last) => last.map(|last| last.made),
            Err(error) => {
                tracing::warn!(%error, "the last backup's note cannot be read");
                None
            }
        };
        if !self.is_due(last) {
            return;
        }
        match actions::shop::backup::take(&self.shop, to, &self.clock, &|_, _| {}).await {
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

    async fn check(&self) {
        let last = match self.store.last_check().await {
            Ok(last) => last.map(|last| last.made),
            Err(error) => {
                tracing::warn!(%error, "the last check's note cannot be read");
                None
            }
        };
        if !self.is_due(last) {
            return;
        }
        match self.checks.check(&self.store, &self.clock).await {
            Ok(None) => {}
            Ok(Some(check)) if check.good() => tracing::info!("the shop was checked: all is as it was kept"),
            Ok(Some(check)) => {
                let bad = check.bad.len() + check.more;
                tracing::error!(bad, "the shop was checked, and not all is as it was kept; Health says what");
            }
            Err(error) => tracing::error!(%error, "what a check found could not be remembered"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A folder of its own, taken away at the end.
    struct Folder(PathBuf);

    impl Drop for Folder {
        fn drop(&mut self) {
            // what the system does not give back harms nothing
            let _ = std::fs::remove_dir_all(&self.0);
        }
    }

    #[tokio::test]
    async fn a_check_is_made_each_night_whether_backups_are_or_not() {
        let folder = Folder(std::env::temp_dir().join(format!("tackbook-nights-{}", std::process::id())));
        let store = Store::open(&folder.0).await.unwrap();
        let at = |moment: &str| Nights {
            shop: folder.0.clone(),
            to: None,
            store: store.clone(),
            clock: Clock::held_at(moment.parse().unwrap()),
            checks: Checks::default(),
        };
        assert_eq!(store.last_check().await.unwrap(), None);
        for (now, made) in [
            ("2031-04-07T16:00:00Z", "2031-04-07T16:00:00Z"),
            ("2031-04-08T03:00:00Z", "2031-04-07T16:00:00Z"),
            ("2031-04-09T03:00:00Z", "2031-04-09T03:00:00Z"),
            ("2031-04-09T21:30:00Z", "2031-04-09T03:00:00Z"),
            ("2031-04-10T02:10:00Z", "2031-04-10T02:10:00Z"),
        ] {
            at(now).check().await;
            let check = store.last_check().await.unwrap().unwrap();
            assert_eq!(check.made.to_string(), made, "{now}");
            assert!(check.good(), "{check:?}");
        }
        store.close().await;
    }
}
