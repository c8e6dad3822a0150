//! Photographs: declared, sent in parts, kept, withdrawn. Doing any of it twice is doing it once.

use std::future::Future;
use std::pin::Pin;
use std::sync::Arc;
use std::time::{Duration, SystemTime};

use jiff::SignedDuration;
use serde_json::json;

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::clock::Clock;
use crate::domain::recorded::photos::{Photo, Received, Withdrawn};
use crate::domain::shop::looks::{Seen, nearly_the_same, remarks};
use crate::domain::shop::people::Deed;
use crate::domain::words::faults::Fault;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::{BuildId, CaptureId};
use crate::domain::words::limits;
use crate::imaging::Kind;
use crate::store::vault::{Appended, Arrived, Upload};
use crate::store::{Entry, Store, Write};

const ROOM: &str = "photos";

/// What was seen in a photograph.
#[derive(Debug, Clone, PartialEq)]
pub struct Looked {
    /// The figures; none when it could not be decoded.
    pub seen: Option<Seen>,
    /// What the looking itself has to say: why it cannot be shown.
    pub remarks: Vec<String>,
}

/// Looks at a photograph that the vault keeps, away from this process's own memory.
pub type Look = Arc<dyn Fn(Fingerprint) -> Pin<Box<dyn Future<Output = Looked> + Send>> + Send + Sync>;

/// What the phone says about a photograph it holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Declaration {
    /// The name it gave it when the shutter closed.
    pub capture: CaptureId,
    /// The content's SHA-256.
    pub sha256: Fingerprint,
    /// The content's bytes.
    pub size: u64,
    /// The shot it answers, by the shot list's key; empty for one nobody asked for.
    pub shot: String,
    /// What the photographer wrote with it.
    pub note: String,
    /// The bytes of the camera's own picture, where this is a smaller one that the phone made of it.
    pub camera_size: Option<u64>,
    /// When the phone says it was taken.
    pub taken_claim: Option<String>,
}

/// A photograph that comes whole, by a plain form.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Whole {
    /// Its name, drawn with the form, so that sending the form twice gives one photograph.
    pub capture: CaptureId,
    /// The shot it answers.
    pub shot: String,
    /// What the photographer wrote with it.
    pub note: String,
    /// The file.
    pub bytes: Vec<u8>,
}

/// Where an upload stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Standing {
    /// Which upload.
    pub upload: Upload,
    /// How many bytes are on the disk: a promise.
    pub offset: u64,
    /// The receipt, once it is kept.
    pub receipt: Option<Received>,
}

/// What became of an upload at its end.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Finished {
    /// It is kept; this is the receipt.
    Kept(Received),
    /// Bytes are missing; go on from here.
    GoOnFrom(u64),
    /// The bytes are not the declared ones; they were thrown away, begin again.
    Altered,
}

impl Declaration {
    fn faults(&self) -> Vec<Fault> {
        let mut faults = limits::text_faults("note", &self.note);
        if self.size == 0 || self.size > limits::PHOTO_BYTES {
            faults.push(Fault::new("photo", "A photo has at least one byte and at most 64 MiB."));
        }
        if self.camera_size.is_some_and(|camera| camera <= self.size || camera > limits::PHOTO_BYTES) {
            faults.push(Fault::new("photo", "A picture made smaller is smaller than the camera's own."));
        }
        for (at, text) in [("shot", Some(&self.shot)), ("taken", self.taken_claim.as_ref())] {
            if text.is_some_and(|text| text.chars().count() > limits::TITLE) {
                faults.push(Fault::new(at, format!("This has more than {} characters.", limits::TITLE)));
            }
        }
        faults
    }
}

/// Notes that a photograph exists on a phone, and says where its upload stands.
pub async fn declare(ctx: &Context, build: BuildId, declared: Declaration) -> Result<Standing, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    refuse(declared.faults())?;
    let at = ctx.clock.now();
    let since = at - SignedDuration::from_hours(24);
    let sha256 = declared.sha256.clone();
    let detail = json!({ "capture": declared.capture, "sha256": declared.sha256, "size": declared.size, "shot": declared.shot,
        "camera_size": declared.camera_size });
    let entry = ctx.entry(ROOM, build, "A photo was taken.".to_owned(), detail);
    let photo = Photo {
        capture: declared.capture,
        build,
        shot: declared.shot,
        note: declared.note,
        sha256: declared.sha256,
        size: declared.size,
        camera_size: declared.camera_size,
        taken_claim: declared.taken_claim,
        declared: at,
        by: ctx.by.name.clone(),
        received: None,
        withdrawn: None,
    };
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                write.build(build).await?;
                if let Some(there) = write.photo(photo.capture).await? {
                    let same = (there.build, &there.sha256, there.size) == (build, &photo.sha256, photo.size);
                    return if same { Ok(((), None)) } else { Err(ActionError::OtherContent) };
                }
                if write.photos_by_since(&photo.by, since).await? >= limits::PHOTOS_A_DAY {
                    let most = limits::PHOTOS_A_DAY;
                    return Err(ActionError::TooMany(format!(
                        "{most} photos were told of under this name within a day; the shop takes more when a day has passed."
                    )));
                }
                let others = write.photos_of_content(build, &photo.sha256).await?;
                if others.iter().any(|other| other.size != photo.size) {
                    let why = "This content was told of before with another size. Take the photo again.";
                    return Err(ActionError::Refused(vec![Fault::new("photo", why)]));
                }
                write.add_photo(&photo).await?;
                if let Some(received) = others.into_iter().find_map(|other| other.received) {
                    let entry = write.entry_to_come().await?;
                    write.photo_received(build, &photo.sha256, &Received { at, entry, ..received }).await?;
                }
                Ok(((), Some(entry)))
            })
        })
        .await?;
    standing(ctx, build, &sha256).await
}

/// Where the upload of a content into a build stands.
pub async fn standing(ctx: &Context, build: BuildId, sha256: &Fingerprint) -> Result<Standing, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    let (upload, receipt) = declared_of(ctx, build, sha256).await?;
    let offset = if receipt.is_some() { upload.size } else { ctx.store.vault().parts().offset(&upload).await? };
    Ok(Standing { upload, offset, receipt })
}

/// Adds bytes at an offset; when this answers, they are on the disk.
pub async fn append(
    ctx: &Context,
    build: BuildId,
    sha256: &Fingerprint,
    offset: u64,
    bytes: Vec<u8>,
) -> Result<Appended, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    let (upload, receipt) = declared_of(ctx, build, sha256).await?;
    if receipt.is_some() {
        return Ok(Appended::GoOnFrom(upload.size));
    }
    Ok(ctx.store.vault().parts().append(&upload, offset, bytes).await?)
}

/// Ends an upload: checks it whole, keeps it, looks at it, and gives the receipt. Repeated, it gives the same receipt.
pub async fn finish(ctx: &Context, build: BuildId, sha256: &Fingerprint, look: &Look) -> Result<Finished, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    let (upload, receipt) = declared_of(ctx, build, sha256).await?;
    if let Some(receipt) = receipt {
        return Ok(Finished::Kept(receipt));
    }
    let parts = ctx.store.vault().parts();
    let whole = parts.offset(&upload).await? == upload.size;
    let refusal = if whole { Kind::of(&parts.first_bytes(&upload).await?).refusal() } else { None };
    if let Some(why) = refusal {
        // Another request may have ended it in between; then there is a receipt, and nothing is wrong.
        if let (_, Some(receipt)) = declared_of(ctx, build, sha256).await? {
            return Ok(Finished::Kept(receipt));
        }
        parts.give_up(&upload).await?;
        return Err(ActionError::Refused(vec![Fault::new("photo", why)]));
    }
    match parts.keep(&upload).await? {
        Arrived::Kept => {}
        Arrived::GoOnFrom(offset) => {
            // Another request may have kept it in between.
            let (_, receipt) = declared_of(ctx, build, sha256).await?;
            return Ok(receipt.map_or(Finished::GoOnFrom(offset), Finished::Kept));
        }
        Arrived::Altered => {
            note_altered(ctx, &upload).await?;
            return Ok(Finished::Altered);
        }
    }
    let looked = look(sha256.clone()).await;
    let receipt = note_received(ctx, &upload, looked).await?;
    parts.forget(&upload);
    Ok(Finished::Kept(receipt))
}

/// Keeps a photograph that comes whole.
pub async fn keep_whole(ctx: &Context, build: BuildId, whole: Whole, look: &Look) -> Result<Finished, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    let size = whole.bytes.len() as u64;
    // before it is told of: what is no photo is not waited for
    if let Some(why) = Kind::of(&whole.bytes).refusal() {
        return Err(ActionError::Refused(vec![Fault::new("photo", why)]));
    }
    let hashing = tokio::task::spawn_blocking(move || (Fingerprint::of(&whole.bytes), whole.bytes)).await;
    let (sha256, mut bytes) = hashing.map_err(|error| ActionError::NotWorked(error.to_string()))?;
    let (capture, shot, note) = (whole.capture, whole.shot, whole.note);
    let declared =
        Declaration { capture, sha256: sha256.clone(), size, shot, note, camera_size: None, taken_claim: None };
    let standing = declare(ctx, build, declared).await?;
    // what is there already is taken away in place: a second copy would take the room of another photograph
    bytes.drain(..usize::try_from(standing.offset).map_or(bytes.len(), |there| there.min(bytes.len())));
    if bytes.is_empty() {
        drop(bytes);
    } else {
        append(ctx, build, &sha256, standing.offset, bytes).await?;
    }
    finish(ctx, build, &sha256, look).await
}

/// Gives a transfer up; the photograph stays, as one that is still on a phone.
pub async fn give_up(ctx: &Context, build: BuildId, sha256: &Fingerprint) -> Result<(), ActionError> {
    ctx.allow(Deed::RecordWork)?;
    let (upload, receipt) = declared_of(ctx, build, sha256).await?;
    if receipt.is_none() {
        ctx.store.vault().parts().give_up(&upload).await?;
    }
    Ok(())
}

/// Throws away what has arrived of photographs to which nothing was added for [`limits::PART_DAYS`] days, with a line in
/// the log; the photographs stay, as ones that are still on a phone. Says how many there were.
pub async fn drop_old_parts(store: &Store, clock: &Clock) -> Result<usize, ActionError> {
    let at = clock.now();
    let before = at - SignedDuration::from_hours(24 * limits::PART_DAYS);
    let before = SystemTime::UNIX_EPOCH + Duration::from_secs(u64::try_from(before.as_second()).unwrap_or_default());
    let mut dropped = 0;
    for (build, sha256) in store.vault().parts().older_than(before).await? {
        let captures = store.photos_of_content(build, &sha256).await?;
        let Some(photo) = captures.first().filter(|_| captures.iter().all(|photo| photo.received.is_none())) else {
            continue;
        };
        store.vault().parts().give_up(&Upload { build, sha256: sha256.clone(), size: photo.size }).await?;
        let days = limits::PART_DAYS;
        let entry = Entry {
            build: Some(build),
            by: "the program".to_owned(),
            at,
            room: ROOM,
            what: format!(
                "Part of a photo had come and nothing more for {days} days: it was dropped, the phone has it."
            ),
            detail: json!({ "sha256": sha256 }),
        };
        store.change::<_, ActionError, _>(move |_| Box::pin(async move { Ok(((), Some(entry))) })).await?;
        dropped += 1;
    }
    Ok(dropped)
}

/// Places a photograph at the shot it answers. Not once a round shows it.
pub async fn place(ctx: &Context, build: BuildId, capture: CaptureId, shot: &str) -> Result<(), ActionError> {
    ctx.allow(Deed::RecordWork)?;
    let shot = shot.trim().to_owned();
    if shot.chars().count() > limits::TITLE {
        return Err(ActionError::Refused(vec![Fault::new("shot", "Choose a shot of the list.")]));
    }
    let what = if shot.is_empty() {
        "A photo was taken off its shot.".to_owned()
    } else {
        format!("A photo was placed at {shot}.")
    };
    let mut entry = ctx.entry(ROOM, build, what, serde_json::Value::Null);
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let photo = write.photo(capture).await?.filter(|photo| photo.build == build);
                let photo = photo.ok_or(ActionError::NotFound("photo"))?;
                if photo.shot == shot {
                    return Ok(((), None));
                }
                not_in_a_round(write, build, &photo).await?;
                write.place_photo(capture, &shot).await?;
                entry.detail = json!({ "capture": capture, "shot": shot, "before": photo.shot });
                Ok(((), Some(entry)))
            })
        })
        .await
}

/// Refuses when an issued round shows a photograph.
async fn not_in_a_round(write: &mut Write, build: BuildId, photo: &Photo) -> Result<(), ActionError> {
    let issued = write.rounds(build).await?;
    if let Some(round) = issued.iter().find(|round| round.contents.contains(photo.sha256.text())) {
        let why = format!("Round {} shows this photo, so it stays. Add a better one.", round.number);
        return Err(ActionError::Held(why));
    }
    Ok(())
}

/// Withdraws a photograph from the evidence: its bytes, and who withdrew it, when and why, stay. Not once a round shows it.
pub async fn withdraw(ctx: &Context, build: BuildId, capture: CaptureId, why: &str) -> Result<(), ActionError> {
    ctx.allow(Deed::Withdraw)?;
    refuse(limits::title_faults("why", why))?;
    let withdrawn = Withdrawn { at: ctx.clock.now(), by: ctx.by.name.clone(), why: why.trim().to_owned() };
    let detail = json!({ "capture": capture, "why": withdrawn.why });
    let entry = ctx.entry(ROOM, build, format!("A photo was withdrawn: {}", withdrawn.why), detail);
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let photo = write.photo(capture).await?.filter(|photo| photo.build == build);
                let photo = photo.ok_or(ActionError::NotFound("photo"))?;
                not_in_a_round(write, build, &photo).await?;
                let first = write.withdraw_photo(capture, &withdrawn).await?;
                Ok(((), first.then_some(entry)))
            })
        })
        .await
}

async fn declared_of(
    ctx: &Context,
    build: BuildId,
    sha256: &Fingerprint,
) -> Result<(Upload, Option<Received>), ActionError> {
    let captures = ctx.store.photos_of_content(build, sha256).await?;
    let size = captures.first().ok_or(ActionError::NotFound("upload"))?.size;
    let receipt = captures.into_iter().find_map(|photo| photo.received);
    Ok((Upload { build, sha256: sha256.clone(), size }, receipt))
}

async fn note_received(ctx: &Context, upload: &Upload, looked: Looked) -> Result<Received, ActionError> {
    let Upload { build, sha256, size } = upload.clone();
    let mut entry = ctx.entry(ROOM, build, "A photo was received.".to_owned(), serde_json::Value::Null);
    let Looked { seen, remarks: declared } = looked;
    let dots = seen.as_ref().map(|seen| (seen.width, seen.height));
    let mut received = Received { at: ctx.clock.now(), entry: 0, dots, remarks: declared };
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let there = write.photos_of_content(build, &sha256).await?;
                let shot = there.first().map(|photo| photo.shot.clone()).unwrap_or_default();
                received.remarks.extend(there.iter().find_map(Photo::made_smaller));
                if let Some(receipt) = there.into_iter().find_map(|photo| photo.received) {
                    return Ok((receipt, None));
                }
                if let Some(seen) = seen {
                    let bounds = write.look_bounds().await?;
                    let others = write.likenesses(build, &sha256).await?;
                    received.remarks.extend(remarks(&seen, &bounds));
                    received.remarks.extend(nearly_the_same(&seen, &shot, &others, &bounds));
                    write.add_seen(build, &sha256, &seen).await?;
                }
                received.entry = write.entry_to_come().await?;
                entry.detail =
                    json!({ "sha256": sha256, "size": size, "dots": received.dots, "remarks": received.remarks });
                write.photo_received(build, &sha256, &received).await?;
                Ok((received, Some(entry)))
            })
        })
        .await
}

async fn note_altered(ctx: &Context, upload: &Upload) -> Result<(), ActionError> {
    let what = "A photo arrived altered and was thrown away; the phone sends it again.".to_owned();
    let entry = ctx.entry(ROOM, upload.build, what, json!({ "sha256": upload.sha256 }));
    ctx.store.change(move |_| Box::pin(async move { Ok(((), Some(entry))) })).await
}
