//! A handle on one shop: opening it, changing it, closing it.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::car_file;
use super::covered;
use super::engine::{self, BroughtUp, Held, Readers};
use super::error::StoreError;
use super::found;
use super::lane::{Lane, Work, Write};
use super::vault::Vault;

/// One shop's rows and files. Cheap to clone.
#[derive(Debug, Clone)]
pub struct Store {
    inner: Arc<Inner>,
}

#[derive(Debug)]
struct Inner {
    /// The way to write, and the lock that goes with it; none where another program works in the folder.
    writing: Option<(Lane, Held)>,
    readers: Readers,
    vault: Vault,
    folder: PathBuf,
    brought_up: Option<BroughtUp>,
}

impl Store {
    /// Opens the shop in a folder; makes one where there is no folder, or an empty one, and nowhere else. One program at a
    /// time holds a folder. Records that an earlier program made are copied and then brought into this one's form; those of a
    /// newer one are refused untouched.
    pub async fn open(folder: &Path) -> Result<Self, StoreError> {
        found::may_be_made(folder)?;
        Self::opened(folder).await
    }

    /// Opens the shop that is in a folder, and makes none: a folder whose name was mistyped is told of.
    pub async fn open_there(folder: &Path) -> Result<Self, StoreError> {
        found::is_there(folder)?;
        Self::opened(folder).await
    }

    async fn opened(folder: &Path) -> Result<Self, StoreError> {
        let lock = engine::take_folder(folder)?;
        car_file::clear(folder)?;
        let mut writer = engine::writer(folder).await?;
        if !engine::begun(&mut writer).await? {
            found::nothing_left(folder)?;
        }
        // every row is read for it: only before the rows are made anew
        let agreed = if engine::is_behind(&mut writer).await? { covered::agree(&mut writer).await? } else { None };
        let brought_up = engine::bring_up(folder, &mut writer).await?;
        covered::take_as_they_stand(&mut writer, brought_up.is_some(), agreed).await?;
        engine::note_touched(&mut writer).await?;
        let readers = engine::readers(folder).await?;
        let (lane, vault) = (Lane::start(writer, folder), Vault::of(folder));
        let writing = Some((lane, lock));
        let inner = Inner { writing, readers, vault, folder: folder.to_owned(), brought_up };
        Ok(Self { inner: Arc::new(inner) })
    }

    /// Opens a shop that another program works in, to read alone: nothing is locked, brought up or written, and each change
    /// is refused. Records in another form than this program's are refused too.
    pub async fn open_beside(folder: &Path) -> Result<Self, StoreError> {
        engine::in_our_form(&mut engine::read_only(folder).await?).await?;
        let readers = engine::readers(folder).await?;
        let (vault, folder) = (Vault::beside(folder), folder.to_owned());
        Ok(Self { inner: Arc::new(Inner { writing: None, readers, vault, folder, brought_up: None }) })
    }

    /// The only way to write: the work runs in the writer's lane with its log entry, or neither is kept.
    /// Answers once it is on the disk.
    pub async fn change<T, E, F>(&self, work: F) -> Result<T, E>
    where
        T: Send + 'static,
        E: From<StoreError> + Send + 'static,
        F: for<'w> FnOnce(&'w mut Write) -> Work<'w, T, E> + Send + 'static,
    {
        match &self.inner.writing {
            Some((lane, _)) => lane.change(work).await,
            None => Err(StoreError::NotKept("another program works in this folder".to_owned()).into()),
        }
    }

    /// Whether nothing can be changed any more until the program is started again.
    pub fn ended(&self) -> bool {
        self.inner.writing.as_ref().is_some_and(|(lane, _)| lane.ended())
    }

    /// Whether it was closed in good order, or is about to be.
    pub fn closed(&self) -> bool {
        self.inner.readers.is_closed()
    }

    /// Whether another program works in the folder: nothing is written there.
    pub fn is_beside(&self) -> bool {
        self.inner.writing.is_none()
    }

    /// What became of the records of an earlier program when they were opened; none where they were in this one's form.
    pub fn brought_up(&self) -> Option<&BroughtUp> {
        self.inner.brought_up.as_ref()
    }

    /// The shop's files.
    pub fn vault(&self) -> &Vault {
        &self.inner.vault
    }

    /// Ends in good order: what waits is done, the write-ahead log folded in, the folder free for another.
    pub async fn close(&self) {
        if let Some((lane, _)) = &self.inner.writing {
            lane.stop().await;
        }
        self.inner.readers.close().await;
        if let Some((_, lock)) = &self.inner.writing
            && let Err(error) = lock.unlock()
        {
            tracing::warn!(%error, "the folder's lock could not be given back; it goes with the program");
        }
    }

    /// What a connection of each kind is set to: `(pragma, writing, reading)`, for the health page and the test.
    pub async fn settings(&self) -> Result<Vec<(&'static str, String, String)>, StoreError> {
        let writing = self
            .change::<_, StoreError, _>(|write| {
                Box::pin(async move { Ok((engine::settings_of(&mut write.connection).await?, None)) })
            })
            .await?;
        let mut reader = self.readers().acquire().await?;
        let reading = engine::settings_of(&mut reader).await?;
        Ok(writing.into_iter().zip(reading).map(|((name, writes), (_, reads))| (name, writes, reads)).collect())
    }

    /// The shop's folder.
    pub(super) fn folder(&self) -> &Path {
        &self.inner.folder
    }

    pub(super) fn readers(&self) -> &Readers {
        &self.inner.readers
    }
}
