//! Rows of what was said of photographs on the walk; none of them ever changes.

use sqlx::FromRow;

use crate::domain::recorded::photos::{PhotoSaid, Statement};
use crate::domain::words::ids::BuildId;
use crate::store::engine::Executor;
use crate::store::error::StoreError;
use crate::store::lane::Write;
use crate::store::text::{moment, parsed};

#[derive(Debug, FromRow)]
struct Row {
    capture: String,
    shot: String,
    what: String,
    words: String,
    said: String,
    by: String,
}

impl Row {
    fn photo_said(self) -> Result<PhotoSaid, StoreError> {
        let damaged = StoreError::Damaged { table: "photos_said", column: "what" };
        Ok(PhotoSaid {
            capture: parsed("photos_said", "capture", &self.capture)?,
            shot: self.shot,
            said: Statement::of(&self.what, self.words).ok_or(damaged)?,
            at: parsed("photos_said", "said", &self.said)?,
            by: self.by,
        })
    }
}

/// All that was said of a build's photographs, in the order it was said.
pub(in crate::store) async fn of_build(on: impl Executor<'_>, build: BuildId) -> Result<Vec<PhotoSaid>, StoreError> {
    let rows: Vec<Row> = sqlx::query_as(
        "SELECT capture, shot, what, words, said, by FROM photos_said
         WHERE capture IN (SELECT capture FROM photos WHERE build = $1) ORDER BY number",
    )
    .bind(build.to_string())
    .fetch_all(on)
    .await?;
    rows.into_iter().map(Row::photo_said).collect()
}

impl Write {
    /// Whether that was said of a photograph as it stands, as the writer finds it.
    pub async fn is_said(&mut self, new: &PhotoSaid) -> Result<bool, StoreError> {
        let (what, words) = new.said.parts();
        let there: Option<i64> = sqlx::query_scalar(
            "SELECT number FROM photos_said WHERE capture = $1 AND shot = $2 AND what = $3 AND words = $4",
        )
        .bind(new.capture.to_string())
        .bind(&new.shot)
        .bind(what)
        .bind(words)
        .fetch_optional(&mut self.connection)
        .await?;
        Ok(there.is_some())
    }

    /// Adds what was said of a photograph.
    pub async fn add_said(&mut self, new: &PhotoSaid) -> Result<(), StoreError> {
        let (what, words) = new.said.parts();
        sqlx::query("INSERT INTO photos_said (capture, shot, what, words, said, by) VALUES ($1, $2, $3, $4, $5, $6)")
            .bind(new.capture.to_string())
            .bind(&new.shot)
            .bind(what)
            .bind(words)
            .bind(moment(new.at))
            .bind(&new.by)
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }
}
