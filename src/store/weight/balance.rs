//! Rows of where a car's wheels stand; measured again, never changed.

use jiff::Timestamp;
use sqlx::FromRow;

use crate::domain::weight::balance::Wheels;
use crate::domain::words::ids::BuildId;
use crate::store::engine::Executor;
use crate::store::error::StoreError;
use crate::store::lane::Write;
use crate::store::text::{json, listed, moment};

#[derive(Debug, FromRow)]
struct Row {
    wheelbase: String,
    track_front: String,
    track_rear: String,
    hoop_behind: String,
}

/// A build's wheels as they were measured last.
pub(in crate::store) async fn of_build(on: impl Executor<'_>, build: BuildId) -> Result<Option<Wheels>, StoreError> {
    let row: Option<Row> = sqlx::query_as("SELECT * FROM wheels WHERE build = $1 ORDER BY number DESC LIMIT 1")
        .bind(build.to_string())
        .fetch_optional(on)
        .await?;
    let read = |row: Row| {
        Ok(Wheels {
            wheelbase: listed("wheels", "wheelbase", &row.wheelbase)?,
            track_front: listed("wheels", "track_front", &row.track_front)?,
            track_rear: listed("wheels", "track_rear", &row.track_rear)?,
            hoop_behind: listed("wheels", "hoop_behind", &row.hoop_behind)?,
        })
    };
    row.map(read).transpose()
}

impl Write {
    /// Adds where a build's wheels stand.
    pub async fn add_wheels(
        &mut self,
        build: BuildId,
        wheels: &Wheels,
        at: Timestamp,
        by: &str,
    ) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT INTO wheels (build, wheelbase, track_front, track_rear, hoop_behind, at, by)
             VALUES ($1, $2, $3, $4, $5, $6, $7)",
        )
        .bind(build.to_string())
        .bind(json(&wheels.wheelbase)?)
        .bind(json(&wheels.track_front)?)
        .bind(json(&wheels.track_rear)?)
        .bind(json(&wheels.hoop_behind)?)
        .bind(moment(at))
        .bind(by)
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }
}
