//! Rows of rule books that are being written, and every save of each.

use jiff::Timestamp;
use sqlx::FromRow;

use crate::domain::words::ids::{BookId, DraftId};
use crate::store::engine::Executor;
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::lane::Write;
use crate::store::recorded::build_log::Entry;
use crate::store::text::{maybe, moment, parsed};

/// A rule book that is being written. Nothing is judged by it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Draft {
    /// The store's name for it.
    pub id: DraftId,
    /// The edition it was begun from; none when it was begun from a text.
    pub begun_from: Option<BookId>,
    /// Counts up with each save, from 1.
    pub version: i64,
    /// The text, which may have mistakes.
    pub toml: String,
    /// When it was last saved.
    pub at: Timestamp,
    /// By whom.
    pub by: String,
    /// The edition it became; none while it is a draft.
    pub became: Option<BookId>,
    /// Why it was set aside; none while it is worked on.
    pub set_aside: Option<String>,
}

impl Draft {
    /// Whether it is still written on.
    pub fn open(&self) -> bool {
        self.became.is_none() && self.set_aside.is_none()
    }
}

#[derive(Debug, FromRow)]
struct Row {
    id: String,
    begun_from: Option<String>,
    version: i64,
    toml: String,
    at: String,
    by: String,
    became: Option<String>,
    set_aside: Option<String>,
}

impl Row {
    fn draft(self) -> Result<Draft, StoreError> {
        Ok(Draft {
            id: parsed("book_drafts", "id", &self.id)?,
            begun_from: maybe("book_drafts", "begun_from", self.begun_from.as_deref())?,
            version: self.version,
            toml: self.toml,
            at: parsed("book_drafts", "at", &self.at)?,
            by: self.by,
            became: maybe("book_drafts", "became", self.became.as_deref())?,
            set_aside: self.set_aside,
        })
    }
}

async fn by_id(on: impl Executor<'_>, id: DraftId) -> Result<Option<Draft>, StoreError> {
    let row: Option<Row> =
        sqlx::query_as("SELECT * FROM book_drafts WHERE id = $1").bind(id.to_string()).fetch_optional(on).await?;
    row.map(Row::draft).transpose()
}

impl Store {
    /// The drafts that are written on, oldest first.
    pub async fn open_drafts(&self) -> Result<Vec<Draft>, StoreError> {
        let rows: Vec<Row> =
            sqlx::query_as("SELECT * FROM book_drafts WHERE became IS NULL AND set_aside IS NULL ORDER BY number")
                .fetch_all(self.readers())
                .await?;
        rows.into_iter().map(Row::draft).collect()
    }

    /// The draft of an id.
    pub async fn draft(&self, id: DraftId) -> Result<Option<Draft>, StoreError> {
        by_id(self.readers(), id).await
    }

    /// A draft's text as it was at a version; none where it never had it.
    pub async fn draft_at(&self, id: DraftId, version: i64) -> Result<Option<String>, StoreError> {
        let text = sqlx::query_scalar("SELECT toml FROM book_draft_saves WHERE draft = $1 AND version = $2");
        Ok(text.bind(id.to_string()).bind(version).fetch_optional(self.readers()).await?)
    }
}

impl Write {
    /// The draft as it stands, as the writer finds it.
    pub async fn draft(&mut self, id: DraftId) -> Result<Draft, StoreError> {
        by_id(&mut self.connection, id).await?.ok_or(StoreError::NotFound("draft"))
    }

    /// Begins a draft, with the words of its log entry.
    pub async fn add_draft(&mut self, draft: &Draft, entry: &Entry) -> Result<(), StoreError> {
        sqlx::query("INSERT INTO book_drafts (id, begun_from, version, toml, at, by) VALUES ($1, $2, 1, $3, $4, $5)")
            .bind(draft.id.to_string())
            .bind(draft.begun_from.map(|book| book.to_string()))
            .bind(&draft.toml)
            .bind(moment(entry.at))
            .bind(&entry.by)
            .execute(&mut self.connection)
            .await?;
        self.keep_save(draft.id, 1, &draft.toml, entry).await
    }

    /// Saves a draft's text over the version that was edited, and gives the new version.
    pub async fn save_draft(
        &mut self,
        id: DraftId,
        version: i64,
        toml: &str,
        entry: &Entry,
    ) -> Result<i64, StoreError> {
        let done = sqlx::query(
            "UPDATE book_drafts SET toml = $3, at = $4, by = $5, version = version + 1 WHERE id = $1 AND version = $2",
        )
        .bind(id.to_string())
        .bind(version)
        .bind(toml)
        .bind(moment(entry.at))
        .bind(&entry.by)
        .execute(&mut self.connection)
        .await?;
        if done.rows_affected() == 0 {
            return Err(StoreError::Stale { now: self.draft(id).await?.version });
        }
        self.keep_save(id, version + 1, toml, entry).await?;
        Ok(version + 1)
    }

    async fn keep_save(&mut self, id: DraftId, version: i64, toml: &str, entry: &Entry) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT INTO book_draft_saves (draft, version, toml, at, by, what) VALUES ($1, $2, $3, $4, $5, $6)",
        )
        .bind(id.to_string())
        .bind(version)
        .bind(toml)
        .bind(moment(entry.at))
        .bind(&entry.by)
        .bind(&entry.what)
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }

    /// Says which edition a draft became.
    pub async fn draft_became(&mut self, id: DraftId, book: BookId) -> Result<(), StoreError> {
        sqlx::query("UPDATE book_drafts SET became = $2 WHERE id = $1")
            .bind(id.to_string())
            .bind(book.to_string())
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }

    /// Sets a draft aside, and why.
    pub async fn set_draft_aside(&mut self, id: DraftId, why: &str) -> Result<(), StoreError> {
        sqlx::query("UPDATE book_drafts SET set_aside = $2 WHERE id = $1")
            .bind(id.to_string())
            .bind(why)
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }
}
