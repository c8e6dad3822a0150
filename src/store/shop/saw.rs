//! Rows of how the shop cuts its tube; stated again, never changed.

use jiff::Timestamp;
use sqlx::FromRow;

use crate::domain::shop::saw::Saw;
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::lane::Write;
use crate::store::text::{json, listed, moment};

#[derive(Debug, FromRow)]
struct Row {
    kerf: String,
    trim: String,
    cope: String,
    grip: String,
    buy: String,
    keep: String,
}

impl Store {
    /// How the shop cuts its tube, as it was stated last; none until it was.
    pub async fn saw(&self) -> Result<Option<Saw>, StoreError> {
        let row: Option<Row> =
            sqlx::query_as("SELECT * FROM saw ORDER BY number DESC LIMIT 1").fetch_optional(self.readers()).await?;
        let read = |row: Row| {
            Ok(Saw {
                kerf: listed("saw", "kerf", &row.kerf)?,
                trim: listed("saw", "trim", &row.trim)?,
                cope: listed("saw", "cope", &row.cope)?,
                grip: listed("saw", "grip", &row.grip)?,
                buy: listed("saw", "buy", &row.buy)?,
                keep: listed("saw", "keep", &row.keep)?,
            })
        };
        row.map(read).transpose()
    }
}

impl Write {
    /// Adds how the shop cuts its tube.
    pub async fn add_saw(&mut self, saw: &Saw, at: Timestamp, by: &str) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT INTO saw (kerf, trim, cope, grip, buy, keep, at, by) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)",
        )
        .bind(json(&saw.kerf)?)
        .bind(json(&saw.trim)?)
        .bind(json(&saw.cope)?)
        .bind(json(&saw.grip)?)
        .bind(json(&saw.buy)?)
        .bind(json(&saw.keep)?)
        .bind(moment(at))
        .bind(by)
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }
}
