//! The log: only added to, each entry's hash covering the one before.

use std::collections::{HashMap, HashSet};

use jiff::Timestamp;
use serde_json::{Value, json};
use sha2::{Digest as _, Sha256};
use sqlx::FromRow;

use crate::domain::recorded::car_file::{Log, LogLine};
use crate::domain::words::fingerprint::hex;
use crate::domain::words::ids::BuildId;
use crate::store::covered::{self, Line};
use crate::store::engine::{Connection, Executor, OF_SHOT};
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::lane::Write;
use crate::store::text::{maybe, moment, parsed};

/// The hash that stands before the first entry.
const BEGINNING: &str = "0000000000000000000000000000000000000000000000000000000000000000";

/// What is to be written to the log with a change.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// The build it is about; none for the shop as a whole.
    pub build: Option<BuildId>,
    /// Who did it, by name.
    pub by: String,
    /// When, by the server's clock.
    pub at: Timestamp,
    /// The room it belongs to: `weigh_in`.
    pub room: &'static str,
    /// What happened, in a sentence.
    pub what: String,
    /// The figures, for programs.
    pub detail: Value,
}

/// An entry of the log as it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct LogEntry {
    /// From 1, without gaps.
    pub number: i64,
    /// The build it is about; none for the shop as a whole.
    pub build: Option<BuildId>,
    /// Who did it, by name.
    pub by: String,
    /// When, by the server's clock; never earlier than the entry before, but for those that came with a car's file.
    pub at: Timestamp,
    /// The room it belongs to.
    pub room: String,
    /// What happened, in a sentence.
    pub what: String,
    /// The figures, for programs.
    pub detail: Value,
    /// SHA-256 of what it covers of the records; none where it touched none.
    pub rows: Option<String>,
    /// SHA-256 of the hash before and this entry's canonical bytes, in hexadecimal.
    pub hash: String,
}

/// What reading the whole log found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LogCheck {
    /// How many entries there are.
    pub entries: i64,
    /// The last entry's hash, as printed on packets.
    pub head: String,
    /// The first entry that does not follow from the one before; none when all do.
    pub broken_at: Option<i64>,
}

#[derive(Debug, FromRow)]
pub(super) struct Row {
    number: i64,
    build: Option<String>,
    by: String,
    at: String,
    room: String,
    what: String,
    detail: String,
    rows: Option<String>,
    hash: String,
}

impl Row {
    /// SHA-256 of the hash before, a line's end, and the entry as JSON with its names in alphabetical order; an entry that
    /// covers no row has no `rows`.
    fn hash_after(&self, before: &str) -> String {
        let text = |value: Value| value.to_string();
        let rows = self.rows.as_ref().map(|rows| format!(r#""rows":{},"#, text(json!(rows)))).unwrap_or_default();
        let canonical = format!(
            r#"{{"at":{},"build":{},"by":{},"detail":{},"number":{},"room":{},{rows}"what":{}}}"#,
            text(json!(self.at)),
            text(json!(self.build)),
            text(json!(self.by)),
            self.detail,
            self.number,
            text(json!(self.room)),
            text(json!(self.what)),
        );
        hex(&Sha256::digest(format!("{before}\n{canonical}")))
    }

    pub(super) fn entry(self) -> Result<LogEntry, StoreError> {
        Ok(LogEntry {
            build: maybe("log", "build", self.build.as_deref())?,
            at: parsed("log", "at", &self.at)?,
            detail: parsed("log", "detail", &self.detail)?,
            number: self.number,
            by: self.by,
            room: self.room,
            what: self.what,
            rows: self.rows,
            hash: self.hash,
        })
    }
}

/// The number and the hash of the last entry; before the first, 0 and what stands before it.
pub(in crate::store) async fn last(on: &mut Connection) -> Result<(i64, String), StoreError> {
    let last = sqlx::query_as("SELECT number, hash FROM log ORDER BY number DESC LIMIT 1").fetch_optional(on).await?;
    Ok(last.unwrap_or((0, BEGINNING.to_owned())))
}

/// Writes an entry at the end of the log, covering the rows that were touched since the one before, and gives its number.
pub(in crate::store) async fn append(connection: &mut Connection, entry: Entry) -> Result<i64, StoreError> {
    let lines = covered::touched(connection).await?;
    append_covering(connection, entry, &lines).await
}

/// Writes an entry at the end of the log that covers these rows, and gives its number.
pub(in crate::store) async fn append_covering(
    connection: &mut Connection,
    entry: Entry,
    lines: &[Line],
) -> Result<i64, StoreError> {
    let (before, hash) = last(connection).await?;
    // what came with a car's file has moments of another shop's clock
    let latest: Option<String> = sqlx::query_scalar(
        "SELECT at FROM log WHERE NOT EXISTS (SELECT 1 FROM log_brought WHERE entry = log.number)
         ORDER BY number DESC LIMIT 1",
    )
    .fetch_optional(&mut *connection)
    .await?;
    let latest = latest.unwrap_or_default();
    let said = moment(entry.at);
    let mut detail = entry.detail;
    // A clock that was set back must not put entries out of order: time stands still until it has caught up.
    if said < latest
        && let Some(detail) = detail.as_object_mut()
    {
        detail.insert("clock_said".to_owned(), json!(said));
    }
    let mut row = Row {
        number: before + 1,
        build: entry.build.map(|build| build.to_string()),
        by: entry.by,
        at: said.max(latest),
        room: entry.room.to_owned(),
        what: entry.what,
        detail: detail.to_string(),
        rows: covered::digest(lines),
        hash: String::new(),
    };
    row.hash = row.hash_after(&hash);
    add(connection, &row).await?;
    covered::keep(connection, row.number, lines).await?;
    Ok(row.number)
}

async fn add(connection: &mut Connection, row: &Row) -> Result<(), StoreError> {
    sqlx::query(
        "INSERT INTO log (number, build, by, at, room, what, detail, rows, hash)
         VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)",
    )
    .bind(row.number)
    .bind(&row.build)
    .bind(&row.by)
    .bind(&row.at)
    .bind(&row.room)
    .bind(&row.what)
    .bind(&row.detail)
    .bind(&row.rows)
    .bind(&row.hash)
    .execute(connection)
    .await?;
    Ok(())
}

#[derive(Debug, FromRow)]
struct LineRow {
    #[sqlx(flatten)]
    row: Row,
    /// The hash of the entry before it here.
    follows: Option<String>,
    there: Option<i64>,
    there_before: Option<String>,
    there_hash: Option<String>,
}

/// A build's entries, oldest first, each with its number here and as it was written, here or in the shop it came from.
pub(in crate::store) async fn lines(on: &mut Connection, build: BuildId) -> Result<Vec<(i64, LogLine)>, StoreError> {
    let rows: Vec<LineRow> = sqlx::query_as(
        "SELECT log.*, before.hash AS follows, log_brought.number AS there, log_brought.before AS there_before,
             log_brought.hash AS there_hash
         FROM log LEFT JOIN log AS before ON before.number = log.number - 1
         LEFT JOIN log_brought ON log_brought.entry = log.number
         WHERE log.build = $1 ORDER BY log.number",
    )
    .bind(build.to_string())
    .fetch_all(on)
    .await?;
    let line = |LineRow { row, follows, there, there_before, there_hash }: LineRow| {
        let detail: Value = parsed("log", "detail", &row.detail)?;
        // as it is written again it has the hash it had
        let again = detail.to_string();
        if again != row.detail {
            return Err(StoreError::Damaged { table: "log", column: "detail" });
        }
        let line = LogLine {
            number: there.unwrap_or(row.number),
            before: there_before.or(follows).unwrap_or_else(|| BEGINNING.to_owned()),
            hash: there_hash.unwrap_or(row.hash),
            at: row.at,
            by: row.by,
            room: row.room,
            what: row.what,
            detail,
            rows: row.rows,
        };
        Ok((row.number, line))
    };
    rows.into_iter().map(line).collect()
}

/// The hash that an entry of a build has where it was written, by what it says.
pub(in crate::store) fn hash_of(line: &LogLine, build: BuildId) -> String {
    brought_row(line, build, line.number).hash_after(&line.before)
}

fn brought_row(line: &LogLine, build: BuildId, number: i64) -> Row {
    Row {
        number,
        build: Some(build.to_string()),
        by: line.by.clone(),
        at: line.at.clone(),
        room: line.room.clone(),
        what: line.what.clone(),
        detail: line.detail.to_string(),
        rows: line.rows.clone(),
        hash: String::new(),
    }
}

/// Puts the entries of a build that another shop wrote to the end of the log: in this one's chain, with their own moments,
/// and beside each what it was in the chain it was written in. Gives their numbers here by the hashes they had there.
pub(in crate::store) async fn bring(
    on: &mut Connection,
    build: BuildId,
    log: &Log,
) -> Result<HashMap<String, i64>, StoreError> {
    let (mut number, mut hash) = last(on).await?;
    let mut here = HashMap::new();
    for line in &log.entries {
        let _: Timestamp = parsed("log", "at", &line.at)?;
        number += 1;
        let mut row = brought_row(line, build, number);
        row.hash = row.hash_after(&hash);
        hash.clone_from(&row.hash);
        add(on, &row).await?;
        sqlx::query("INSERT INTO log_brought (entry, number, before, hash) VALUES ($1, $2, $3, $4)")
            .bind(number)
            .bind(line.number)
            .bind(&line.before)
            .bind(&line.hash)
            .execute(&mut *on)
            .await?;
        here.insert(line.hash.clone(), number);
    }
    Ok(here)
}

/// The number of a build's last entry: what everything read of it now is "as of".
pub(in crate::store) async fn as_of(on: impl Executor<'_>, build: BuildId) -> Result<i64, StoreError> {
    Ok(sqlx::query_scalar("SELECT COALESCE(MAX(number), 0) FROM log WHERE build = $1")
        .bind(build.to_string())
        .fetch_one(on)
        .await?)
}

/// The hash of a build's last entry; empty before the first.
pub(in crate::store) async fn head_of(on: impl Executor<'_>, build: BuildId) -> Result<String, StoreError> {
    let head: Option<String> = sqlx::query_scalar("SELECT hash FROM log WHERE build = $1 ORDER BY number DESC LIMIT 1")
        .bind(build.to_string())
        .fetch_optional(on)
        .await?;
    Ok(head.unwrap_or_default())
}

impl Write {
    /// Says one thing more of the change under way, before the entry it ends with: a change of two builds is in both logs.
    pub async fn also(&mut self, entry: Entry) -> Result<(), StoreError> {
        append(&mut self.connection, entry).await.map(drop)
    }

    /// The number that the entry of the change under way will get.
    pub async fn entry_to_come(&mut self) -> Result<i64, StoreError> {
        Ok(sqlx::query_scalar("SELECT COALESCE(MAX(number), 0) + 1 FROM log").fetch_one(&mut self.connection).await?)
    }
}

impl Store {
    /// Reads the whole log and checks that every entry follows from the one before.
    pub async fn verify_log(&self) -> Result<LogCheck, StoreError> {
        let rows: Vec<Row> = sqlx::query_as("SELECT * FROM log ORDER BY number").fetch_all(self.readers()).await?;
        let mut check = LogCheck { entries: 0, head: BEGINNING.to_owned(), broken_at: None };
        for row in rows {
            let follows = row.number == check.entries + 1 && row.hash == row.hash_after(&check.head);
            if !follows && check.broken_at.is_none() {
                check.broken_at = Some(row.number);
            }
            check.entries += 1;
            check.head = row.hash;
        }
        Ok(check)
    }

    /// The hashes of all entries, here and where those were written that came with a car.
    pub async fn log_hashes(&self) -> Result<HashSet<String>, StoreError> {
        let hashes: Vec<String> = sqlx::query_scalar("SELECT hash FROM log UNION ALL SELECT hash FROM log_brought")
            .fetch_all(self.readers())
            .await?;
        Ok(hashes.into_iter().collect())
    }

    /// The entry of a number; none where there is none.
    pub async fn log_entry(&self, number: i64) -> Result<Option<LogEntry>, StoreError> {
        let row: Option<Row> =
            sqlx::query_as("SELECT * FROM log WHERE number = $1").bind(number).fetch_optional(self.readers()).await?;
        row.map(Row::entry).transpose()
    }

    /// The number of a build's last log entry; 0 when there is none.
    pub async fn as_of(&self, build: BuildId) -> Result<i64, StoreError> {
        as_of(self.readers(), build).await
    }

    /// A build's log entries, newest first, at most so many.
    pub async fn log_of_build(&self, build: BuildId, most: u32) -> Result<Vec<LogEntry>, StoreError> {
        let query = sqlx::query_as("SELECT * FROM log WHERE build = $1 ORDER BY number DESC LIMIT $2");
        let rows: Vec<Row> = query.bind(build.to_string()).bind(most).fetch_all(self.readers()).await?;
        rows.into_iter().map(Row::entry).collect()
    }

    /// What the log says of the photographs that are or ever were at a shot, newest first, at most so many entries.
    pub async fn log_of_shot(&self, build: BuildId, shot: &str, most: u32) -> Result<Vec<LogEntry>, StoreError> {
        let rows: Vec<Row> =
            sqlx::query_as(OF_SHOT).bind(build.to_string()).bind(shot).bind(most).fetch_all(self.readers()).await?;
        rows.into_iter().map(Row::entry).collect()
    }

    /// The shop's log entries, newest first, at most so many.
    pub async fn log(&self, most: u32) -> Result<Vec<LogEntry>, StoreError> {
        let rows: Vec<Row> = sqlx::query_as("SELECT * FROM log ORDER BY number DESC LIMIT $1")
            .bind(most)
            .fetch_all(self.readers())
            .await?;
        rows.into_iter().map(Row::entry).collect()
    }
}
