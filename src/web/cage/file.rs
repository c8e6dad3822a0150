//! A build's cage as a file, out and in: what taking it in would change is shown before it is done.

use axum::extract::{Form as Posted, Multipart};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};

use super::change::ChangeSheet;
use super::standing;
use crate::actions::{self, ActionError};
use crate::domain::cage::files::{Brought, measured, written};
use crate::domain::cage::record::changed::{changed, renumbered};
use crate::domain::shop::people::Deed;
use crate::domain::words::faults::Fault;
use crate::domain::words::limits;
use crate::web::form::{Form, Pairs};
use crate::web::gate::Seen;
use crate::web::page::show;
use crate::web::problem::Problem;

/// The build's cage as a file, under the build's name.
pub(super) async fn out(seen: Seen) -> Result<Response, Problem> {
    if seen.facts.cage.is_none() {
        return Err(Problem::NotFound);
    }
    let (record, _) = standing(&seen.facts)?;
    let found = seen.found().await?;
    let headers = [
        (header::CONTENT_TYPE, "application/json".to_owned()),
        (header::CONTENT_DISPOSITION, format!("attachment; filename=\"{}-cage.json\"", seen.facts.build.slug)),
        (header::CACHE_CONTROL, "private, no-store".to_owned()),
    ];
    Ok((headers, written(&record, &found.worked.tubes)).into_response())
}

/// A file that was sent: what it would change.
pub(super) async fn look(seen: Seen, form: Multipart) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::SetUpBuilds)?;
    match sent(form).await {
        Ok(file) => describe(&seen, &file, StatusCode::OK).await,
        Err(why) => show(StatusCode::UNPROCESSABLE_ENTITY, &refused(&seen, &[Fault::new("file", why)])),
    }
}

/// Takes the file in that was shown.
pub(super) async fn take(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::SetUpBuilds)?;
    let form = Form::of(seen.who.units, typed);
    let (file, version) = (form.raw("file").replace("\r\n", "\n"), form.version());
    match actions::recorded::cage::take_in(&seen.who.ctx, seen.build(), version, &file).await {
        Ok(version) => Ok(Redirect::to(&seen.address(&format!("/cage?saved={version}"))).into_response()),
        Err(ActionError::Refused(faults)) => show(StatusCode::UNPROCESSABLE_ENTITY, &refused(&seen, &faults)),
        // What it would change is another thing now: it is shown again before anything is done.
        Err(ActionError::Stale { .. }) => describe(&seen, &file, StatusCode::CONFLICT).await,
        Err(other) => Err(other.into()),
    }
}

/// The text of the file, or why there is none.
async fn sent(mut form: Multipart) -> Result<String, String> {
    let cut_off = || "The file was cut off on its way, or has more than 128 KiB. Send it again.".to_owned();
    while let Some(mut field) = form.next_field().await.map_err(|_| cut_off())? {
        if field.name() != Some("file") {
            continue;
        }
        let mut bytes = Vec::new();
        while let Some(chunk) = field.chunk().await.map_err(|_| cut_off())? {
            if bytes.len() + chunk.len() > limits::CAGE_FILE_BYTES {
                return Err("A cage file has at most 128 KiB.".to_owned());
            }
            bytes.extend_from_slice(&chunk);
        }
        if bytes.is_empty() {
            break;
        }
        return String::from_utf8(bytes).map_err(|_| "This is no text. A cage file is a text in JSON.".to_owned());
    }
    Err("No file was chosen.".to_owned())
}

fn refused(seen: &Seen, faults: &[Fault]) -> ChangeSheet {
    ChangeSheet {
        faults: faults.iter().map(Fault::to_string).collect(),
        lines: vec!["Nothing was changed. The file cannot be taken in as it is.".to_owned()],
        ..ChangeSheet::new(seen, "Cage file", "/cage/file/take")
    }
}

async fn describe(seen: &Seen, file: &str, status: StatusCode) -> Result<Response, Problem> {
    let Brought { record, tubes } = match measured(file) {
        Ok(brought) => brought,
        Err(faults) => return show(StatusCode::UNPROCESSABLE_ENTITY, &refused(seen, &faults)),
    };
    let facts = seen.who.ctx.store.facts(seen.build()).await?;
    let (before, version) = standing(&facts)?;
    let found = seen.found().await?;
    let taken = record.with_numbers_of(&before).numbered();
    let mut lines = vec![if version == 0 {
        "No cage was laid out yet: the file's would be the first.".to_owned()
    } else {
        "The file's cage would take the place of the one that stands. That one is kept: the last change can be taken back."
            .to_owned()
    }];
    if let Some(tubes) = tubes.filter(|tubes| *tubes != found.worked.tubes) {
        lines.push(format!(
            "The file was made for {} and {}. Here the weighed car and the book decide the tube: {} and {}.",
            tubes.hoop, tubes.other, found.worked.tubes.hoop, found.worked.tubes.other
        ));
    }
    let other = renumbered(&record, &taken);
    if !other.is_empty() {
        let list: Vec<String> =
            other.iter().map(|(part, there, here)| format!("{part} {there}, here {here}")).collect();
        lines.push(format!("This build keeps the numbers it gave out. In the file: {}.", list.join("; ")));
    }
    let sheet = ChangeSheet {
        overtaken: status == StatusCode::CONFLICT,
        lines,
        changes: changed(&before, &taken),
        hidden: vec![("version", version.to_string()), ("file", file.to_owned())],
        button: "Take this cage in",
        ..ChangeSheet::new(seen, "Cage file", "/cage/file/take")
    };
    show(status, &sheet)
}
