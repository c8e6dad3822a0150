//! Rows of photographs: declared by the phone, received by us, withdrawn by the office, never deleted.

use jiff::Timestamp;
use sqlx::FromRow;

use crate::domain::recorded::photos::{Photo, Received, Withdrawn};
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::{BuildId, CaptureId};
use crate::store::engine::Executor;
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::lane::Write;
use crate::store::text::{json, listed, maybe, moment, parsed};

#[derive(Debug, FromRow)]
struct Row {
    capture: String,
    build: String,
    shot: String,
    note: String,
    sha256: String,
    size: i64,
    camera_size: Option<i64>,
    taken_claim: Option<String>,
    declared: String,
    by: String,
    received: Option<String>,
    entry: Option<i64>,
    width: Option<u32>,
    height: Option<u32>,
    remarks: String,
    withdrawn: Option<String>,
    withdrawn_by: Option<String>,
    withdrawn_why: Option<String>,
}

impl Row {
    fn photo(self) -> Result<Photo, StoreError> {
        let received = maybe("photos", "received", self.received.as_deref())?;
        let withdrawn = maybe("photos", "withdrawn", self.withdrawn.as_deref())?;
        let remarks: Vec<String> = listed("photos", "remarks", &self.remarks)?;
        let dots = self.width.zip(self.height);
        let entry = self.entry.unwrap_or_default();
        Ok(Photo {
            capture: parsed("photos", "capture", &self.capture)?,
            build: parsed("photos", "build", &self.build)?,
            shot: self.shot,
            note: self.note,
            sha256: parsed("photos", "sha256", &self.sha256)?,
            size: u64::try_from(self.size).map_err(|_| StoreError::Damaged { table: "photos", column: "size" })?,
            camera_size: self.camera_size.and_then(|size| u64::try_from(size).ok()),
            taken_claim: self.taken_claim,
            declared: parsed("photos", "declared", &self.declared)?,
            by: self.by,
            received: received.map(|at| Received { at, entry, dots, remarks }),
            withdrawn: withdrawn.map(|at| Withdrawn {
                at,
                by: self.withdrawn_by.unwrap_or_default(),
                why: self.withdrawn_why.unwrap_or_default(),
            }),
        })
    }
}

async fn by_capture(on: impl Executor<'_>, capture: CaptureId) -> Result<Option<Photo>, StoreError> {
    let row: Option<Row> =
        sqlx::query_as("SELECT * FROM photos WHERE capture = $1").bind(capture.to_string()).fetch_optional(on).await?;
    row.map(Row::photo).transpose()
}

/// A build's photographs in the order they were told of.
pub(in crate::store) async fn of_build(on: impl Executor<'_>, build: BuildId) -> Result<Vec<Photo>, StoreError> {
    let rows: Vec<Row> = sqlx::query_as("SELECT * FROM photos WHERE build = $1 ORDER BY number")
        .bind(build.to_string())
        .fetch_all(on)
        .await?;
    rows.into_iter().map(Row::photo).collect()
}

async fn of_content(on: impl Executor<'_>, build: BuildId, sha256: &Fingerprint) -> Result<Vec<Photo>, StoreError> {
    let rows: Vec<Row> = sqlx::query_as("SELECT * FROM photos WHERE build = $1 AND sha256 = $2 ORDER BY number")
        .bind(build.to_string())
        .bind(sha256.text())
        .fetch_all(on)
        .await?;
    rows.into_iter().map(Row::photo).collect()
}

impl Store {
    /// A build's photographs in the order they were told of, those still on a phone and those withdrawn among them.
    pub async fn photos(&self, build: BuildId) -> Result<Vec<Photo>, StoreError> {
        of_build(self.readers(), build).await
    }

    /// The photograph of a capture, looked up within its build.
    pub async fn photo(&self, build: BuildId, capture: CaptureId) -> Result<Option<Photo>, StoreError> {
        Ok(by_capture(self.readers(), capture).await?.filter(|photo| photo.build == build))
    }

    /// The captures of one content in one build.
    pub async fn photos_of_content(&self, build: BuildId, sha256: &Fingerprint) -> Result<Vec<Photo>, StoreError> {
        of_content(self.readers(), build, sha256).await
    }
}

impl Write {
    /// The photograph of a capture, as the writer finds it.
    pub async fn photo(&mut self, capture: CaptureId) -> Result<Option<Photo>, StoreError> {
        by_capture(&mut self.connection, capture).await
    }

    /// The captures of one content in one build, as the writer finds it.
    pub async fn photos_of_content(&mut self, build: BuildId, sha256: &Fingerprint) -> Result<Vec<Photo>, StoreError> {
        of_content(&mut self.connection, build, sha256).await
    }

    /// How many photographs a person told of after a moment.
    pub async fn photos_by_since(&mut self, by: &str, since: Timestamp) -> Result<usize, StoreError> {
        let count: i64 = sqlx::query_scalar("SELECT count(*) FROM photos WHERE by = $1 AND declared > $2")
            .bind(by)
            .bind(moment(since))
            .fetch_one(&mut self.connection)
            .await?;
        Ok(usize::try_from(count).unwrap_or_default())
    }

    /// Adds a photograph as the phone told of it.
    pub async fn add_photo(&mut self, photo: &Photo) -> Result<(), StoreError> {
        let bytes = |size: u64| i64::try_from(size).map_err(|_| StoreError::NotKept("too long".to_owned()));
        let (size, camera_size) = (bytes(photo.size)?, photo.camera_size.map(bytes).transpose()?);
        sqlx::query(
            "INSERT INTO photos (capture, build, shot, note, sha256, size, taken_claim, declared, by, camera_size)
             VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)",
        )
        .bind(photo.capture.to_string())
        .bind(photo.build.to_string())
        .bind(&photo.shot)
        .bind(&photo.note)
        .bind(photo.sha256.text())
        .bind(size)
        .bind(&photo.taken_claim)
        .bind(moment(photo.declared))
        .bind(&photo.by)
        .bind(camera_size)
        .execute(&mut self.connection)
        .await
        .map_err(|error| StoreError::taken(error, "capture"))?;
        Ok(())
    }

    /// Notes that a content is kept, on every capture of it in the build that waits for it.
    pub async fn photo_received(
        &mut self,
        build: BuildId,
        sha256: &Fingerprint,
        received: &Received,
    ) -> Result<u64, StoreError> {
        let done = sqlx::query(
            "UPDATE photos SET received = $3, width = $4, height = $5, remarks = $6, entry = $7
             WHERE build = $1 AND sha256 = $2 AND received IS NULL",
        )
        .bind(build.to_string())
        .bind(sha256.text())
        .bind(moment(received.at))
        .bind(received.dots.map(|dots| dots.0))
        .bind(received.dots.map(|dots| dots.1))
        .bind(json(&received.remarks)?)
        .bind(received.entry)
        .execute(&mut self.connection)
        .await?;
        Ok(done.rows_affected())
    }

    /// Places a photograph at another shot.
    pub async fn place_photo(&mut self, capture: CaptureId, shot: &str) -> Result<(), StoreError> {
        sqlx::query("UPDATE photos SET shot = $2 WHERE capture = $1")
            .bind(capture.to_string())
            .bind(shot)
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }

    /// Withdraws a photograph; says whether it was not withdrawn before.
    pub async fn withdraw_photo(&mut self, capture: CaptureId, withdrawn: &Withdrawn) -> Result<bool, StoreError> {
        let done = sqlx::query(
            "UPDATE photos SET withdrawn = $2, withdrawn_by = $3, withdrawn_why = $4
             WHERE capture = $1 AND withdrawn IS NULL",
        )
        .bind(capture.to_string())
        .bind(moment(withdrawn.at))
        .bind(&withdrawn.by)
        .bind(&withdrawn.why)
        .execute(&mut self.connection)
        .await?;
        Ok(done.rows_affected() == 1)
    }
}
