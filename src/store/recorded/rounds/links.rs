//! Rows of the links by which a round is read without a sign-in; each changes once, when it is withdrawn.

use sqlx::FromRow;

use crate::domain::recorded::rounds::links::ReadingLink;
use crate::domain::words::ids::{BuildId, LinkId};
use crate::store::engine::Executor;
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::lane::Write;
use crate::store::text::{moment, parsed};

#[derive(Debug, FromRow)]
struct Row {
    id: String,
    build: String,
    round: String,
    number: u32,
    reader: String,
    made: String,
    by: String,
    ends: String,
    withdrawn: String,
    withdrawn_by: String,
}

impl Row {
    fn link(self) -> Result<ReadingLink, StoreError> {
        let withdrawn = if self.withdrawn.is_empty() {
            None
        } else {
            Some((parsed("reading_links", "withdrawn", &self.withdrawn)?, self.withdrawn_by))
        };
        Ok(ReadingLink {
            id: parsed("reading_links", "id", &self.id)?,
            build: parsed("rounds", "build", &self.build)?,
            round: parsed("reading_links", "round", &self.round)?,
            number: self.number,
            reader: self.reader,
            made: parsed("reading_links", "made", &self.made)?,
            by: self.by,
            ends: parsed("reading_links", "ends", &self.ends)?,
            withdrawn,
        })
    }
}

async fn of_build(on: impl Executor<'_>, build: BuildId) -> Result<Vec<ReadingLink>, StoreError> {
    let rows: Vec<Row> = sqlx::query_as(
        "SELECT reading_links.id, build, reading_links.round, rounds.round AS number, reader, made, reading_links.by, ends,
             withdrawn, withdrawn_by
         FROM reading_links JOIN rounds ON rounds.id = reading_links.round WHERE build = $1 ORDER BY made, reading_links.id",
    )
    .bind(build.to_string())
    .fetch_all(on)
    .await?;
    rows.into_iter().map(Row::link).collect()
}

impl Store {
    /// The links to a build's rounds, oldest first.
    pub async fn reading_links(&self, build: BuildId) -> Result<Vec<ReadingLink>, StoreError> {
        of_build(self.readers(), build).await
    }

    /// The link of a secret, by the secret's SHA-256, whether it is still good or not.
    pub async fn reading_link_of(&self, secret: &str) -> Result<Option<ReadingLink>, StoreError> {
        let row: Option<Row> = sqlx::query_as(
            "SELECT reading_links.id, build, reading_links.round, rounds.round AS number, reader, made, reading_links.by,
                 ends, withdrawn, withdrawn_by
             FROM reading_links JOIN rounds ON rounds.id = reading_links.round WHERE secret = $1",
        )
        .bind(secret)
        .fetch_optional(self.readers())
        .await?;
        row.map(Row::link).transpose()
    }
}

impl Write {
    /// The same as the writer finds it.
    pub async fn reading_links(&mut self, build: BuildId) -> Result<Vec<ReadingLink>, StoreError> {
        of_build(&mut self.connection, build).await
    }

    /// Adds a link with its secret's SHA-256.
    pub async fn add_reading_link(&mut self, link: &ReadingLink, secret: &str) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT INTO reading_links (id, round, secret, reader, made, by, ends) VALUES ($1, $2, $3, $4, $5, $6, $7)",
        )
        .bind(link.id.to_string())
        .bind(link.round.to_string())
        .bind(secret)
        .bind(&link.reader)
        .bind(moment(link.made))
        .bind(&link.by)
        .bind(moment(link.ends))
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }

    /// Withdraws a link, once.
    pub async fn withdraw_reading_link(&mut self, id: LinkId, at: jiff::Timestamp, by: &str) -> Result<(), StoreError> {
        sqlx::query("UPDATE reading_links SET withdrawn = $2, withdrawn_by = $3 WHERE id = $1 AND withdrawn = ''")
            .bind(id.to_string())
            .bind(moment(at))
            .bind(by)
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }
}
