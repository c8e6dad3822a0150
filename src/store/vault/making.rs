//! Views in the making: in a folder of their own until they are whole, then in their places.

use std::path::PathBuf;
use std::sync::atomic::Ordering;

use super::disk;
use super::kept::{Vault, View, blocking};
use crate::domain::fingerprint::Fingerprint;
use crate::store::error::StoreError;

/// Where the views of a photograph are being made.
#[derive(Debug, PartialEq, Eq)]
pub struct Making {
    /// The photograph as it was sent; only to be read.
    pub photo: PathBuf,
    /// An empty folder for what is made.
    pub out: PathBuf,
    of: Fingerprint,
}

impl Vault {
    /// Makes room for the views of a kept photograph to be made in.
    pub async fn begin_views(&self, photo: &Fingerprint) -> Result<Making, StoreError> {
        let drawn = self.inner.drawn.fetch_add(1, Ordering::Relaxed);
        let making = Making {
            photo: self.inner.place_of_photo(photo),
            out: self.inner.folder.join("views").join(format!("making-{drawn}")),
            of: photo.clone(),
        };
        let out = making.out.clone();
        blocking(move || disk::empty_folder(&out)).await?;
        Ok(making)
    }

    /// Puts the views that were made, by their files' names, in their places; they may be thrown away and made again at
    /// any time. Without any, only the room goes.
    pub async fn end_views(&self, making: Making, made: Vec<(View, &'static str)>) -> Result<(), StoreError> {
        let inner = std::sync::Arc::clone(&self.inner);
        blocking(move || {
            let put = |(view, file): &(View, &str)| {
                disk::put_view(&making.out.join(file), &inner.place_of_view(&making.of, *view))
            };
            let done = made.iter().try_for_each(put);
            disk::clear_folder(&making.out).and(done)
        })
        .await
    }
}
