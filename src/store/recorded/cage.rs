//! Rows of cages: the record of each build's cage as JSON, with its version, and every save that led to it.

use jiff::Timestamp;
use sqlx::{FromRow, QueryBuilder};

use super::build_log::Entry;
use crate::domain::recorded::facts::{CageSave, CageText, EarlierCage, InForce};
use crate::domain::words::ids::BuildId;
use crate::store::engine::{Connection, Executor};
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::lane::Write;
use crate::store::text::{moment, parsed};

#[derive(Debug, FromRow)]
struct Row {
    json: String,
    version: i64,
    at: String,
    by: String,
    what: String,
}

impl Row {
    fn save(self) -> Result<CageSave, StoreError> {
        let Self { json, version, at, by, what } = self;
        Ok(CageSave { cage: CageText { json, version }, at: parsed("cage_saves", "at", &at)?, by, what })
    }
}

/// A build's cage; none until it was first saved.
pub(in crate::store) async fn of_build(on: impl Executor<'_>, build: BuildId) -> Result<Option<CageText>, StoreError> {
    let row: Option<(String, i64)> = sqlx::query_as("SELECT json, version FROM cages WHERE build = $1")
        .bind(build.to_string())
        .fetch_optional(on)
        .await?;
    Ok(row.map(|(json, version)| CageText { json, version }))
}

/// The records of a build's cage that were in force at one of the moments and are another than the one that stands.
pub(in crate::store) async fn earlier(
    on: &mut Connection,
    build: BuildId,
    moments: &[Timestamp],
) -> Result<Vec<EarlierCage>, StoreError> {
    let rows: Vec<(i64, String)> =
        sqlx::query_as("SELECT version, at FROM cage_saves WHERE build = $1 ORDER BY version")
            .bind(build.to_string())
            .fetch_all(&mut *on)
            .await?;
    let read = |(version, at): (i64, String)| Ok((version, parsed("cage_saves", "at", &at)?));
    let saves: Vec<(i64, Timestamp)> = rows.into_iter().map(read).collect::<Result<_, StoreError>>()?;
    let spans = InForce::at_any(&saves, moments);
    if spans.is_empty() {
        return Ok(Vec::new());
    }
    let texts = other_texts(on, build, &spans).await?;
    let earlier = spans.into_iter().filter_map(|while_it_was| {
        let cage = texts.iter().find(|text| text.version == while_it_was.version).cloned();
        // What says the same as the record that stands is not read again.
        (cage.is_some() || while_it_was.version == 0).then_some(EarlierCage { cage, while_it_was })
    });
    Ok(earlier.collect())
}

async fn other_texts(on: &mut Connection, build: BuildId, spans: &[InForce]) -> Result<Vec<CageText>, StoreError> {
    let mut query = QueryBuilder::new("SELECT version, json FROM cage_saves WHERE build = ");
    query.push_bind(build.to_string()).push(" AND json <> (SELECT json FROM cages WHERE build = ");
    query.push_bind(build.to_string()).push(") AND version IN (");
    let mut versions = query.separated(", ");
    for span in spans {
        versions.push_bind(span.version);
    }
    query.push(")");
    let rows: Vec<(i64, String)> = query.build_query_as().fetch_all(on).await?;
    Ok(rows.into_iter().map(|(version, json)| CageText { json, version }).collect())
}

impl Store {
    /// A build's cage; none until it was first saved.
    pub async fn cage(&self, build: BuildId) -> Result<Option<CageText>, StoreError> {
        of_build(self.readers(), build).await
    }

    /// The saves of a build's cage, newest first, at most so many.
    pub async fn cage_saves(&self, build: BuildId, most: u32) -> Result<Vec<CageSave>, StoreError> {
        let rows: Vec<Row> = sqlx::query_as(
            "SELECT json, version, at, by, what FROM cage_saves WHERE build = $1 ORDER BY version DESC LIMIT $2",
        )
        .bind(build.to_string())
        .bind(most)
        .fetch_all(self.readers())
        .await?;
        rows.into_iter().map(Row::save).collect()
    }
}

impl Write {
    /// Saves a build's cage over the version that was edited (0 when there was none), with the words of its log entry, and
    /// gives the new version.
    pub async fn save_cage(
        &mut self,
        build: BuildId,
        version: i64,
        json: &str,
        entry: &Entry,
    ) -> Result<i64, StoreError> {
        let now = of_build(&mut self.connection, build).await?.map_or(0, |cage| cage.version);
        if now != version {
            return Err(StoreError::Stale { now });
        }
        sqlx::query(
            "INSERT INTO cages (build, json, version) VALUES ($1, $2, 1)
             ON CONFLICT (build) DO UPDATE SET json = excluded.json, version = cages.version + 1",
        )
        .bind(build.to_string())
        .bind(json)
        .execute(&mut self.connection)
        .await?;
        sqlx::query("INSERT INTO cage_saves (build, version, json, at, by, what) VALUES ($1, $2, $3, $4, $5, $6)")
            .bind(build.to_string())
            .bind(version + 1)
            .bind(json)
            .bind(moment(entry.at))
            .bind(&entry.by)
            .bind(&entry.what)
            .execute(&mut self.connection)
            .await?;
        Ok(version + 1)
    }
}
