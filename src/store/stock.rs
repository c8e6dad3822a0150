//! Rows of sticks: the tube on the shop's rack, and the build each was given to.

use sqlx::{FromRow, SqliteExecutor};

use super::error::StoreError;
use super::handle::Store;
use super::lane::Write;
use super::text::{maybe, moment, parsed};
use crate::domain::ids::{BuildId, StickId};
use crate::domain::stock::Stick;
use crate::domain::tube::TubeSize;
use crate::quantity::{Length, Typed, Units};

#[derive(Debug, FromRow)]
struct Row {
    id: String,
    balloon: u32,
    outside_mm: f64,
    wall_mm: f64,
    printed: String,
    size: String,
    grade: String,
    heat: String,
    length_mm: f64,
    length: String,
    certificate: Option<String>,
    given_to: Option<String>,
    added: String,
    by: String,
}

impl Row {
    fn stick(self) -> Result<Stick, StoreError> {
        let printed = if self.printed == "inch" { Units::Inch } else { Units::Metric };
        let size = TubeSize { outside: Length::from_mm(self.outside_mm), wall: Length::from_mm(self.wall_mm), printed };
        Ok(Stick {
            id: parsed("sticks", "id", &self.id)?,
            number: self.balloon,
            size: Typed { value: size, text: self.size },
            grade: self.grade,
            heat: self.heat,
            length: Typed { value: Length::from_mm(self.length_mm), text: self.length },
            certificate: maybe("sticks", "certificate", self.certificate.as_deref())?,
            given_to: maybe("sticks", "given_to", self.given_to.as_deref())?,
            added: parsed("sticks", "added", &self.added)?,
            by: self.by,
        })
    }
}

async fn by_id(on: impl SqliteExecutor<'_>, id: StickId) -> Result<Option<Stick>, StoreError> {
    let row: Option<Row> =
        sqlx::query_as("SELECT * FROM sticks WHERE id = $1").bind(id.to_string()).fetch_optional(on).await?;
    row.map(Row::stick).transpose()
}

impl Store {
    /// All sticks of the shop, by number.
    pub async fn sticks(&self) -> Result<Vec<Stick>, StoreError> {
        let rows: Vec<Row> = sqlx::query_as("SELECT * FROM sticks ORDER BY balloon").fetch_all(self.readers()).await?;
        rows.into_iter().map(Row::stick).collect()
    }

    /// The sticks that were given to a build, by number.
    pub async fn sticks_of_build(&self, build: BuildId) -> Result<Vec<Stick>, StoreError> {
        let rows: Vec<Row> = sqlx::query_as("SELECT * FROM sticks WHERE given_to = $1 ORDER BY balloon")
            .bind(build.to_string())
            .fetch_all(self.readers())
            .await?;
        rows.into_iter().map(Row::stick).collect()
    }
}

impl Write {
    /// The stick of an id, in truth.
    pub async fn stick(&mut self, id: StickId) -> Result<Stick, StoreError> {
        by_id(&mut self.connection, id).await?.ok_or(StoreError::NotFound("stick"))
    }

    /// The number the next stick gets.
    pub async fn next_stick(&mut self) -> Result<u32, StoreError> {
        Ok(sqlx::query_scalar("SELECT COALESCE(MAX(balloon), 0) + 1 FROM sticks")
            .fetch_one(&mut self.connection)
            .await?)
    }

    /// Adds a stick.
    pub async fn add_stick(&mut self, stick: &Stick) -> Result<(), StoreError> {
        let size = stick.size.value;
        sqlx::query(
            "INSERT INTO sticks (id, balloon, outside_mm, wall_mm, printed, size, grade, heat, length_mm, length,
             certificate, given_to, added, by) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14)",
        )
        .bind(stick.id.to_string())
        .bind(stick.number)
        .bind(size.outside.mm())
        .bind(size.wall.mm())
        .bind(if size.printed == Units::Inch { "inch" } else { "metric" })
        .bind(&stick.size.text)
        .bind(&stick.grade)
        .bind(&stick.heat)
        .bind(stick.length.value.mm())
        .bind(&stick.length.text)
        .bind(stick.certificate.map(|capture| capture.to_string()))
        .bind(stick.given_to.map(|build| build.to_string()))
        .bind(moment(stick.added))
        .bind(&stick.by)
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }

    /// Gives a stick to a build, or back to the rack.
    pub async fn give_stick(&mut self, id: StickId, build: Option<BuildId>) -> Result<(), StoreError> {
        sqlx::query("UPDATE sticks SET given_to = $2 WHERE id = $1")
            .bind(id.to_string())
            .bind(build.map(|build| build.to_string()))
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }
}
