//! Rows of a car's own dates; only added to.

use jiff::Timestamp;
use sqlx::FromRow;

use crate::domain::words::car_dates::CarDates;
use crate::domain::words::ids::BuildId;
use crate::store::engine::Executor;
use crate::store::error::StoreError;
use crate::store::lane::Write;
use crate::store::text::{maybe, moment, parsed};

#[derive(Debug, FromRow)]
struct Row {
    registered: Option<String>,
    homologated: Option<String>,
    log_book: Option<String>,
    at: String,
}

/// What is known of a build's car; nothing, before it was recorded.
pub(in crate::store) async fn of_build(on: impl Executor<'_>, build: BuildId) -> Result<CarDates, StoreError> {
    let row: Option<Row> = sqlx::query_as(
        "SELECT registered, homologated, log_book, at FROM car_dates WHERE build = $1 ORDER BY number DESC LIMIT 1",
    )
    .bind(build.to_string())
    .fetch_optional(on)
    .await?;
    let Some(row) = row else { return Ok(CarDates::default()) };
    Ok(CarDates {
        registered: maybe("car_dates", "registered", row.registered.as_deref())?,
        homologated: maybe("car_dates", "homologated", row.homologated.as_deref())?,
        log_book: maybe("car_dates", "log_book", row.log_book.as_deref())?,
        at: Some(parsed("car_dates", "at", &row.at)?),
    })
}

impl Write {
    /// What is known of a build's car, as the writer finds it.
    pub async fn car_dates(&mut self, build: BuildId) -> Result<CarDates, StoreError> {
        of_build(&mut self.connection, build).await
    }

    /// Adds what somebody recorded of the car.
    pub async fn add_car_dates(
        &mut self,
        build: BuildId,
        dates: &CarDates,
        at: Timestamp,
        by: &str,
    ) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT INTO car_dates (build, registered, homologated, log_book, at, by) VALUES ($1, $2, $3, $4, $5, $6)",
        )
        .bind(build.to_string())
        .bind(dates.registered.map(|date| date.to_string()))
        .bind(dates.homologated.map(|date| date.to_string()))
        .bind(dates.log_book.map(|date| date.to_string()))
        .bind(moment(at))
        .bind(by)
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }
}
