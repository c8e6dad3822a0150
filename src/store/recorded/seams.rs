//! Rows of how the shop welds; stated again, never changed.

use jiff::Timestamp;
use sqlx::FromRow;

use crate::domain::work::seams::Rates;
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::lane::Write;
use crate::store::text::{json, listed, moment};

#[derive(Debug, FromRow)]
struct Row {
    leg: String,
    wire: String,
    efficiency: String,
    laid: String,
    arc: String,
}

impl Store {
    /// How the shop welds, as it was stated last; none until it was.
    pub async fn weld_rates(&self) -> Result<Option<Rates>, StoreError> {
        let row: Option<Row> = sqlx::query_as("SELECT * FROM weld_rates ORDER BY number DESC LIMIT 1")
            .fetch_optional(self.readers())
            .await?;
        let read = |row: Row| {
            Ok(Rates {
                leg: listed("weld_rates", "leg", &row.leg)?,
                wire: listed("weld_rates", "wire", &row.wire)?,
                efficiency: listed("weld_rates", "efficiency", &row.efficiency)?,
                laid: listed("weld_rates", "laid", &row.laid)?,
                arc: listed("weld_rates", "arc", &row.arc)?,
            })
        };
        row.map(read).transpose()
    }
}

impl Write {
    /// Adds how the shop welds.
    pub async fn add_weld_rates(&mut self, rates: &Rates, at: Timestamp, by: &str) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT INTO weld_rates (leg, wire, efficiency, laid, arc, at, by) VALUES ($1, $2, $3, $4, $5, $6, $7)",
        )
        .bind(json(&rates.leg)?)
        .bind(json(&rates.wire)?)
        .bind(json(&rates.efficiency)?)
        .bind(json(&rates.laid)?)
        .bind(json(&rates.arc)?)
        .bind(moment(at))
        .bind(by)
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }
}
