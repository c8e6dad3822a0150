//! Rows of patterns: from which car's file a build was begun, and the figures of that car.

use sqlx::FromRow;

use crate::domain::cage::CageRecord;
use crate::domain::recorded::car_file::pattern::Pattern;
use crate::domain::words::ids::BuildId;
use crate::store::engine::Executor;
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::lane::Write;
use crate::store::text::{moment, parsed};

#[derive(Debug, FromRow)]
struct Row {
    car: String,
    list: String,
    public: String,
    figures: String,
    at: String,
    by: String,
}

impl Row {
    fn pattern(self) -> Result<Pattern, StoreError> {
        let damaged = StoreError::Damaged { table: "patterns", column: "figures" };
        let figures: CageRecord = match serde_json::from_str::<CageRecord>(&self.figures) {
            Ok(figures) if figures.faults().is_empty() => figures,
            _ => return Err(damaged),
        };
        Ok(Pattern {
            car: self.car,
            list: parsed("patterns", "list", &self.list)?,
            public: self.public,
            at: parsed("patterns", "at", &self.at)?,
            by: self.by,
            figures,
        })
    }
}

/// The pattern of a build; none of one that was begun without.
pub(in crate::store) async fn of_build(on: impl Executor<'_>, build: BuildId) -> Result<Option<Pattern>, StoreError> {
    let row: Option<Row> = sqlx::query_as("SELECT car, list, public, figures, at, by FROM patterns WHERE build = $1")
        .bind(build.to_string())
        .fetch_optional(on)
        .await?;
    row.map(Row::pattern).transpose()
}

impl Store {
    /// The pattern of a build; none of one that was begun without.
    pub async fn pattern(&self, build: BuildId) -> Result<Option<Pattern>, StoreError> {
        of_build(self.readers(), build).await
    }
}

impl Write {
    /// Keeps by which pattern a build was begun; `figures` is the record's JSON.
    pub async fn add_pattern(&mut self, build: BuildId, pattern: &Pattern, figures: &str) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT INTO patterns (build, car, list, public, figures, at, by) VALUES ($1, $2, $3, $4, $5, $6, $7)",
        )
        .bind(build.to_string())
        .bind(&pattern.car)
        .bind(pattern.list.text())
        .bind(&pattern.public)
        .bind(figures)
        .bind(moment(pattern.at))
        .bind(&pattern.by)
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }
}
