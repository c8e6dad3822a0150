//! Rows of rule books, each the text of one edition.

use jiff::Timestamp;
use sqlx::FromRow;

use crate::domain::words::ids::BookId;
use crate::store::engine::Executor;
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::lane::Write;
use crate::store::text::{moment, parsed};

/// A rule book's text as it was added.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Book {
    /// The store's name for it.
    pub id: BookId,
    /// The book's name.
    pub name: String,
    /// Which edition.
    pub edition: String,
    /// The text, TOML, byte for byte as added.
    pub toml: String,
    /// When it was added.
    pub added: Timestamp,
}

#[derive(Debug, FromRow)]
struct Row {
    id: String,
    name: String,
    edition: String,
    toml: String,
    added: String,
}

impl Row {
    fn book(self) -> Result<Book, StoreError> {
        Ok(Book {
            id: parsed("books", "id", &self.id)?,
            added: parsed("books", "added", &self.added)?,
            name: self.name,
            edition: self.edition,
            toml: self.toml,
        })
    }
}

pub(in crate::store) async fn by_id(on: impl Executor<'_>, id: BookId) -> Result<Option<Book>, StoreError> {
    let row: Option<Row> =
        sqlx::query_as("SELECT * FROM books WHERE id = $1").bind(id.to_string()).fetch_optional(on).await?;
    row.map(Row::book).transpose()
}

impl Store {
    /// The shop's rule books, oldest first; one that came with a car is that car's.
    pub async fn books(&self) -> Result<Vec<Book>, StoreError> {
        let rows: Vec<Row> =
            sqlx::query_as("SELECT * FROM books WHERE brought = 0 ORDER BY number").fetch_all(self.readers()).await?;
        rows.into_iter().map(Row::book).collect()
    }

    /// The rule book of an id.
    pub async fn book(&self, id: BookId) -> Result<Option<Book>, StoreError> {
        by_id(self.readers(), id).await
    }
}

impl Write {
    /// The rule book of an id, as the writer finds it.
    pub async fn book(&mut self, id: BookId) -> Result<Book, StoreError> {
        by_id(&mut self.connection, id).await?.ok_or(StoreError::NotFound("rule book"))
    }

    /// Adds a rule book; `Taken("edition")` when this edition is there already.
    pub async fn add_book(&mut self, book: &Book) -> Result<(), StoreError> {
        sqlx::query("INSERT INTO books (id, name, edition, toml, added) VALUES ($1, $2, $3, $4, $5)")
            .bind(book.id.to_string())
            .bind(&book.name)
            .bind(&book.edition)
            .bind(&book.toml)
            .bind(moment(book.added))
            .execute(&mut self.connection)
            .await
            .map_err(|error| StoreError::taken(error, "edition"))?;
        Ok(())
    }
}
