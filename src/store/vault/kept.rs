//! The vault: where photographs, packets and views lie, and how they are read.

use std::collections::HashMap;
use std::fmt;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

use super::arriving::{Desk, Upload};
use super::disk;
use crate::domain::fingerprint::Fingerprint;
use crate::store::error::StoreError;

/// One shop's files. Cheap to clone.
#[derive(Debug, Clone)]
pub struct Vault {
    pub(super) inner: Arc<Inner>,
}

#[derive(Debug)]
pub(super) struct Inner {
    pub(super) folder: PathBuf,
    desks: Mutex<HashMap<Upload, Arc<tokio::sync::Mutex<Desk>>>>,
    sync_failed: AtomicBool,
    pub(super) drawn: AtomicU64,
}

/// How a file that a row names was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Found {
    /// There, and its bytes are the ones of its name.
    Whole,
    /// There, and its bytes are others.
    Altered,
    /// Not there.
    Missing,
}

/// What kind of evidence a file is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Evidence {
    /// A photograph as it was sent.
    Photo,
    /// A packet as it was issued.
    Packet,
}

/// A re-made image of a photograph.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
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

impl Vault {
    /// The vault of a shop's folder.
    pub(in crate::store) fn of(folder: &Path) -> Self {
        let inner = Inner {
            folder: folder.to_owned(),
            desks: Mutex::default(),
            sync_failed: AtomicBool::new(false),
            drawn: AtomicU64::new(0),
        };
        Self { inner: Arc::new(inner) }
    }

    /// The shop's folder.
    pub(in crate::store) fn folder(&self) -> &Path {
        &self.inner.folder
    }

    /// A photograph's bytes as they were sent.
    pub async fn read(&self, photo: &Fingerprint) -> Result<Vec<u8>, StoreError> {
        let place = self.inner.place_of_photo(photo);
        blocking(move || disk::bytes(&place)?.ok_or(StoreError::NotFound("photo"))).await
    }

    /// A view of a photograph, if it was made.
    pub async fn view(&self, photo: &Fingerprint, view: View) -> Result<Option<Vec<u8>>, StoreError> {
        let place = self.inner.place_of_view(photo, view);
        blocking(move || disk::bytes(&place)).await
    }

    /// Keeps a packet for good and gives its fingerprint.
    pub async fn keep_packet(&self, bytes: Vec<u8>) -> Result<Fingerprint, StoreError> {
        self.inner.refuse_after_failed_sync()?;
        let inner = Arc::clone(&self.inner);
        blocking(move || {
            let packet = Fingerprint::of(&bytes);
            let place = inner.place_of_packet(&packet);
            if place.exists() && disk::fingerprint(&place)? == packet {
                return Ok(packet);
            }
            disk::room_for(&inner.folder, bytes.len() as u64)?;
            let drawn = inner.drawn.fetch_add(1, Ordering::Relaxed);
            let part = inner.arriving().join(format!("packet-{packet}-{drawn}.part"));
            disk::discard(&part)?;
            inner.noting(disk::add(&part, 0, &bytes))?;
            disk::place(&part, &place).inspect_err(|_| inner.note_failed_sync())?;
            Ok(packet)
        })
        .await
    }

    /// A packet's bytes as they were issued.
    pub async fn packet(&self, packet: &Fingerprint) -> Result<Vec<u8>, StoreError> {
        let place = self.inner.place_of_packet(packet);
        blocking(move || disk::bytes(&place)?.ok_or(StoreError::NotFound("packet"))).await
    }

    /// Whether files are still taken: not after a failed sync, until a restart.
    pub(in crate::store) fn usable(&self) -> Result<(), StoreError> {
        self.inner.refuse_after_failed_sync()
    }

    /// Reads a piece of evidence whole and says how it was found.
    pub async fn examine(&self, kind: Evidence, name: &Fingerprint) -> Result<Found, StoreError> {
        let place = match kind {
            Evidence::Photo => self.inner.place_of_photo(name),
            Evidence::Packet => self.inner.place_of_packet(name),
        };
        let name = name.clone();
        blocking(move || match disk::fingerprint(&place) {
            Ok(found) if found == name => Ok(Found::Whole),
            Ok(_) => Ok(Found::Altered),
            Err(StoreError::Disk(error)) if error.kind() == std::io::ErrorKind::NotFound => Ok(Found::Missing),
            Err(error) => Err(error),
        })
        .await
    }

    /// The names of all files where photographs and packets lie, by their path under the shop's folder.
    pub async fn names(&self) -> Result<Vec<String>, StoreError> {
        let folder = self.inner.folder.clone();
        blocking(move || disk::names(&folder, &["photos", "packets"])).await
    }

    /// The path of a piece of evidence under the shop's folder.
    pub fn path_of(&self, kind: Evidence, name: &Fingerprint) -> String {
        path_of(kind, name)
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

    pub(super) fn place_of_photo(&self, photo: &Fingerprint) -> PathBuf {
        self.folder.join("photos").join(photo.shelf()).join(photo.text())
    }

    fn place_of_packet(&self, packet: &Fingerprint) -> PathBuf {
        self.folder.join("packets").join(format!("{packet}.pdf"))
    }

    pub(super) fn place_of_view(&self, photo: &Fingerprint, view: View) -> PathBuf {
        self.folder.join("views").join(format!("{photo}.{view}.jpg"))
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

/// The path of a piece of evidence under a shop's folder, with `/` between.
pub(in crate::store) fn path_of(kind: Evidence, name: &Fingerprint) -> String {
    match kind {
        Evidence::Photo => format!("photos/{}/{name}", name.shelf()),
        Evidence::Packet => format!("packets/{name}.pdf"),
    }
}

/// Runs file work where it holds nobody up.
pub(in crate::store) async fn blocking<T: Send + 'static>(
    work: impl FnOnce() -> Result<T, StoreError> + Send + 'static,
) -> Result<T, StoreError> {
    tokio::task::spawn_blocking(work).await.map_err(|error| StoreError::NotKept(error.to_string()))?
}
