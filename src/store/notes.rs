//! Rows of what people write in a build's log: work done, hours, cost, what is waited for.

use sqlx::{FromRow, SqliteExecutor};

use super::error::StoreError;
use super::handle::Store;
use super::lane::Write;
use super::text::{moment, parsed};
use crate::domain::build_log::Note;
use crate::domain::ids::BuildId;
use crate::quantity::{Hours, Money};

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
}

impl Row {
    fn note(self) -> Result<Note, StoreError> {
        Ok(Note {
            id: parsed("notes", "id", &self.id)?,
            build: parsed("notes", "build", &self.build)?,
            day: parsed("notes", "day", &self.day)?,
            text: self.text,
            hours: self.hours.map(Hours::from_hours),
            cost: self.cost_minor.map(Money::from_minor),
            waiting_on: self.waiting_on,
            written: parsed("notes", "written", &self.written)?,
            by: self.by,
        })
    }
}

/// A build's notes, newest first.
pub(super) async fn of_build(on: impl SqliteExecutor<'_>, build: BuildId) -> Result<Vec<Note>, StoreError> {
    let rows: Vec<Row> = sqlx::query_as("SELECT * FROM notes WHERE build = $1 ORDER BY number DESC")
        .bind(build.to_string())
        .fetch_all(on)
        .await?;
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
        .bind(&note.waiting_on)
        .bind(moment(note.written))
        .bind(&note.by)
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }
}
