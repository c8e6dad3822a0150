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
/// Most ticks of one form.
const MOST_TICKS: usize = 20;
/// So many files that were not taken are named; of more their number is told.
const NAMED: usize = 20;
/// Longest name of a file that is said again, in characters.
const LONGEST_NAME: usize = 80;
/// Most bytes that are read on after a file was found too large, so that the browser comes to see the answer.
const READ_ON: u64 = 512 << 20;

/// What a form brought.
#[derive(Debug, Default)]
pub(crate) struct Posted {
    /// The shot it answers; empty for a photograph nobody asked for.
    pub(crate) shot: String,
    /// What was written with it.
    pub(crate) note: String,
    /// What is ticked as seen in it.
    pub(crate) seen: Vec<String>,
    /// What was kept, in the order of the form.
    pub(crate) kept: Vec<(CaptureId, Received)>,
    /// What is wrong, in sentences.
    pub(crate) faults: Vec<String>,
}

/// Reads a form and keeps the photographs in it.
pub(crate) async fn keep_posted(
    ctx: &Context,
    build: BuildId,
    look: &Look,
    patience: Duration,
    mut form: Multipart,
) -> Result<Posted, Problem> {
    let (mut posted, mut capture, mut files) = (Posted::default(), String::new(), 0);
    let mut left: Vec<String> = Vec::new();
    while let Some(field) = form.next_field().await.map_err(|error| cut_off(&error))? {
        let name = field.name().unwrap_or_default().to_owned();
        match name.as_str() {
            "capture" => capture = text(field).await?,
            "shot" => posted.shot = text(field).await?,
            "note" => posted.note = text(field).await?,
            "seen" if posted.seen.len() < MOST_TICKS => posted.seen.push(text(field).await?),
            "photo" => {
                let file = file_name(&field);
                if files == MOST_FILES {
                    left.push(file);
                    continue;
                }
                let Some(bytes) = bytes(field, patience).await? else {
                    posted.faults.push(format!("{file}: more than 64 MiB. Set the camera to a smaller picture."));
                    continue;
                };
                if bytes.is_empty() {
                    continue;
                }
                files += 1;
                let Some(capture) = nth(&capture, files) else { return Err(Problem::NotFound) };
                let whole = Whole { capture, shot: posted.shot.clone(), note: posted.note.clone(), bytes };
                let told = posted.faults.len();
                keep(ctx, build, look, whole, &mut posted).await?;
                // Of several files it matters which one it was.
                for fault in posted.faults.iter_mut().skip(told) {
                    *fault = format!("{file}: {fault}");
                }
            }
            _ => {}
        }
    }
    if !left.is_empty() {
        let more = left.len().saturating_sub(NAMED);
        left.truncate(NAMED);
        let more = if more == 0 { String::new() } else { format!(" and {more} more") };
        let named = left.join(", ");
        posted
            .faults
            .push(format!("Not taken, for at most {MOST_FILES} go at a time: {named}{more}. Send them again."));
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

/// What a file is called where it came from: its own name, without the folders it lay in.
fn file_name(field: &Field<'_>) -> String {
    let name = field.file_name().unwrap_or_default();
    let own = name.rsplit(['/', '\\']).next().unwrap_or_default();
    let own: String = own.chars().filter(|letter| !letter.is_control()).take(LONGEST_NAME).collect();
    if own.is_empty() { "A file without a name".to_owned() } else { own }
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
