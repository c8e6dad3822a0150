//! Rows of a build's moves from one edition of its book to another.

use jiff::Timestamp;
use sqlx::FromRow;

use crate::domain::words::ids::{BookId, BuildId};
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::lane::Write;
use crate::store::recorded::build_log::Entry;
use crate::store::text::{moment, parsed};

/// One move, as it was made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BookMove {
    /// The edition it was judged by before.
    pub from: BookId,
    /// The edition it is judged by since.
    pub to: BookId,
    /// When.
    pub at: Timestamp,
    /// By whom.
    pub by: String,
    /// Why.
    pub reason: String,
}

#[derive(Debug, FromRow)]
struct Row {
    from_book: String,
    to_book: String,
    at: String,
    by: String,
    reason: String,
}

impl Store {
    /// The moves of a build, oldest first.
    pub async fn book_moves(&self, build: BuildId) -> Result<Vec<BookMove>, StoreError> {
        let rows: Vec<Row> = sqlx::query_as(
            "SELECT from_book, to_book, at, by, reason FROM book_moves WHERE build = $1 ORDER BY number",
        )
        .bind(build.to_string())
        .fetch_all(self.readers())
        .await?;
        let made = |row: Row| {
            Ok(BookMove {
                from: parsed("book_moves", "from_book", &row.from_book)?,
                to: parsed("book_moves", "to_book", &row.to_book)?,
                at: parsed("book_moves", "at", &row.at)?,
                by: row.by,
                reason: row.reason,
            })
        };
        rows.into_iter().map(made).collect()
    }
}

impl Write {
    /// Moves a build from one edition to another, with the words of its log entry; stale when it is not under the first.
    pub async fn move_book(
        &mut self,
        build: BuildId,
        (from, to): (BookId, BookId),
        reason: &str,
        entry: &Entry,
    ) -> Result<(), StoreError> {
        let done = sqlx::query("UPDATE builds SET book = $3, version = version + 1 WHERE id = $1 AND book = $2")
            .bind(build.to_string())
            .bind(from.to_string())
            .bind(to.to_string())
            .execute(&mut self.connection)
            .await?;
        if done.rows_affected() == 0 {
            return Err(StoreError::Stale { now: self.build(build).await?.version });
        }
        sqlx::query(
            "INSERT INTO book_moves (build, from_book, to_book, at, by, reason) VALUES ($1, $2, $3, $4, $5, $6)",
        )
        .bind(build.to_string())
        .bind(from.to_string())
        .bind(to.to_string())
        .bind(moment(entry.at))
        .bind(&entry.by)
        .bind(reason)
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }
}
