//! Rows of kit: the items of a build with their labels.

pub mod moves;

use jiff::Timestamp;
use sqlx::FromRow;

use crate::domain::recorded::kit::KitItem;
use crate::domain::words::ids::{BuildId, KitId};
use crate::store::engine::Executor;
use crate::store::error::StoreError;
use crate::store::lane::Write;
use crate::store::text::{json, listed, moment, parsed};

#[derive(Debug, FromRow)]
pub(in crate::store) struct Row {
    id: String,
    balloon: u32,
    item: String,
    label: String,
    second_label: Option<String>,
    note: String,
    version: i64,
}

impl Row {
    pub(in crate::store) fn item(self) -> Result<KitItem, StoreError> {
        Ok(KitItem {
            id: parsed("kit", "id", &self.id)?,
            number: self.balloon,
            item: self.item,
            label: listed("kit", "label", &self.label)?,
            second_label: self.second_label.as_deref().map(|text| listed("kit", "second_label", text)).transpose()?,
            note: self.note,
            version: self.version,
        })
    }
}

/// The kit that is in a build, by number. What went on to another car is not.
pub(in crate::store) async fn of_build(on: impl Executor<'_>, build: BuildId) -> Result<Vec<KitItem>, StoreError> {
    let rows: Vec<Row> = sqlx::query_as(
        "SELECT * FROM kit WHERE build = $1 AND id NOT IN (SELECT left_as FROM kit_moves)
         AND NOT EXISTS (SELECT 1 FROM kit_ways_brought WHERE item = kit.id AND gone = 1) ORDER BY balloon",
    )
    .bind(build.to_string())
    .fetch_all(on)
    .await?;
    rows.into_iter().map(Row::item).collect()
}

impl Write {
    /// The number of the next item of a build: K1, K2 …
    pub async fn next_kit(&mut self, build: BuildId) -> Result<u32, StoreError> {
        Ok(sqlx::query_scalar("SELECT COALESCE(MAX(balloon), 0) + 1 FROM kit WHERE build = $1")
            .bind(build.to_string())
            .fetch_one(&mut self.connection)
            .await?)
    }

    /// An item that is in a build.
    pub async fn kit_item(&mut self, build: BuildId, id: KitId) -> Result<KitItem, StoreError> {
        let row: Option<Row> = sqlx::query_as(
            "SELECT * FROM kit WHERE build = $1 AND id = $2 AND id NOT IN (SELECT left_as FROM kit_moves)
             AND NOT EXISTS (SELECT 1 FROM kit_ways_brought WHERE item = kit.id AND gone = 1)",
        )
        .bind(build.to_string())
        .bind(id.to_string())
        .fetch_optional(&mut self.connection)
        .await?;
        row.ok_or(StoreError::NotFound("item"))?.item()
    }

    /// Adds an item.
    pub async fn add_kit(&mut self, build: BuildId, item: &KitItem, at: Timestamp, by: &str) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT INTO kit (id, build, balloon, item, label, second_label, note, version, added, by)
             VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)",
        )
        .bind(item.id.to_string())
        .bind(build.to_string())
        .bind(item.number)
        .bind(&item.item)
        .bind(json(&item.label)?)
        .bind(item.second_label.as_ref().map(json).transpose()?)
        .bind(&item.note)
        .bind(item.version)
        .bind(moment(at))
        .bind(by)
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }

    /// Changes what is said of an item; its number stays.
    pub async fn change_kit(&mut self, item: &KitItem) -> Result<(), StoreError> {
        sqlx::query("UPDATE kit SET item = $1, label = $2, second_label = $3, note = $4, version = $5 WHERE id = $6")
            .bind(&item.item)
            .bind(json(&item.label)?)
            .bind(item.second_label.as_ref().map(json).transpose()?)
            .bind(&item.note)
            .bind(item.version)
            .bind(item.id.to_string())
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }
}
