//! Rows of builds.

use sqlx::FromRow;

use crate::domain::shop::builds::{Build, NO_SLUGS, NewBuild, known_by};
use crate::domain::words::ids::BuildId;
use crate::store::engine::Executor;
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::lane::Write;
use crate::store::text::{maybe, parsed};

#[derive(Debug, FromRow)]
struct Row {
    id: String,
    slug: String,
    name: String,
    about: String,
    book: Option<String>,
    event_day: Option<String>,
    version: i64,
}

impl Row {
    fn build(self) -> Result<Build, StoreError> {
        Ok(Build {
            id: parsed("builds", "id", &self.id)?,
            book: maybe("builds", "book", self.book.as_deref())?,
            event_day: maybe("builds", "event_day", self.event_day.as_deref())?,
            slug: self.slug,
            name: self.name,
            about: self.about,
            version: self.version,
        })
    }
}

pub(in crate::store) async fn by_id(on: impl Executor<'_>, id: BuildId) -> Result<Option<Build>, StoreError> {
    let row: Option<Row> =
        sqlx::query_as("SELECT * FROM builds WHERE id = $1").bind(id.to_string()).fetch_optional(on).await?;
    row.map(Row::build).transpose()
}

impl Store {
    /// The shop's builds, oldest first.
    pub async fn builds(&self) -> Result<Vec<Build>, StoreError> {
        let rows: Vec<Row> = sqlx::query_as("SELECT * FROM builds ORDER BY number").fetch_all(self.readers()).await?;
        rows.into_iter().map(Row::build).collect()
    }

    /// The build of an address.
    pub async fn build_by_slug(&self, slug: &str) -> Result<Option<Build>, StoreError> {
        let row: Option<Row> =
            sqlx::query_as("SELECT * FROM builds WHERE slug = $1").bind(slug).fetch_optional(self.readers()).await?;
        row.map(Row::build).transpose()
    }

    /// The build of an id.
    pub async fn build(&self, id: BuildId) -> Result<Option<Build>, StoreError> {
        by_id(self.readers(), id).await
    }
}

impl Write {
    /// The build as it stands, as the writer finds it.
    pub async fn build(&mut self, id: BuildId) -> Result<Build, StoreError> {
        by_id(&mut self.connection, id).await?.ok_or(StoreError::NotFound("build"))
    }

    /// The build of a name, however its capitals, spaces and marks are typed.
    pub async fn build_called(&mut self, name: &str) -> Result<Option<Build>, StoreError> {
        let rows: Vec<Row> =
            sqlx::query_as("SELECT * FROM builds ORDER BY number").fetch_all(&mut self.connection).await?;
        let same = rows.into_iter().find(|row| known_by(&row.name) == known_by(name));
        same.map(Row::build).transpose()
    }

    /// A plain address, with a number behind it when the plain one is another build's or a sheet's of its own.
    pub(in crate::store) async fn free_slug(&mut self, plain: &str) -> Result<String, StoreError> {
        let taken: Vec<String> = sqlx::query_scalar("SELECT slug FROM builds").fetch_all(&mut self.connection).await?;
        std::iter::once(plain.to_owned())
            .chain((2_u32..=u32::MAX).map(|number| format!("{plain}-{number}")))
            .find(|slug| !taken.contains(slug) && !NO_SLUGS.contains(&slug.as_str()))
            .ok_or(StoreError::Taken("address"))
    }

    /// Adds a build; its address gets a number behind it when the plain one is another build's.
    pub async fn add_build(&mut self, id: BuildId, new: &NewBuild, plain: &str) -> Result<Build, StoreError> {
        let slug = self.free_slug(plain).await?;
        sqlx::query(
            "INSERT INTO builds (id, slug, name, about, book, event_day, version) VALUES ($1, $2, $3, $4, $5, $6, 1)",
        )
        .bind(id.to_string())
        .bind(slug)
        .bind(&new.name)
        .bind(&new.about)
        .bind(new.book.map(|book| book.to_string()))
        .bind(new.event_day.map(|day| day.to_string()))
        .execute(&mut self.connection)
        .await?;
        self.build(id).await
    }

    /// Changes a build whose version is still the one that was edited. Its address stays.
    pub async fn edit_build(&mut self, id: BuildId, version: i64, new: &NewBuild) -> Result<Build, StoreError> {
        let done = sqlx::query(
            "UPDATE builds SET name = $3, about = $4, book = $5, event_day = $6, version = version + 1
             WHERE id = $1 AND version = $2",
        )
        .bind(id.to_string())
        .bind(version)
        .bind(&new.name)
        .bind(&new.about)
        .bind(new.book.map(|book| book.to_string()))
        .bind(new.event_day.map(|day| day.to_string()))
        .execute(&mut self.connection)
        .await?;
        let stands = self.build(id).await?;
        if done.rows_affected() == 1 { Ok(stands) } else { Err(StoreError::Stale { now: stands.version }) }
    }
}
