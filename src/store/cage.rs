//! Rows of cages: the record of each build's cage as JSON, with its version.

use sqlx::SqliteExecutor;

use super::error::StoreError;
use super::handle::Store;
use super::lane::Write;
use crate::domain::facts::CageText;
use crate::domain::ids::BuildId;

/// A build's cage; none until it was first saved.
pub(super) async fn of_build(on: impl SqliteExecutor<'_>, build: BuildId) -> Result<Option<CageText>, StoreError> {
    let row: Option<(String, i64)> = sqlx::query_as("SELECT json, version FROM cages WHERE build = $1")
        .bind(build.to_string())
        .fetch_optional(on)
        .await?;
    Ok(row.map(|(json, version)| CageText { json, version }))
}

impl Store {
    /// A build's cage; none until it was first saved.
    pub async fn cage(&self, build: BuildId) -> Result<Option<CageText>, StoreError> {
        of_build(self.readers(), build).await
    }
}

impl Write {
    /// Saves a build's cage over the version that was edited (0 when there was none) and gives the new version.
    pub async fn save_cage(&mut self, build: BuildId, version: i64, json: &str) -> Result<i64, StoreError> {
        let now = of_build(&mut self.connection, build).await?.map_or(0, |cage| cage.version);
        if now != version {
            return Err(StoreError::Stale { now });
        }
        sqlx::query(
            "INSERT INTO cages (build, json, version) VALUES ($1, $2, 1)
             ON CONFLICT (build) DO UPDATE SET json = excluded.json, version = version + 1",
        )
        .bind(build.to_string())
        .bind(json)
        .execute(&mut self.connection)
        .await?;
        Ok(version + 1)
    }
}
