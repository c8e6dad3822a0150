//! Rows of sticks: the tube on the shop's rack, and the build each was given to.

use sqlx::FromRow;

use crate::domain::shop::stock::{Cut, Stick, Taken};
use crate::domain::steel::tube::TubeSize;
use crate::domain::words::ids::{Balloon, BuildId, StickId};
use crate::quantity::{Length, Typed, Units};
use crate::store::engine::Executor;
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::lane::Write;
use crate::store::text::{maybe, moment, parsed};

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
            size: Typed::of(size, self.size),
            grade: self.grade,
            heat: self.heat,
            length: Typed::of(Length::from_mm(self.length_mm), self.length),
            certificate: maybe("sticks", "certificate", self.certificate.as_deref())?,
            given_to: maybe("sticks", "given_to", self.given_to.as_deref())?,
            added: parsed("sticks", "added", &self.added)?,
            by: self.by,
        })
    }
}

async fn by_id(on: impl Executor<'_>, id: StickId) -> Result<Option<Stick>, StoreError> {
    let row: Option<Row> =
        sqlx::query_as("SELECT * FROM sticks WHERE id = $1").bind(id.to_string()).fetch_optional(on).await?;
    row.map(Row::stick).transpose()
}

#[derive(Debug, FromRow)]
struct CutRow {
    member: String,
    stick: String,
    at: String,
    by: String,
    blank_mm: Option<f64>,
    before_mm: Option<f64>,
    after_mm: Option<f64>,
    kerf_mm: Option<f64>,
    trim_mm: Option<f64>,
}

impl CutRow {
    fn taken(&self) -> Option<Taken> {
        let mm = |value: Option<f64>| value.map(Length::from_mm);
        Some(Taken {
            blank: mm(self.blank_mm)?,
            before: mm(self.before_mm)?,
            after: mm(self.after_mm)?,
            kerf: mm(self.kerf_mm)?,
            trim: mm(self.trim_mm)?,
        })
    }

    fn cut(self) -> Result<Cut, StoreError> {
        Ok(Cut {
            taken: self.taken(),
            member: parsed("cuts", "member", &self.member)?,
            stick: parsed("cuts", "stick", &self.stick)?,
            at: parsed("cuts", "at", &self.at)?,
            by: self.by,
        })
    }
}

/// The sticks that were given to a build, and those its bars were cut from.
pub(in crate::store) async fn of_build(on: impl Executor<'_>, build: BuildId) -> Result<Vec<Stick>, StoreError> {
    let rows: Vec<Row> = sqlx::query_as(
        "SELECT * FROM sticks WHERE given_to = $1 OR id IN (SELECT stick FROM cuts WHERE number IN
         (SELECT MAX(number) FROM cuts WHERE build = $1 GROUP BY member)) ORDER BY balloon",
    )
    .bind(build.to_string())
    .fetch_all(on)
    .await?;
    rows.into_iter().map(Row::stick).collect()
}

/// Every cut of a build's bars, in the order they were recorded.
pub(in crate::store) async fn cuts_of_build(on: impl Executor<'_>, build: BuildId) -> Result<Vec<Cut>, StoreError> {
    let rows: Vec<CutRow> = sqlx::query_as("SELECT * FROM cuts WHERE build = $1 ORDER BY number")
        .bind(build.to_string())
        .fetch_all(on)
        .await?;
    rows.into_iter().map(CutRow::cut).collect()
}

impl Store {
    /// All sticks of the shop, by number; those that came with a car are not on its rack.
    pub async fn sticks(&self) -> Result<Vec<Stick>, StoreError> {
        let rows: Vec<Row> =
            sqlx::query_as("SELECT * FROM sticks WHERE brought = 0 ORDER BY balloon").fetch_all(self.readers()).await?;
        rows.into_iter().map(Row::stick).collect()
    }

    /// The sticks that were given to a build and those its bars were cut from, by number. The second kind may be back on
    /// the rack (`given_to` tells); without them a bar would lose its heat.
    pub async fn sticks_of_build(&self, build: BuildId) -> Result<Vec<Stick>, StoreError> {
        of_build(self.readers(), build).await
    }

    /// Every cut of a build's bars, in the order they were recorded.
    pub async fn cuts(&self, build: BuildId) -> Result<Vec<Cut>, StoreError> {
        cuts_of_build(self.readers(), build).await
    }
}

impl Write {
    /// The stick of an id, as the writer finds it.
    pub async fn stick(&mut self, id: StickId) -> Result<Stick, StoreError> {
        by_id(&mut self.connection, id).await?.ok_or(StoreError::NotFound("stick"))
    }

    /// The number the next stick gets: none that a stick has which came with a car, so that it can go into that car.
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

    /// The stick a bar was last cut from, as the writer finds it.
    pub async fn cut_of(&mut self, build: BuildId, member: Balloon) -> Result<Option<Cut>, StoreError> {
        let row: Option<CutRow> =
            sqlx::query_as("SELECT * FROM cuts WHERE build = $1 AND member = $2 ORDER BY number DESC LIMIT 1")
                .bind(build.to_string())
                .bind(member.to_string())
                .fetch_optional(&mut self.connection)
                .await?;
        row.map(CutRow::cut).transpose()
    }

    /// Adds that a bar was cut from a stick.
    pub async fn add_cut(&mut self, build: BuildId, cut: &Cut) -> Result<(), StoreError> {
        let taken = |of: fn(&Taken) -> Length| cut.taken.as_ref().map(|taken| of(taken).mm());
        sqlx::query(
            "INSERT INTO cuts (build, member, stick, at, by, blank_mm, before_mm, after_mm, kerf_mm, trim_mm)
             VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)",
        )
        .bind(build.to_string())
        .bind(cut.member.to_string())
        .bind(cut.stick.to_string())
        .bind(moment(cut.at))
        .bind(&cut.by)
        .bind(taken(|taken| taken.blank))
        .bind(taken(|taken| taken.before))
        .bind(taken(|taken| taken.after))
        .bind(taken(|taken| taken.kerf))
        .bind(taken(|taken| taken.trim))
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }

    /// Whether a stick came with a car: it is on no rack of this shop.
    pub async fn came_with_a_car(&mut self, id: StickId) -> Result<bool, StoreError> {
        Ok(sqlx::query_scalar("SELECT brought FROM sticks WHERE id = $1")
            .bind(id.to_string())
            .fetch_one(&mut self.connection)
            .await?)
    }

    /// Whether a build has another stick of this number, which came with it.
    pub async fn has_stick_numbered(&mut self, build: BuildId, number: u32, than: StickId) -> Result<bool, StoreError> {
        Ok(sqlx::query_scalar(
            "SELECT EXISTS (SELECT 1 FROM sticks
             WHERE (given_to = $1 OR id IN (SELECT stick FROM cuts WHERE build = $1)) AND balloon = $2 AND id <> $3)",
        )
        .bind(build.to_string())
        .bind(number)
        .bind(than.to_string())
        .fetch_one(&mut self.connection)
        .await?)
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
