//! Rows of who looked at which photograph, and when; none of them ever changes.

use sqlx::FromRow;

use crate::domain::recorded::photos::{LookedAt, Photo};
use crate::domain::words::ids::BuildId;
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::lane::Write;
use crate::store::text::{moment, parsed};

#[derive(Debug, FromRow)]
struct Row {
    capture: String,
    shot: String,
    looked: String,
    by: String,
}

impl Row {
    fn looked_at(self) -> Result<LookedAt, StoreError> {
        Ok(LookedAt {
            capture: parsed("photos_looked", "capture", &self.capture)?,
            at: parsed("photos_looked", "looked", &self.looked)?,
            shot: self.shot,
            by: self.by,
        })
    }
}

impl Store {
    /// Who looked at which of a build's photographs.
    pub async fn photos_looked(&self, build: BuildId) -> Result<Vec<LookedAt>, StoreError> {
        let rows: Vec<Row> = sqlx::query_as(
            "SELECT capture, shot, looked, by FROM photos_looked
             WHERE capture IN (SELECT capture FROM photos WHERE build = $1)",
        )
        .bind(build.to_string())
        .fetch_all(self.readers())
        .await?;
        rows.into_iter().map(Row::looked_at).collect()
    }
}

impl Write {
    /// Whether somebody looked at a photograph as it stands, as the writer finds it.
    pub async fn is_looked(&mut self, photo: &Photo) -> Result<bool, StoreError> {
        let there: Option<i64> =
            sqlx::query_scalar("SELECT number FROM photos_looked WHERE capture = $1 AND shot = $2")
                .bind(photo.capture.to_string())
                .bind(&photo.shot)
                .fetch_optional(&mut self.connection)
                .await?;
        Ok(there.is_some())
    }

    /// Says that somebody looked at a photograph.
    pub async fn add_looked(&mut self, looked: &LookedAt) -> Result<(), StoreError> {
        sqlx::query("INSERT INTO photos_looked (capture, shot, looked, by) VALUES ($1, $2, $3, $4)")
            .bind(looked.capture.to_string())
            .bind(&looked.shot)
            .bind(moment(looked.at))
            .bind(&looked.by)
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }
}
