//! Rows of orders of welding; only added to, the newest counts.

use sqlx::FromRow;

use crate::domain::recorded::welds::order::WeldOrder;
use crate::domain::words::ids::BuildId;
use crate::store::engine::Executor;
use crate::store::error::StoreError;
use crate::store::lane::Write;
use crate::store::text::{json, listed, moment, parsed};

#[derive(Debug, FromRow)]
struct Row {
    version: i64,
    joints: String,
    at: String,
    by: String,
}

/// The newest order that was set of a build; none before the first.
pub(in crate::store) async fn of_build(on: impl Executor<'_>, build: BuildId) -> Result<Option<WeldOrder>, StoreError> {
    let row: Option<Row> = sqlx::query_as(
        "SELECT version, joints, at, by FROM weld_orders WHERE build = $1 ORDER BY version DESC LIMIT 1",
    )
    .bind(build.to_string())
    .fetch_optional(on)
    .await?;
    let read = |row: Row| {
        Ok(WeldOrder {
            version: row.version,
            joints: listed("weld_orders", "joints", &row.joints)?,
            at: parsed("weld_orders", "at", &row.at)?,
            by: row.by,
        })
    };
    row.map(read).transpose()
}

impl Write {
    /// The same as the writer finds it.
    pub async fn weld_order(&mut self, build: BuildId) -> Result<Option<WeldOrder>, StoreError> {
        of_build(&mut self.connection, build).await
    }

    /// Sets an order.
    pub async fn add_weld_order(&mut self, build: BuildId, order: &WeldOrder) -> Result<(), StoreError> {
        sqlx::query("INSERT INTO weld_orders (build, version, joints, at, by) VALUES ($1, $2, $3, $4, $5)")
            .bind(build.to_string())
            .bind(order.version)
            .bind(json(&order.joints)?)
            .bind(moment(order.at))
            .bind(&order.by)
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }
}
