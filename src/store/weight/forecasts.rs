//! Rows of what was foreseen when a finished car was weighed; they never change.

use crate::domain::weight::forecast::Forecast;
use crate::domain::words::ids::BuildId;
use crate::store::engine::Executor;
use crate::store::error::StoreError;
use crate::store::lane::Write;
use crate::store::text::{json, listed};

/// What was foreseen of a build, oldest first.
pub(in crate::store) async fn of_build(on: impl Executor<'_>, build: BuildId) -> Result<Vec<Forecast>, StoreError> {
    let rows: Vec<String> = sqlx::query_scalar("SELECT forecast FROM forecasts WHERE build = $1 ORDER BY weigh_in")
        .bind(build.to_string())
        .fetch_all(on)
        .await?;
    rows.iter().map(|text| listed("forecasts", "forecast", text)).collect()
}

impl Write {
    /// Keeps what was foreseen when the finished car was weighed.
    pub async fn add_forecast(&mut self, build: BuildId, forecast: &Forecast) -> Result<(), StoreError> {
        sqlx::query("INSERT INTO forecasts (build, weigh_in, forecast) VALUES ($1, $2, $3)")
            .bind(build.to_string())
            .bind(forecast.weigh_in)
            .bind(json(forecast)?)
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }
}
