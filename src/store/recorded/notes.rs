//! Rows of what people write in a build's log: work done, hours, cost, what is waited for.

use sqlx::FromRow;

use crate::domain::recorded::notes::{Ended, Note, Struck, Wait};
use crate::domain::words::ids::{BuildId, NoteId};
use crate::quantity::{Hours, Money};
use crate::store::engine::Executor;
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::lane::Write;
use crate::store::text::{moment, parsed};

#[derive(Debug, FromRow)]
struct Row {
    id: String,
    build: String,
    day: String,
    text: String,
    hours: Option<f64>,
    cost_minor: Option<i64>,
    waiting_on: String,
    written: String,
    by: String,
    how: Option<String>,
    ended: Option<String>,
    ended_by: Option<String>,
    why: Option<String>,
    struck: Option<String>,
    struck_by: Option<String>,
}

/// A build's notes, newest first, or one of them; each with the end of its wait and its stroke, where it has one.
const NOTES: &str = "SELECT notes.*, how, ended, waits_ended.by AS ended_by, why, struck, notes_struck.by AS struck_by
                     FROM notes LEFT JOIN waits_ended ON waits_ended.note = notes.id
                     LEFT JOIN notes_struck ON notes_struck.note = notes.id
                     WHERE build = $1 AND ($2 IS NULL OR id = $2) ORDER BY number DESC";

impl Row {
    fn note(self) -> Result<Note, StoreError> {
        let ended = match (self.how, self.ended, self.ended_by) {
            (Some(how), Some(at), Some(by)) => Some(Ended { how, at: parsed("waits_ended", "ended", &at)?, by }),
            _ => None,
        };
        let struck = match (self.why, self.struck, self.struck_by) {
            (Some(why), Some(at), Some(by)) => Some(Struck { why, at: parsed("notes_struck", "struck", &at)?, by }),
            _ => None,
        };
        let waits = !self.waiting_on.is_empty();
        Ok(Note {
            waits: waits.then_some(Wait { on: self.waiting_on, ended }),
            id: parsed("notes", "id", &self.id)?,
            build: parsed("notes", "build", &self.build)?,
            day: parsed("notes", "day", &self.day)?,
            text: self.text,
            hours: self.hours.map(Hours::from_hours),
            cost: self.cost_minor.map(Money::from_minor),
            written: parsed("notes", "written", &self.written)?,
            by: self.by,
            struck,
        })
    }
}

/// A build's notes, newest first.
pub(in crate::store) async fn of_build(on: impl Executor<'_>, build: BuildId) -> Result<Vec<Note>, StoreError> {
    let rows: Vec<Row> = sqlx::query_as(NOTES).bind(build.to_string()).bind(None::<String>).fetch_all(on).await?;
    rows.into_iter().map(Row::note).collect()
}

impl Store {
    /// A build's notes, newest first.
    pub async fn notes(&self, build: BuildId) -> Result<Vec<Note>, StoreError> {
        of_build(self.readers(), build).await
    }
}

impl Write {
    /// Adds a note.
    pub async fn add_note(&mut self, note: &Note) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT INTO notes (id, build, day, text, hours, cost_minor, waiting_on, written, by)
             VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)",
        )
        .bind(note.id.to_string())
        .bind(note.build.to_string())
        .bind(note.day.to_string())
        .bind(&note.text)
        .bind(note.hours.map(Hours::hours))
        .bind(note.cost.map(Money::minor))
        .bind(note.waits.as_ref().map(|wait| wait.on.as_str()).unwrap_or_default())
        .bind(moment(note.written))
        .bind(&note.by)
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }

    /// A note of a build.
    pub async fn note(&mut self, build: BuildId, id: NoteId) -> Result<Note, StoreError> {
        let row: Option<Row> = sqlx::query_as(NOTES)
            .bind(build.to_string())
            .bind(id.to_string())
            .fetch_optional(&mut self.connection)
            .await?;
        row.ok_or(StoreError::NotFound("line of the log"))?.note()
    }

    /// Strikes a note through.
    pub async fn strike_note(&mut self, note: NoteId, struck: &Struck) -> Result<(), StoreError> {
        sqlx::query("INSERT INTO notes_struck (note, why, struck, by) VALUES ($1, $2, $3, $4)")
            .bind(note.to_string())
            .bind(&struck.why)
            .bind(moment(struck.at))
            .bind(&struck.by)
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }

    /// Ends what a note waits for.
    pub async fn end_wait(&mut self, note: NoteId, ended: &Ended) -> Result<(), StoreError> {
        sqlx::query("INSERT INTO waits_ended (note, how, ended, by) VALUES ($1, $2, $3, $4)")
            .bind(note.to_string())
            .bind(&ended.how)
            .bind(moment(ended.at))
            .bind(&ended.by)
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }
}
