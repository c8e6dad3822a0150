//! Rows of the shop's bending dies.

use jiff::Timestamp;
use sqlx::FromRow;

use crate::domain::steel::dies::{Bender, Die};
use crate::domain::words::ids::DieId;
use crate::store::engine::Executor;
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::lane::Write;
use crate::store::text::{json, listed, moment, parsed};

#[derive(Debug, FromRow)]
struct Row {
    id: String,
    name: String,
    outside: String,
    radius: String,
    offset: String,
    tests: String,
    swing: String,
    plus: String,
    in_use: bool,
    version: i64,
}

impl Row {
    fn die(self) -> Result<Die, StoreError> {
        Ok(Die {
            id: parsed("dies", "id", &self.id)?,
            name: self.name,
            outside: listed("dies", "outside", &self.outside)?,
            radius: listed("dies", "radius", &self.radius)?,
            offset: listed("dies", "offset", &self.offset)?,
            tests: listed("dies", "tests", &self.tests)?,
            bender: Bender { swing: parsed("dies", "swing", &self.swing)?, plus: parsed("dies", "plus", &self.plus)? },
            in_use: self.in_use,
            version: self.version,
        })
    }
}

async fn by_id(on: impl Executor<'_>, id: DieId) -> Result<Option<Die>, StoreError> {
    let row: Option<Row> =
        sqlx::query_as("SELECT * FROM dies WHERE id = $1").bind(id.to_string()).fetch_optional(on).await?;
    row.map(Row::die).transpose()
}

impl Store {
    /// The shop's dies, oldest first.
    pub async fn dies(&self) -> Result<Vec<Die>, StoreError> {
        let rows: Vec<Row> = sqlx::query_as("SELECT * FROM dies ORDER BY number").fetch_all(self.readers()).await?;
        rows.into_iter().map(Row::die).collect()
    }
}

impl Write {
    /// The shop's dies, oldest first.
    pub async fn dies(&mut self) -> Result<Vec<Die>, StoreError> {
        let rows: Vec<Row> =
            sqlx::query_as("SELECT * FROM dies ORDER BY number").fetch_all(&mut self.connection).await?;
        rows.into_iter().map(Row::die).collect()
    }

    /// A die.
    pub async fn die(&mut self, id: DieId) -> Result<Die, StoreError> {
        by_id(&mut self.connection, id).await?.ok_or(StoreError::NotFound("die"))
    }

    /// Adds a die.
    pub async fn add_die(&mut self, die: &Die, at: Timestamp, by: &str) -> Result<(), StoreError> {
        sqlx::query(
            r#"INSERT INTO dies (id, name, outside, radius, "offset", tests, version, added, by, swing, plus, in_use)
             VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12)"#,
        )
        .bind(die.id.to_string())
        .bind(&die.name)
        .bind(json(&die.outside)?)
        .bind(json(&die.radius)?)
        .bind(json(&die.offset)?)
        .bind(json(&die.tests)?)
        .bind(die.version)
        .bind(moment(at))
        .bind(by)
        .bind(die.bender.swing.word())
        .bind(die.bender.plus.word())
        .bind(die.in_use)
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }

    /// Changes what is said of a die.
    pub async fn change_die(&mut self, die: &Die) -> Result<(), StoreError> {
        sqlx::query("UPDATE dies SET tests = $1, swing = $2, plus = $3, in_use = $4, version = $5 WHERE id = $6")
            .bind(json(&die.tests)?)
            .bind(die.bender.swing.word())
            .bind(die.bender.plus.word())
            .bind(die.in_use)
            .bind(die.version)
            .bind(die.id.to_string())
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }
}
