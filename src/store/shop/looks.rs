//! Rows of what was seen in photographs, and of the bounds by which it is told.

use std::collections::BTreeMap;

use jiff::Timestamp;
use sqlx::FromRow;

use crate::domain::shop::looks::{Bounds, Seen};
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::BuildId;
use crate::quantity::Share;
use crate::store::engine::Executor;
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::lane::Write;
use crate::store::text::{moment, parsed};

#[derive(Debug, FromRow)]
struct Row {
    sha256: String,
    width: u32,
    height: u32,
    sharpness: f64,
    mean: f64,
    dark_share: f64,
    bright_share: f64,
    likeness: String,
    camera_says: Option<String>,
}

impl Row {
    fn seen(self) -> Result<(Fingerprint, Seen), StoreError> {
        let seen = Seen {
            width: self.width,
            height: self.height,
            taken: self.camera_says,
            sharpness: self.sharpness,
            mean: self.mean,
            dark_share: self.dark_share,
            bright_share: self.bright_share,
            difference_hash: likeness("looks", &self.likeness)?,
        };
        Ok((parsed("looks", "sha256", &self.sha256)?, seen))
    }
}

fn likeness(table: &'static str, text: &str) -> Result<u64, StoreError> {
    u64::from_str_radix(text, 16).map_err(|_| StoreError::Damaged { table, column: "likeness" })
}

async fn bounds(on: impl Executor<'_>) -> Result<Bounds, StoreError> {
    let row: Option<(f64, f64, f64, f64, u32)> =
        sqlx::query_as("SELECT blurred, dark, black, washed_out, alike FROM look_bounds ORDER BY number DESC LIMIT 1")
            .fetch_optional(on)
            .await?;
    let read = |(blurred, dark, black, washed_out, alike)| Bounds {
        blurred,
        dark,
        black: Share::from_ratio(black),
        washed_out: Share::from_ratio(washed_out),
        alike,
    };
    Ok(row.map(read).unwrap_or_default())
}

impl Store {
    /// What was seen in the photographs of a build.
    pub async fn looks(&self, build: BuildId) -> Result<BTreeMap<Fingerprint, Seen>, StoreError> {
        let rows: Vec<Row> = sqlx::query_as("SELECT * FROM looks WHERE build = $1 ORDER BY number")
            .bind(build.to_string())
            .fetch_all(self.readers())
            .await?;
        rows.into_iter().map(Row::seen).collect()
    }

    /// What was seen in one photograph of a build.
    pub async fn look(&self, build: BuildId, sha256: &Fingerprint) -> Result<Option<Seen>, StoreError> {
        let row: Option<Row> = sqlx::query_as("SELECT * FROM looks WHERE build = $1 AND sha256 = $2")
            .bind(build.to_string())
            .bind(sha256.text())
            .fetch_optional(self.readers())
            .await?;
        Ok(row.map(Row::seen).transpose()?.map(|(_, seen)| seen))
    }

    /// The bounds by which photographs are told; the program's own until the shop sets others.
    pub async fn look_bounds(&self) -> Result<Bounds, StoreError> {
        bounds(self.readers()).await
    }
}

impl Write {
    /// The bounds by which photographs are told, as the writer finds it.
    pub async fn look_bounds(&mut self) -> Result<Bounds, StoreError> {
        bounds(&mut self.connection).await
    }

    /// Sets the bounds for the photographs that come from now on.
    pub async fn set_look_bounds(&mut self, bounds: &Bounds, at: Timestamp, by: &str) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT INTO look_bounds (blurred, dark, black, washed_out, alike, at, by)
             VALUES ($1, $2, $3, $4, $5, $6, $7)",
        )
        .bind(bounds.blurred)
        .bind(bounds.dark)
        .bind(bounds.black.ratio())
        .bind(bounds.washed_out.ratio())
        .bind(bounds.alike)
        .bind(moment(at))
        .bind(by)
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }

    /// Adds what was seen in a photograph of a build; once for each content.
    pub async fn add_seen(&mut self, build: BuildId, sha256: &Fingerprint, seen: &Seen) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT INTO looks
             (build, sha256, width, height, sharpness, mean, dark_share, bright_share, likeness, camera_says)
             VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)",
        )
        .bind(build.to_string())
        .bind(sha256.text())
        .bind(seen.width)
        .bind(seen.height)
        .bind(seen.sharpness)
        .bind(seen.mean)
        .bind(seen.dark_share)
        .bind(seen.bright_share)
        .bind(format!("{:016x}", seen.difference_hash))
        .bind(&seen.taken)
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }

    /// The shots of the build's other photographs that count, each with its likeness.
    pub async fn likenesses(&mut self, build: BuildId, but: &Fingerprint) -> Result<Vec<(String, u64)>, StoreError> {
        let rows: Vec<(String, String)> = sqlx::query_as(
            "SELECT photos.shot, looks.likeness FROM photos
             JOIN looks ON looks.build = photos.build AND looks.sha256 = photos.sha256
             WHERE photos.build = $1 AND photos.sha256 <> $2 AND received IS NOT NULL AND withdrawn IS NULL
             ORDER BY photos.number",
        )
        .bind(build.to_string())
        .bind(but.text())
        .fetch_all(&mut self.connection)
        .await?;
        rows.into_iter().map(|(shot, text)| Ok((shot, likeness("looks", &text)?))).collect()
    }
}
