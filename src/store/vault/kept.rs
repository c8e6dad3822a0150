//! The vault: things put once and got by their name, as any store of objects could keep them.

use std::collections::HashMap;
use std::fmt;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

use super::arriving::{Desk, Parts, Upload};
use super::disk;
use super::held::Held;
use super::views::{self, ViewFile};
use crate::domain::words::fingerprint::Fingerprint;
use crate::store::error::StoreError;

/// One shop's files. Cheap to clone.
#[derive(Debug, Clone)]
pub struct Vault {
    pub(super) inner: Arc<Inner>,
}

#[derive(Debug)]
pub(super) struct Inner {
    folder: PathBuf,
    desks: Mutex<HashMap<Upload, Arc<tokio::sync::Mutex<Desk>>>>,
    /// Whether another program works in the folder, and this one only reads.
    beside: bool,
    sync_failed: AtomicBool,
    drawn: AtomicU64,
}

/// A re-made image of a photograph.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum View {
    /// For looking at it.
    Screen,
    /// For lists.
    Thumb,
    /// For the packet.
    Print,
}

impl fmt::Display for View {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Screen => "screen",
            Self::Thumb => "thumb",
            Self::Print => "print",
        })
    }
}

/// The name of something kept. Evidence is named by its own bytes, and what is put under such a name never changes; a view
/// may be thrown away and made again.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Item {
    /// A photograph as it was sent.
    Photo(Fingerprint),
    /// A packet as it was issued.
    Packet(Fingerprint),
    /// What a reply was typed from, as it came.
    Mail(Fingerprint),
    /// A smaller copy of a photograph.
    View(Fingerprint, View),
}

impl Item {
    /// Its name as a path, with `/` between: where it lies under a shop's folder.
    pub fn path(&self) -> String {
        match self {
            Self::Photo(name) => format!("photos/{}/{name}", name.shelf()),
            Self::Packet(name) => format!("packets/{name}.pdf"),
            Self::Mail(name) => format!("mails/{name}"),
            Self::View(name, view) => format!("views/{name}.{view}.jpg"),
        }
    }

    /// What its bytes must hash to; none of a view.
    pub fn sha256(&self) -> Option<&Fingerprint> {
        match self {
            Self::Photo(name) | Self::Packet(name) | Self::Mail(name) => Some(name),
            Self::View(..) => None,
        }
    }
}

impl Vault {
    /// The vault of a shop's folder.
    pub(in crate::store) fn of(folder: &Path) -> Self {
        Self::opened(folder, false)
    }

    /// The same of a folder that another program works in: nothing is put.
    pub(in crate::store) fn beside(folder: &Path) -> Self {
        Self::opened(folder, true)
    }

    fn opened(folder: &Path, beside: bool) -> Self {
        let inner = Inner {
            folder: folder.to_owned(),
            desks: Mutex::default(),
            beside,
            sync_failed: AtomicBool::new(false),
            drawn: AtomicU64::new(0),
        };
        Self { inner: Arc::new(inner) }
    }

    /// Keeps bytes under a name: evidence for good, synced, once, and only where the bytes are the ones of the name; a view
    /// synced with the mark of what it is, whole or not at all.
    ///
    /// # Errors
    /// `NotKept` where the bytes are others; `Full`; the disk's trouble.
    pub async fn put(&self, item: Item, bytes: Vec<u8>) -> Result<(), StoreError> {
        if self.inner.beside {
            return Err(StoreError::NotKept("another program works in this folder".to_owned()));
        }
        let inner = Arc::clone(&self.inner);
        blocking(move || match &item {
            Item::Photo(name) | Item::Packet(name) | Item::Mail(name) => inner.put_evidence(&item, name, &bytes),
            Item::View(of, view) => {
                let put = disk::put_view(&inner.new_part(), &views::marked(of, *view, bytes), &inner.place(&item));
                inner.noting(put)
            }
        })
        .await
    }

    /// What is kept under a name; none where nothing is. Evidence is not yet read. A view is read and checked: one that is
    /// not what was made of its photograph is as good as none.
    pub async fn get(&self, item: &Item) -> Result<Option<Held>, StoreError> {
        let place = self.inner.place(item);
        let Item::View(of, view) = item else { return Held::open(&place).await };
        let (of, view) = (of.clone(), *view);
        Ok(blocking(move || views::read(&of, view, &place)).await?.map(Held::of))
    }

    /// How each file among the views is, in the order of their names; all are read whole.
    pub(in crate::store) async fn views(&self) -> Result<Vec<ViewFile>, StoreError> {
        let folder = self.inner.folder.clone();
        let list =
            move || disk::names(&folder, &["views"])?.into_iter().map(|path| views::state(&folder, path)).collect();
        blocking(list).await
    }

    /// The photographs that are on their way in.
    pub fn parts(&self) -> Parts<'_> {
        Parts { vault: self }
    }

    /// The names of all evidence that is kept, as paths.
    pub async fn list(&self) -> Result<Vec<String>, StoreError> {
        let folder = self.inner.folder.clone();
        blocking(move || disk::names(&folder, &["photos", "packets", "mails"])).await
    }

    /// Whether files are still taken: not after a failed sync, until a restart.
    pub(in crate::store) fn usable(&self) -> Result<(), StoreError> {
        self.inner.refuse_after_failed_sync()
    }

    /// Where an upload is written to, one at a time.
    pub(super) fn desk(&self, upload: &Upload) -> Arc<tokio::sync::Mutex<Desk>> {
        let mut desks = self.inner.desks.lock().unwrap_or_else(PoisonError::into_inner);
        Arc::clone(desks.entry(upload.clone()).or_default())
    }

    /// Clears an upload's desk.
    pub(super) fn clear_desk(&self, upload: &Upload) {
        self.inner.desks.lock().unwrap_or_else(PoisonError::into_inner).remove(upload);
    }
}

impl Inner {
    pub(super) fn arriving(&self) -> PathBuf {
        self.folder.join("arriving")
    }

    fn new_part(&self) -> PathBuf {
        self.arriving().join(format!("put-{}.part", self.drawn.fetch_add(1, Ordering::Relaxed)))
    }

    fn put_evidence(&self, item: &Item, name: &Fingerprint, bytes: &[u8]) -> Result<(), StoreError> {
        self.refuse_after_failed_sync()?;
        if *name != Fingerprint::of(bytes) {
            return Err(StoreError::NotKept(format!("these are not the bytes of {}", item.path())));
        }
        let place = self.place(item);
        if place.exists() && disk::fingerprint(&place)? == *name {
            return Ok(());
        }
        disk::room_for(&self.folder, bytes.len() as u64)?;
        let part = self.new_part();
        disk::discard(&part)?;
        self.noting(disk::add(&part, 0, bytes))?;
        disk::place(&part, &place).inspect_err(|_| self.note_failed_sync())
    }

    pub(super) fn place(&self, item: &Item) -> PathBuf {
        self.folder.join(item.path())
    }

    pub(super) fn noting(&self, added: Result<(), disk::NotAdded>) -> Result<(), StoreError> {
        added.map_err(|why| match why {
            disk::NotAdded::Refused(error) => error,
            disk::NotAdded::SyncFailed(error) => {
                self.note_failed_sync();
                error
            }
        })
    }

    pub(super) fn note_failed_sync(&self) {
        self.sync_failed.store(true, Ordering::Relaxed);
    }

    /// A failed sync is final: the kernel may have dropped the pages, and a second try could say yes to lost data.
    pub(super) fn refuse_after_failed_sync(&self) -> Result<(), StoreError> {
        if self.sync_failed.load(Ordering::Relaxed) {
            return Err(StoreError::NotKept("the disk failed; nothing is taken until a restart".to_owned()));
        }
        Ok(())
    }
}

/// Runs file work where it holds nobody up.
pub(in crate::store) async fn blocking<T: Send + 'static>(
    work: impl FnOnce() -> Result<T, StoreError> + Send + 'static,
) -> Result<T, StoreError> {
    tokio::task::spawn_blocking(work).await.map_err(|error| StoreError::NotKept(error.to_string()))?
}
