//! Rows of the weld log; only added to, a wrong one struck through.

pub(in crate::store) mod order;

use sqlx::FromRow;

use crate::domain::recorded::notes::Struck;
use crate::domain::recorded::welds::Weld;
use crate::domain::words::ids::{BuildId, WeldLineId};
use crate::store::engine::Executor;
use crate::store::error::StoreError;
use crate::store::lane::Write;
use crate::store::text::{json, listed, moment, parsed};

const TABLE: &str = "welds";

#[derive(Debug, FromRow)]
struct Row {
    line: u32,
    joint: String,
    day: String,
    did: String,
    note: String,
    held: String,
    at: String,
    by: String,
    why: Option<String>,
    struck: Option<String>,
    struck_by: Option<String>,
}

/// A build's weld log in the order it was written, each line with its stroke, where it has one.
const WELDS: &str =
    "SELECT line, joint, day, did, note, held, at, welds.by AS by, why, struck, welds_struck.by AS struck_by
                     FROM welds LEFT JOIN welds_struck ON weld = welds.number WHERE build = $1 ORDER BY line";

impl Row {
    fn weld(self) -> Result<Weld, StoreError> {
        let struck = match (self.why, self.struck, self.struck_by) {
            (Some(why), Some(at), Some(by)) => Some(Struck { why, at: parsed("welds_struck", "struck", &at)?, by }),
            _ => None,
        };
        Ok(Weld {
            line: self.line,
            joint: parsed(TABLE, "joint", &self.joint)?,
            day: parsed(TABLE, "day", &self.day)?,
            did: listed(TABLE, "did", &self.did)?,
            note: self.note,
            held: Some(self.held).filter(|held| !held.is_empty()),
            at: parsed(TABLE, "at", &self.at)?,
            by: self.by,
            struck,
        })
    }
}

/// A build's weld log, in the order it was written.
pub(in crate::store) async fn of_build(on: impl Executor<'_>, build: BuildId) -> Result<Vec<Weld>, StoreError> {
    let rows: Vec<Row> = sqlx::query_as(WELDS).bind(build.to_string()).fetch_all(on).await?;
    rows.into_iter().map(Row::weld).collect()
}

impl Write {
    /// A build's weld log, in the order it was written.
    pub async fn welds(&mut self, build: BuildId) -> Result<Vec<Weld>, StoreError> {
        of_build(&mut self.connection, build).await
    }

    /// Adds a line to a build's weld log.
    pub async fn add_weld(&mut self, build: BuildId, weld: &Weld) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT INTO welds (build, line, joint, day, did, note, held, at, by)
             VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)",
        )
        .bind(build.to_string())
        .bind(weld.line)
        .bind(weld.joint.to_string())
        .bind(weld.day.to_string())
        .bind(json(&weld.did)?)
        .bind(&weld.note)
        .bind(weld.held.as_deref().unwrap_or_default())
        .bind(moment(weld.at))
        .bind(&weld.by)
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }

    /// The line of a build's weld log that a phone named so; none of a name that was not told yet.
    pub async fn weld_named(&mut self, build: BuildId, id: WeldLineId) -> Result<Option<u32>, StoreError> {
        let found = sqlx::query_scalar(
            "SELECT line FROM welds_told JOIN welds ON welds.number = weld WHERE welds_told.build = $1 AND id = $2",
        )
        .bind(build.to_string())
        .bind(id.to_string())
        .fetch_optional(&mut self.connection)
        .await?;
        Ok(found)
    }

    /// Keeps the name that a phone gave to a line.
    pub async fn name_weld(&mut self, build: BuildId, line: u32, id: WeldLineId) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT INTO welds_told (build, id, weld)
             VALUES ($1, $2, (SELECT number FROM welds WHERE build = $1 AND line = $3))",
        )
        .bind(build.to_string())
        .bind(id.to_string())
        .bind(line)
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }

    /// Strikes a line of a build's weld log through.
    pub async fn strike_weld(&mut self, build: BuildId, line: u32, struck: &Struck) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT INTO welds_struck (weld, why, struck, by)
             VALUES ((SELECT number FROM welds WHERE build = $1 AND line = $2), $3, $4, $5)",
        )
        .bind(build.to_string())
        .bind(line)
        .bind(&struck.why)
        .bind(moment(struck.at))
        .bind(&struck.by)
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }
}
