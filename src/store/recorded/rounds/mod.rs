//! Rows of issued rounds and the replies to them; neither ever changes.

pub mod links;
pub mod mails;
pub mod reviews;

use serde::de::DeserializeOwned;
use sqlx::FromRow;

use crate::domain::recorded::rounds::{Came, Decision, Reply, Round};
use crate::domain::words::ids::BuildId;
use crate::store::engine::{Connection, Executor};
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::lane::Write;
use crate::store::text::{json, listed, moment, parsed};

#[derive(Debug, FromRow)]
struct Row {
    id: String,
    build: String,
    round: u32,
    issue_key: String,
    contents: String,
    contents_sha256: String,
    packet_sha256: String,
    as_of: i64,
    issued: String,
    by: String,
}

impl Row {
    fn round(self) -> Result<Round, StoreError> {
        Ok(Round {
            id: parsed("rounds", "id", &self.id)?,
            build: parsed("rounds", "build", &self.build)?,
            number: self.round,
            issue_key: self.issue_key,
            contents: self.contents,
            contents_sha256: parsed("rounds", "contents_sha256", &self.contents_sha256)?,
            packet_sha256: parsed("rounds", "packet_sha256", &self.packet_sha256)?,
            as_of: self.as_of,
            issued: parsed("rounds", "issued", &self.issued)?,
            by: self.by,
        })
    }
}

#[derive(Debug, FromRow)]
struct ReplyRow {
    id: String,
    round: String,
    decision: String,
    released: String,
    despite: String,
    answers: String,
    words: String,
    given_by: String,
    licence: String,
    came: String,
    refused: bool,
    received: String,
    by: String,
}

impl ReplyRow {
    fn reply(self) -> Result<Reply, StoreError> {
        // the column knows two words alone: a refusal is a "not yet" that says so beside it
        let decision = if self.refused { Some(Decision::Refused) } else { Decision::of(&self.decision) };
        Ok(Reply {
            round: parsed("replies", "round", &self.round)?,
            decision: decision.ok_or(StoreError::Damaged { table: "replies", column: "decision" })?,
            released: listed("replies", "released", &self.released)?,
            despite: kept("despite", &self.despite)?,
            answers: kept("answers", &self.answers)?,
            received: parsed("replies", "received", &self.received)?,
            came: match self.came.as_str() {
                "" => None,
                word => Some(Came::of(word).ok_or(StoreError::Damaged { table: "replies", column: "came" })?),
            },
            licence: self.licence,
            id: self.id,
            words: self.words,
            given_by: self.given_by,
            by: self.by,
            mails: Vec::new(),
        })
    }
}

/// What a reply keeps as JSON beside its decision; none where nothing was.
fn kept<T: DeserializeOwned>(column: &'static str, text: &str) -> Result<Option<T>, StoreError> {
    if text.is_empty() {
        return Ok(None);
    }
    serde_json::from_str(text).map(Some).map_err(|_| StoreError::Damaged { table: "replies", column })
}

/// A build's rounds, oldest first.
pub(in crate::store) async fn of_build(on: impl Executor<'_>, build: BuildId) -> Result<Vec<Round>, StoreError> {
    let rows: Vec<Row> = sqlx::query_as("SELECT * FROM rounds WHERE build = $1 ORDER BY round")
        .bind(build.to_string())
        .fetch_all(on)
        .await?;
    rows.into_iter().map(Row::round).collect()
}

async fn of_key(on: impl Executor<'_>, key: &str) -> Result<Option<Round>, StoreError> {
    let row: Option<Row> =
        sqlx::query_as("SELECT * FROM rounds WHERE issue_key = $1").bind(key).fetch_optional(on).await?;
    row.map(Row::round).transpose()
}

/// The replies to a build's rounds, oldest first, each with what it was typed from; the two are read one after the other, so
/// `on` is best inside a transaction.
pub(in crate::store) async fn replies_of_build(on: &mut Connection, build: BuildId) -> Result<Vec<Reply>, StoreError> {
    let rows: Vec<ReplyRow> = sqlx::query_as(
        "SELECT replies.* FROM replies JOIN rounds ON rounds.id = replies.round WHERE build = $1
         ORDER BY replies.number",
    )
    .bind(build.to_string())
    .fetch_all(&mut *on)
    .await?;
    let mut replies: Vec<Reply> = rows.into_iter().map(ReplyRow::reply).collect::<Result<_, _>>()?;
    for (of, mail) in mails::of_build(on, build).await? {
        if let Some(reply) = replies.iter_mut().find(|reply| reply.id == of) {
            reply.mails.push(mail);
        }
    }
    Ok(replies)
}

impl Store {
    /// A build's rounds, oldest first.
    pub async fn rounds(&self, build: BuildId) -> Result<Vec<Round>, StoreError> {
        of_build(self.readers(), build).await
    }

    /// The round that a form's key issued.
    pub async fn round_of_key(&self, key: &str) -> Result<Option<Round>, StoreError> {
        of_key(self.readers(), key).await
    }

    /// The replies to a build's rounds, oldest first.
    pub async fn replies(&self, build: BuildId) -> Result<Vec<Reply>, StoreError> {
        replies_of_build(&mut *self.readers().begin().await?, build).await
    }
}

impl Write {
    /// A build's rounds, oldest first, as the writer finds it.
    pub async fn rounds(&mut self, build: BuildId) -> Result<Vec<Round>, StoreError> {
        of_build(&mut self.connection, build).await
    }

    /// The round that a form's key issued, as the writer finds it.
    pub async fn round_of_key(&mut self, key: &str) -> Result<Option<Round>, StoreError> {
        of_key(&mut self.connection, key).await
    }

    /// The number of a build's last log entry, as the writer finds it.
    pub async fn as_of(&mut self, build: BuildId) -> Result<i64, StoreError> {
        crate::store::recorded::build_log::as_of(&mut self.connection, build).await
    }

    /// Adds an issued round.
    pub async fn add_round(&mut self, round: &Round) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT INTO rounds (id, build, round, issue_key, contents, contents_sha256, packet_sha256, as_of, issued, by)
             VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)",
        )
        .bind(round.id.to_string())
        .bind(round.build.to_string())
        .bind(round.number)
        .bind(&round.issue_key)
        .bind(&round.contents)
        .bind(round.contents_sha256.text())
        .bind(round.packet_sha256.text())
        .bind(round.as_of)
        .bind(moment(round.issued))
        .bind(&round.by)
        .execute(&mut self.connection)
        .await
        .map_err(|error| StoreError::taken(error, "round"))?;
        Ok(())
    }

    /// Adds a reply.
    pub async fn add_reply(&mut self, reply: &Reply) -> Result<(), StoreError> {
        let refused = reply.decision == Decision::Refused;
        sqlx::query(
            "INSERT INTO replies (id, round, decision, words, given_by, received, by, released, despite, answers, came,
                 licence, refused)
             VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13)",
        )
        .bind(&reply.id)
        .bind(reply.round.to_string())
        .bind(if refused { Decision::NotYet } else { reply.decision }.word())
        .bind(&reply.words)
        .bind(&reply.given_by)
        .bind(moment(reply.received))
        .bind(&reply.by)
        .bind(json(&reply.released)?)
        .bind(reply.despite.as_ref().map(json).transpose()?.unwrap_or_default())
        .bind(reply.answers.as_ref().map(json).transpose()?.unwrap_or_default())
        .bind(reply.came.map(Came::word).unwrap_or_default())
        .bind(&reply.licence)
        .bind(refused)
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }
}
