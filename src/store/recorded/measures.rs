//! Rows of figures that people read off the car; only added to.

use sqlx::FromRow;

use crate::domain::derived::measures::ReadOff;
use crate::domain::measure::figures::Measured;
use crate::domain::measure::measures::Measure;
use crate::domain::measure::tools::Tool;
use crate::domain::words::ids::BuildId;
use crate::store::engine::Executor;
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::lane::Write;
use crate::store::text::{maybe, moment, parsed};

#[derive(Debug, FromRow)]
struct Row {
    measure: String,
    of_balloon: String,
    value: f64,
    text: String,
    at: String,
    by: String,
    tool: Option<String>,
}

impl Row {
    fn measured(self) -> Result<Measured, StoreError> {
        let measure: Measure = parsed("measured", "measure", &self.measure)?;
        let read = ReadOff::of(measure, measure.dimension().of_base_unit(self.value), &self.text);
        Ok(Measured {
            measure,
            of: parsed("measured", "of_balloon", &self.of_balloon)?,
            amount: read.amount(),
            text: read.text().to_owned(),
            at: parsed("measured", "at", &self.at)?,
            by: self.by,
            tool: maybe("measured", "tool", self.tool.as_deref())?,
        })
    }
}

/// The newest of each measure and part of a build, in the order they were recorded.
pub(in crate::store) async fn of_build(on: impl Executor<'_>, build: BuildId) -> Result<Vec<Measured>, StoreError> {
    let rows: Vec<Row> = sqlx::query_as(
        "SELECT * FROM measured
         WHERE number IN (SELECT MAX(number) FROM measured WHERE build = $1 GROUP BY measure, of_balloon)
         ORDER BY number",
    )
    .bind(build.to_string())
    .fetch_all(on)
    .await?;
    rows.into_iter().map(Row::measured).collect()
}

impl Store {
    /// What was measured of a build: the newest of each measure and part.
    pub async fn measured(&self, build: BuildId) -> Result<Vec<Measured>, StoreError> {
        of_build(self.readers(), build).await
    }
}

impl Write {
    /// Adds a figure that somebody read off the car.
    pub async fn add_measured(&mut self, build: BuildId, measured: &Measured) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT INTO measured (build, measure, of_balloon, value, text, at, by, tool)
             VALUES ($1, $2, $3, $4, $5, $6, $7, $8)",
        )
        .bind(build.to_string())
        .bind(measured.measure.word())
        .bind(measured.of.to_string())
        .bind(measured.amount.in_base_unit())
        .bind(&measured.text)
        .bind(moment(measured.at))
        .bind(&measured.by)
        .bind(measured.tool.map(Tool::key))
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }
}
