//! Rows of how a cage is lowered and of what was looked at for it; only added to.

use jiff::Timestamp;
use sqlx::FromRow;

use crate::domain::recorded::lowering::{Look, Lowering};
use crate::domain::words::ids::BuildId;
use crate::store::engine::Executor;
use crate::store::error::StoreError;
use crate::store::lane::Write;
use crate::store::text::{json, listed, moment, parsed};

#[derive(Debug, FromRow)]
struct Row {
    wanted: bool,
    plan: String,
}

#[derive(Debug, FromRow)]
struct LookRow {
    place: String,
    looked: String,
    ticked: String,
    plan: String,
    note: String,
    at: String,
    by: String,
}

impl LookRow {
    fn look(self) -> Result<Look, StoreError> {
        Ok(Look {
            place: self.place,
            looked: listed("lowering_looks", "looked", &self.looked)?,
            ticked: listed("lowering_looks", "ticked", &self.ticked)?,
            plan: self.plan,
            note: self.note,
            at: parsed("lowering_looks", "at", &self.at)?,
            by: self.by,
        })
    }
}

/// How a build's cage is lowered, as it was said last.
pub(in crate::store) async fn of_build(on: impl Executor<'_>, build: BuildId) -> Result<Option<Lowering>, StoreError> {
    let row: Option<Row> = sqlx::query_as("SELECT * FROM lowering WHERE build = $1 ORDER BY number DESC LIMIT 1")
        .bind(build.to_string())
        .fetch_optional(on)
        .await?;
    let read = |row: Row| Ok(Lowering { wanted: row.wanted, settings: listed("lowering", "plan", &row.plan)? });
    row.map(read).transpose()
}

/// The newest look at each place of a build.
pub(in crate::store) async fn looks_of_build(on: impl Executor<'_>, build: BuildId) -> Result<Vec<Look>, StoreError> {
    let rows: Vec<LookRow> = sqlx::query_as(
        "SELECT * FROM lowering_looks
         WHERE number IN (SELECT MAX(number) FROM lowering_looks WHERE build = $1 GROUP BY place)
         ORDER BY number",
    )
    .bind(build.to_string())
    .fetch_all(on)
    .await?;
    rows.into_iter().map(LookRow::look).collect()
}

impl Write {
    /// Adds how a build's cage is lowered.
    pub async fn add_lowering(
        &mut self,
        build: BuildId,
        lowering: &Lowering,
        at: Timestamp,
        by: &str,
    ) -> Result<(), StoreError> {
        sqlx::query("INSERT INTO lowering (build, wanted, plan, at, by) VALUES ($1, $2, $3, $4, $5)")
            .bind(build.to_string())
            .bind(lowering.wanted)
            .bind(json(&lowering.settings)?)
            .bind(moment(at))
            .bind(by)
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }

    /// Adds what was looked at.
    pub async fn add_look(&mut self, build: BuildId, look: &Look) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT INTO lowering_looks (build, place, looked, ticked, plan, note, at, by)
             VALUES ($1, $2, $3, $4, $5, $6, $7, $8)",
        )
        .bind(build.to_string())
        .bind(&look.place)
        .bind(json(&look.looked)?)
        .bind(json(&look.ticked)?)
        .bind(&look.plan)
        .bind(&look.note)
        .bind(moment(look.at))
        .bind(&look.by)
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }
}
