//! The log of a vehicle: what people wrote, and what the program noted of every change; searched, filtered, handed out.

mod found;
mod view;

use std::collections::HashMap;

use axum::extract::{Form as Posted, Path, Query};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde_json::json;

use self::found::{Found, searched};
use super::form::{Form, Pairs};
use super::gate::Seen;
use super::page::show;
use super::problem::Problem;
use super::routing::{Routes, get, post};
use super::shown::twin::Twin;
use crate::actions::{self, ActionError};
use crate::domain::recorded::notes::NewNote;
use crate::domain::words::ids::NoteId;
use crate::store::recorded::build_log::LogEntry;

/// Most entries that are handed out at once, the newest first (own choice: some fifty years of a busy build).
const MOST: u32 = 200_000;

/// The room's addresses.
pub(crate) fn routes() -> Routes {
    Routes::new()
        .route("/builds/{build}/log", get(log).post(write))
        .route("/builds/{build}/log.csv", get(table))
        .route("/builds/{build}/log.json", get(as_json))
        .route("/builds/{build}/log/{line}/over", post(over))
        .route("/builds/{build}/log/{line}/strike", post(strike))
}

/// What was typed: of a new line, and of a line that is there, where that was refused.
pub(crate) struct Typed<'a> {
    new: &'a Form,
    of_line: Option<(NoteId, &'a Form)>,
}

/// The log: `?q=` for words, `?by=` for a person's, `?room=` for what it is about; `?lines=2` for an earlier page of what
/// people wrote, `?entries=2` of what the program noted.
async fn log(seen: Seen, Query(asked): Query<HashMap<String, String>>) -> Result<Response, Problem> {
    let new = empty(&seen);
    sheet(&seen, StatusCode::OK, &Typed { new: &new, of_line: None }, &asked).await
}

/// A new line before anything is typed: it is about today.
fn empty(seen: &Seen) -> Form {
    Form::filled(seen.who.units, vec![("day".to_owned(), seen.who.ctx.clock.today().to_string())])
}

async fn sheet(
    seen: &Seen,
    status: StatusCode,
    typed: &Typed<'_>,
    asked: &HashMap<String, String>,
) -> Result<Response, Problem> {
    let found = Found::of(seen, asked).await?;
    show(status, &view::Log::of(seen, &found, typed))
}

/// The sheet with what was typed of a line that is there.
async fn refused(seen: &Seen, line: NoteId, form: &Form) -> Result<Response, Problem> {
    let typed = Typed { new: &empty(seen), of_line: Some((line, form)) };
    sheet(seen, StatusCode::UNPROCESSABLE_ENTITY, &typed, &HashMap::new()).await
}

/// Says that what a line waits for is over.
async fn over(
    seen: Seen,
    Path((_, line)): Path<(String, String)>,
    Posted(typed): Posted<Pairs>,
) -> Result<Response, Problem> {
    let line: NoteId = line.parse().map_err(|_| Problem::NotFound)?;
    let mut form = Form::of(seen.who.units, typed);
    match actions::recorded::notes::end_wait(&seen.who.ctx, seen.build(), line, form.text("how")).await {
        Ok(_) => Ok(Redirect::to(&seen.address("/log")).into_response()),
        Err(ActionError::Refused(faults)) => {
            form.refuse(faults);
            refused(&seen, line, &form).await
        }
        Err(other) => Err(other.into()),
    }
}

/// The name of the field that says why a line is struck through: each line has one of its own.
pub(crate) fn why_field(line: NoteId) -> String {
    format!("why_{line}")
}

/// Strikes a wrong line through.
async fn strike(
    seen: Seen,
    Path((_, line)): Path<(String, String)>,
    Posted(typed): Posted<Pairs>,
) -> Result<Response, Problem> {
    let line: NoteId = line.parse().map_err(|_| Problem::NotFound)?;
    let mut form = Form::of(seen.who.units, typed);
    let field = why_field(line);
    match actions::recorded::notes::strike(&seen.who.ctx, seen.build(), line, form.text(&field)).await {
        Ok(_) => Ok(Redirect::to(&seen.address("/log#written")).into_response()),
        Err(ActionError::Refused(faults)) => {
            for fault in faults {
                form.fault(&field, fault.why);
            }
            refused(&seen, line, &form).await
        }
        Err(other) => Err(other.into()),
    }
}

async fn write(seen: Seen, Posted(typed): Posted<Pairs>) -> Result<Response, Problem> {
    let mut form = Form::of(seen.who.units, typed);
    if let Some(note) = read(&mut form) {
        match actions::recorded::notes::add(&seen.who.ctx, seen.build(), note).await {
            Ok(_) => return Ok(Redirect::to(&seen.address("/log")).into_response()),
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(other) => return Err(other.into()),
        }
    }
    sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, &Typed { new: &form, of_line: None }, &HashMap::new()).await
}

fn read(form: &mut Form) -> Option<NewNote> {
    let day = form.parse("day", "This does not read as a day. Try 2026-05-16.");
    if day.is_none() && !form.is_faulty() {
        form.fault("day", "Which day is this about?");
    }
    let hours = form.read_if_typed("hours").map(|hours| hours.value);
    let cost = form.read_if_typed("cost").map(|cost| cost.value);
    if form.is_faulty() {
        return None;
    }
    let (text, waiting_on) = (form.text("text").to_owned(), form.text("waiting_on").to_owned());
    Some(NewNote { day: day?, text, hours, cost, waiting_on })
}

/// The entries that are looked for, the newest first, to be handed out; times in UTC (RFC 3339).
async fn twin(seen: &Seen, asked: &HashMap<String, String>) -> Result<Twin<8>, Problem> {
    let found = seen.who.ctx.store.log_found(seen.build(), &searched(asked), 0, MOST).await?;
    let line = |entry: LogEntry| {
        let LogEntry { number, at, by, room, what, detail, rows, hash, .. } = entry;
        [json!(number), json!(at), json!(by), json!(room), json!(what), detail, json!(rows), json!(hash)]
    };
    let head = ["number", "at", "by", "room", "what", "detail", "rows", "hash"];
    Ok(Twin { name: format!("{}-log", seen.facts.build.slug), head, lines: found.into_iter().map(line).collect() })
}

/// They as a table.
async fn table(seen: Seen, Query(asked): Query<HashMap<String, String>>) -> Result<Response, Problem> {
    twin(&seen, &asked).await?.table()
}

/// The same as data.
async fn as_json(seen: Seen, Query(asked): Query<HashMap<String, String>>) -> Result<Response, Problem> {
    Ok(twin(&seen, &asked).await?.data())
}
