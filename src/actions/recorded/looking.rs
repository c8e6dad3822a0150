//! Photographs looked at in a process of their own; their views, made again when they are gone.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use tokio::sync::Mutex;

use super::followed::Followed;
use super::photos::{Look, Looked};
use crate::actions::context::Context;
use crate::actions::error::ActionError;
use crate::domain::derived::contents::Contents;
use crate::domain::recorded::photos::Photo;
use crate::domain::shop::looks::Seen;
use crate::domain::shop::people::Deed;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::BuildId;
use crate::imaging::{self, ImageError, Room, Views};
use crate::store::vault::{Held, Item, Vault, View};
use crate::store::{Store, StoreError};

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

/// Looks at a photograph and keeps its views, in the whole room where the usual was too small.
async fn looked_at(vault: &Vault, program: &Path, sha256: &Fingerprint) -> Result<Seen, ImageError> {
    match looked_at_in(Room::Usual, vault, program, sha256).await {
        Err(ImageError::NoRoom) => looked_at_in(Room::Whole, vault, program, sha256).await,
        done => done,
    }
}

/// The same in one of the rooms: only where every byte that was looked at is of the photograph as it was received.
async fn looked_at_in(room: Room, vault: &Vault, program: &Path, sha256: &Fingerprint) -> Result<Seen, ImageError> {
    let told = |why: ImageError| {
        move |error: StoreError| {
            tracing::warn!(%error, %sha256, "a photograph could not be looked at");
            why
        }
    };
    let photo = vault.get(&Item::Photo(sha256.clone())).await.map_err(told(ImageError::NoPreview))?;
    let mut photo = Followed::of(photo.ok_or(ImageError::NoPreview)?.whole());
    let looked = imaging::in_child(program, &mut photo, room).await;
    // what the child did not want is read here: why it gave up may be that this is another file
    match photo.fingerprint().await {
        Ok(read) if read == *sha256 => {}
        Ok(_) => return Err(ImageError::Altered),
        Err(error) => return Err(told(ImageError::NoPreview)(error.into())),
    }
    let (seen, Views { screen, thumbnail, print }) = looked?;
    for (view, bytes) in [(View::Screen, screen), (View::Thumb, thumbnail), (View::Print, print)] {
        vault.put(Item::View(sha256.clone(), view), bytes).await.map_err(told(ImageError::NotPut))?;
    }
    Ok(seen)
}

/// A photograph that was received in the very build it is asked for in: knowing a fingerprint must not give a file.
#[derive(Debug)]
pub struct Here<'a> {
    ctx: &'a Context,
    sha256: Fingerprint,
}

impl<'a> Here<'a> {
    /// The photograph of this content in a build.
    pub async fn find(ctx: &'a Context, build: BuildId, sha256: Fingerprint) -> Result<Self, ActionError> {
        ctx.allow(Deed::SeeBuilds)?;
        let captures = ctx.store.photos_of_content(build, &sha256).await?;
        let here = captures.iter().any(|photo| photo.received.is_some());
        if here { Ok(Self { ctx, sha256 }) } else { Err(ActionError::NotFound("photo")) }
    }

    /// A photograph that a round of the build shows, for whoever may see the round.
    pub async fn in_round(
        ctx: &'a Context,
        build: BuildId,
        round: u32,
        sha256: Fingerprint,
    ) -> Result<Self, ActionError> {
        ctx.allow(Deed::SeeRounds)?;
        let rounds = ctx.store.rounds(build).await?;
        let contents = rounds.iter().find(|one| one.number == round).and_then(|one| Contents::read(&one.contents));
        if !contents.is_some_and(|contents| contents.shows_photo(&sha256)) {
            return Err(ActionError::NotFound("photo"));
        }
        let captures = ctx.store.photos_of_content(build, &sha256).await?;
        let here = captures.iter().any(|photo| photo.received.is_some());
        if here { Ok(Self { ctx, sha256 }) } else { Err(ActionError::NotFound("photo")) }
    }

    /// One that the build's own facts say was received: they need not be asked again for each.
    pub(in crate::actions) fn recorded(ctx: &'a Context, photo: &Photo) -> Option<Self> {
        photo.received.is_some().then(|| Self { ctx, sha256: photo.sha256.clone() })
    }

    /// The photograph as it was sent.
    pub async fn original(&self) -> Result<Held, ActionError> {
        let kept = self.ctx.store.vault().get(&Item::Photo(self.sha256.clone())).await?;
        kept.ok_or(ActionError::NotFound("photo"))
    }

    /// A view of it, JPEG; made again from the photograph when it is gone or is not what was made of it.
    pub async fn view(&self, view: View, look: &Look) -> Result<Held, ActionError> {
        self.view_or_why(view, look).await?.map_err(|_| ActionError::NotFound("view"))
    }

    /// The same, or in words why there is none.
    pub(in crate::actions) async fn view_or_why(
        &self,
        view: View,
        look: &Look,
    ) -> Result<Result<Held, String>, ActionError> {
        let (vault, item) = (self.ctx.store.vault(), Item::View(self.sha256.clone(), view));
        if let Some(held) = vault.get(&item).await? {
            return Ok(Ok(held));
        }
        let _turn = ONE_MAKES.lock().await;
        if let Some(held) = vault.get(&item).await? {
            return Ok(Ok(held));
        }
        let looked = look(self.sha256.clone()).await;
        Ok(vault.get(&item).await?.ok_or_else(|| looked.remarks.join(" ")))
    }
}
