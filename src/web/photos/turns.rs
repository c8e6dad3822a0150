//! Whose turn it is to write to an upload: the newest request's, as soon as the older one has let go.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use tokio::sync::{OwnedMutexGuard, OwnedSemaphorePermit, Semaphore, watch};

use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::BuildId;

/// Most photographs that are being written at once.
const AT_ONCE: usize = 16;
/// How many of them a plain form counts for: it holds up to 64 MiB, and what is in memory at once is bounded.
const PLACES_OF_A_FORM: u32 = 8;
/// How long a body may stay silent before its connection is given up.
const PATIENCE: Duration = Duration::from_secs(30);
/// How long the older request has to let go of an upload.
const TO_LET_GO: Duration = Duration::from_secs(2);

type Name = (BuildId, Fingerprint);

/// The photographs on their way in. Cheap to clone.
#[derive(Debug, Clone)]
pub struct Uploads {
    turns: Arc<Mutex<HashMap<Name, Arc<Turns>>>>,
    places: Arc<Semaphore>,
    patience: Duration,
}

#[derive(Debug)]
struct Turns {
    /// The number of the newest request.
    newest: watch::Sender<u64>,
    desk: Arc<tokio::sync::Mutex<()>>,
}

impl Default for Uploads {
    fn default() -> Self {
        Self::with_patience(PATIENCE)
    }
}

impl Uploads {
    /// Uploads whose bodies may stay silent for so long.
    pub fn with_patience(patience: Duration) -> Self {
        Self { turns: Arc::default(), places: Arc::new(Semaphore::new(AT_ONCE)), patience }
    }

    /// How long a body may stay silent.
    pub(crate) fn patience(&self) -> Duration {
        self.patience
    }

    /// A place among those that are written at once; none while all are taken.
    pub(crate) fn place(&self) -> Option<OwnedSemaphorePermit> {
        Arc::clone(&self.places).try_acquire_owned().ok()
    }

    /// The places of a plain form, which holds a whole photograph in memory; nothing of it is read before it has them. None
    /// where they did not get free in time.
    pub(crate) async fn places_for_a_form(&self) -> Option<OwnedSemaphorePermit> {
        let places = Arc::clone(&self.places).acquire_many_owned(PLACES_OF_A_FORM);
        tokio::time::timeout(self.patience, places).await.ok()?.ok()
    }

    /// Takes the turn at an upload: the older request is told to stop, and has let go when this answers. None when it
    /// did not let go in time.
    pub(crate) async fn turn(&self, build: BuildId, sha256: &Fingerprint) -> Option<Turn> {
        let name = (build, sha256.clone());
        let turns = {
            let mut all = self.turns.lock().unwrap_or_else(PoisonError::into_inner);
            let new = || Arc::new(Turns { newest: watch::channel(0).0, desk: Arc::default() });
            Arc::clone(all.entry(name.clone()).or_insert_with(new))
        };
        let mut number = 0;
        turns.newest.send_modify(|newest| {
            *newest += 1;
            number = *newest;
        });
        let desk = tokio::time::timeout(TO_LET_GO, Arc::clone(&turns.desk).lock_owned()).await.ok()?;
        let newest = turns.newest.subscribe();
        Some(Turn { number, newest, desk: Some(desk), turns, name, uploads: self.clone() })
    }
}

/// One request's turn at an upload; it ends when this is dropped.
#[derive(Debug)]
pub(crate) struct Turn {
    number: u64,
    newest: watch::Receiver<u64>,
    desk: Option<OwnedMutexGuard<()>>,
    turns: Arc<Turns>,
    name: Name,
    uploads: Uploads,
}

impl Turn {
    /// Waits until a newer request wants the turn.
    pub(crate) async fn replaced(&mut self) {
        let number = self.number;
        // the sender lives as long as this does, so there is always an answer
        let _ = self.newest.wait_for(|newest| *newest > number).await;
    }
}

impl Drop for Turn {
    fn drop(&mut self) {
        self.desk = None;
        let mut all = self.uploads.turns.lock().unwrap_or_else(PoisonError::into_inner);
        // the list's own and this one's: nobody else waits
        if Arc::strong_count(&self.turns) == 2 {
            all.remove(&self.name);
        }
    }
}

#[cfg(test)]
mod tests {
    use std::time::{Duration, Instant};

    use super::Uploads;
    use crate::domain::words::fingerprint::Fingerprint;

    #[tokio::test]
    async fn the_newest_request_gets_the_turn_and_nothing_is_left_behind() {
        let (uploads, build) = (Uploads::default(), uuid::Uuid::now_v7().into());
        let content = Fingerprint::of(b"photo");
        let mut first = uploads.turn(build, &content).await.unwrap();
        let (again, name) = (uploads.clone(), content.clone());
        let second = tokio::spawn(async move { again.turn(build, &name).await });
        tokio::time::timeout(Duration::from_secs(5), first.replaced()).await.unwrap();
        drop(first);
        let second = second.await.unwrap().unwrap();
        let begun = Instant::now();
        assert!(uploads.turn(build, &content).await.is_none(), "the second does not let go");
        assert!(begun.elapsed() >= Duration::from_secs(2));
        drop(second);
        assert!(uploads.turns.lock().unwrap().is_empty());
    }

    #[test]
    fn sixteen_are_written_at_once() {
        let uploads = Uploads::default();
        let places: Vec<_> = std::iter::from_fn(|| uploads.place()).collect();
        assert_eq!(places.len(), 16);
    }

    #[tokio::test]
    async fn two_forms_are_read_at_once_and_the_third_waits_for_one_of_them() {
        let uploads = Uploads::with_patience(Duration::from_millis(300));
        let first = uploads.places_for_a_form().await.unwrap();
        let _second = uploads.places_for_a_form().await.unwrap();
        assert!(uploads.places_for_a_form().await.is_none(), "not for ever");
        let waits = tokio::spawn({
            let uploads = uploads.clone();
            async move { uploads.places_for_a_form().await.is_some() }
        });
        tokio::time::sleep(Duration::from_millis(50)).await;
        drop(first);
        assert!(waits.await.unwrap());
    }
}
