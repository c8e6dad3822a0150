//! Photographs that come by a plain form: read as they arrive, each within its bound, kept one after the other.

use std::time::Duration;

use axum::extract::Multipart;
use axum::extract::multipart::Field;

use crate::actions::recorded::photos::{Finished, Look, Whole};
use crate::actions::{self, ActionError, Context};
use crate::domain::recorded::photos::Received;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::{BuildId, CaptureId};
use crate::domain::words::limits;
use crate::web::problem::Problem;

/// Most photographs of one form.
const MOST_FILES: usize = 100;
/// Most bytes that are read on after a file was found too large, so that the browser comes to see the answer.
const READ_ON: u64 = 512 << 20;

/// What a form brought.
#[derive(Debug, Default)]
pub(super) struct Posted {
    /// The shot it answers; empty for a photograph nobody asked for.
    pub(super) shot: String,
    /// What was written with it.
    pub(super) note: String,
    /// What was kept, in the order of the form.
    pub(super) kept: Vec<(CaptureId, Received)>,
    /// What is wrong, in sentences.
    pub(super) faults: Vec<String>,
}

/// Reads a form and keeps the photographs in it.
pub(super) async fn keep_posted(
    ctx: &Context,
    build: BuildId,
    look: &Look,
    patience: Duration,
    mut form: Multipart,
) -> Result<Posted, Problem> {
    let (mut posted, mut capture, mut files) = (Posted::default(), String::new(), 0);
    while let Some(field) = form.next_field().await.map_err(|error| cut_off(&error))? {
        let name = field.name().unwrap_or_default().to_owned();
        match name.as_str() {
            "capture" => capture = text(field).await?,
            "shot" => posted.shot = text(field).await?,
            "note" => posted.note = text(field).await?,
            "photo" => {
                let Some(bytes) = bytes(field, patience).await? else {
                    posted
                        .faults
                        .push("This file has more than 64 MiB. Set the camera to a smaller picture.".to_owned());
                    continue;
                };
                if bytes.is_empty() {
                    continue;
                }
                files += 1;
                if files > MOST_FILES {
                    posted.faults.push(format!("At most {MOST_FILES} photos at a time; send the rest again."));
                    break;
                }
                let Some(capture) = nth(&capture, files) else { return Err(Problem::NotFound) };
                let whole = Whole { capture, shot: posted.shot.clone(), note: posted.note.clone(), bytes };
                keep(ctx, build, look, whole, &mut posted).await?;
            }
            _ => {}
        }
    }
    if files == 0 && posted.faults.is_empty() {
        posted.faults.push("No photo was chosen. Touch one of the two fields first.".to_owned());
    }
    Ok(posted)
}

async fn keep(ctx: &Context, build: BuildId, look: &Look, whole: Whole, posted: &mut Posted) -> Result<(), Problem> {
    let capture = whole.capture;
    match actions::recorded::photos::keep_whole(ctx, build, whole, look).await {
        Ok(Finished::Kept(receipt)) => posted.kept.push((capture, receipt)),
        Ok(_) => posted.faults.push("This photo did not arrive whole. Send it again.".to_owned()),
        Err(ActionError::Refused(faults)) => posted.faults.extend(faults.into_iter().map(|fault| fault.why)),
        Err(other) => return Err(other.into()),
    }
    Ok(())
}

/// The name of a form's n-th photograph: drawn with the form for the first, and following from it for the others, so that
/// sending the form twice gives each once.
fn nth(capture: &str, number: usize) -> Option<CaptureId> {
    let first: CaptureId = capture.parse().ok()?;
    if number == 1 {
        return Some(first);
    }
    let name = Fingerprint::of(format!("{first} {number}").as_bytes());
    name.text().get(..32)?.parse().ok()
}

fn cut_off(error: &axum::extract::multipart::MultipartError) -> Problem {
    Problem::Action(ActionError::Refused(vec![crate::domain::words::faults::Fault::new(
        "photo",
        format!("The photo was cut off on its way. Send it again. ({})", error.status()),
    )]))
}

async fn text(mut field: Field<'_>) -> Result<String, Problem> {
    let mut bytes = Vec::new();
    while let Some(chunk) = field.chunk().await.map_err(|error| cut_off(&error))? {
        // four bytes a letter at most (RFC 3629, 3)
        if bytes.len() + chunk.len() > limits::TEXT * 4 {
            return Err(Problem::NotFound);
        }
        bytes.extend_from_slice(&chunk);
    }
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

/// A file's bytes; none when there are too many, read to their end all the same.
async fn bytes(mut field: Field<'_>, patience: Duration) -> Result<Option<Vec<u8>>, Problem> {
    let (mut bytes, mut read) = (Vec::new(), 0_u64);
    loop {
        let silent = |_| Problem::NotMade("nothing came any more".to_owned());
        let chunk = tokio::time::timeout(patience, field.chunk()).await.map_err(silent)?;
        let Some(chunk) = chunk.map_err(|error| cut_off(&error))? else { break };
        read += chunk.len() as u64;
        if read > READ_ON {
            break;
        }
        if read <= limits::PHOTO_BYTES {
            bytes.extend_from_slice(&chunk);
        } else {
            bytes = Vec::new();
        }
    }
    Ok((read <= limits::PHOTO_BYTES).then_some(bytes))
}

#[cfg(test)]
mod tests {
    use super::nth;

    #[test]
    fn the_same_form_names_its_photos_alike() {
        let form = "0198c3f0-0000-7000-8000-000000000001";
        assert_eq!(nth(form, 1).unwrap().to_string(), form);
        assert_eq!(nth(form, 2), nth(form, 2));
        assert_ne!(nth(form, 2), nth(form, 3));
        assert_eq!(nth("no name", 1), None);
    }
}
