//! Photographs looked at in a process of their own; their views, made again when they are gone.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use tokio::sync::Mutex;

use super::context::Context;
use super::error::ActionError;
use super::photos::{Look, Looked};
use crate::domain::fingerprint::Fingerprint;
use crate::domain::ids::BuildId;
use crate::domain::looks::Seen;
use crate::domain::people::Deed;
use crate::domain::photos::Photo;
use crate::imaging::child::{PRINT_FILE, SCREEN_FILE, THUMBNAIL_FILE};
use crate::imaging::{self, ImageError};
use crate::store::Store;
use crate::store::vault::{Vault, View};

/// Ten thumbnails of one page asked for at once make each view once.
static ONE_MAKES: Mutex<()> = Mutex::const_new(());

/// Looks at kept photographs in a process of `program`, which is this program itself, and keeps their views.
pub fn in_child(store: Store, program: PathBuf) -> Look {
    let with = Arc::new((store, program));
    Arc::new(move |sha256| {
        let with = Arc::clone(&with);
        Box::pin(async move {
            match looked_at(with.0.vault(), &with.1, &sha256).await {
                Ok(seen) => Looked { seen: Some(seen), remarks: Vec::new() },
                Err(why) => Looked { seen: None, remarks: vec![why.to_string()] },
            }
        })
    })
}

async fn looked_at(vault: &Vault, program: &Path, sha256: &Fingerprint) -> Result<Seen, ImageError> {
    let no_preview = |error| {
        tracing::warn!(%error, %sha256, "the views of a photograph could not be kept");
        ImageError::NoPreview
    };
    let making = vault.begin_views(sha256).await.map_err(no_preview)?;
    let seen = imaging::in_child(program, &making.photo, &making.out).await;
    let made = match &seen {
        Ok(_) => vec![(View::Screen, SCREEN_FILE), (View::Thumb, THUMBNAIL_FILE), (View::Print, PRINT_FILE)],
        Err(_) => Vec::new(),
    };
    vault.end_views(making, made).await.map_err(no_preview)?;
    seen
}

/// A view of a build's photograph, JPEG; made again when it is gone.
pub async fn view(
    ctx: &Context,
    build: BuildId,
    sha256: &Fingerprint,
    view: View,
    look: &Look,
) -> Result<Vec<u8>, ActionError> {
    kept_here(ctx, build, sha256).await?;
    view_of_kept(ctx, sha256, view, look).await
}

/// The same of a photograph that the build's own facts say was received: they need not be asked again for each.
pub(super) async fn view_of(ctx: &Context, photo: &Photo, view: View, look: &Look) -> Result<Vec<u8>, ActionError> {
    if photo.received.is_none() {
        return Err(ActionError::NotFound("photo"));
    }
    view_of_kept(ctx, &photo.sha256, view, look).await
}

async fn view_of_kept(ctx: &Context, sha256: &Fingerprint, view: View, look: &Look) -> Result<Vec<u8>, ActionError> {
    let vault = ctx.store.vault();
    if let Some(bytes) = vault.view(sha256, view).await? {
        return Ok(bytes);
    }
    let _turn = ONE_MAKES.lock().await;
    if let Some(bytes) = vault.view(sha256, view).await? {
        return Ok(bytes);
    }
    look(sha256.clone()).await;
    vault.view(sha256, view).await?.ok_or(ActionError::NotFound("view"))
}

/// A build's photograph as it was sent.
pub async fn original(ctx: &Context, build: BuildId, sha256: &Fingerprint) -> Result<Vec<u8>, ActionError> {
    kept_here(ctx, build, sha256).await?;
    Ok(ctx.store.vault().read(sha256).await?)
}

/// Goes on only for a photograph that was received in this very build: knowing a fingerprint must not give a file.
async fn kept_here(ctx: &Context, build: BuildId, sha256: &Fingerprint) -> Result<(), ActionError> {
    ctx.allow(Deed::SeeBuilds)?;
    let captures = ctx.store.photos_of_content(build, sha256).await?;
    if captures.iter().any(|photo| photo.received.is_some()) { Ok(()) } else { Err(ActionError::NotFound("photo")) }
}
