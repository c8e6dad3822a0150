//! Rows of marks over photographs: added, rubbed out, never changed and never deleted.

use sqlx::FromRow;

use crate::domain::recorded::mark_ups::{Drawn, MarkUp, Place, Shape};
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::BuildId;
use crate::quantity::Share;
use crate::store::engine::Executor;
use crate::store::error::StoreError;
use crate::store::lane::Write;
use crate::store::text::{maybe, moment, parsed};

#[derive(Debug, FromRow)]
struct Row {
    sha256: String,
    mark: u32,
    shape: String,
    from_across: f64,
    from_down: f64,
    to_across: f64,
    to_down: f64,
    of_balloon: Option<String>,
    drawn: String,
    by: String,
    rubbed_out: Option<String>,
    rubbed_out_by: Option<String>,
}

impl Row {
    fn mark_up(self) -> Result<MarkUp, StoreError> {
        let place = |across: f64, down: f64| Place { across: Share::from_ratio(across), down: Share::from_ratio(down) };
        let drawn = Drawn {
            shape: Shape::of(&self.shape).ok_or(StoreError::Damaged { table: "mark_ups", column: "shape" })?,
            from: place(self.from_across, self.from_down),
            to: place(self.to_across, self.to_down),
            of: maybe("mark_ups", "of_balloon", self.of_balloon.as_deref())?,
        };
        let rubbed_out = maybe("mark_ups", "rubbed_out", self.rubbed_out.as_deref())?;
        Ok(MarkUp {
            sha256: parsed("mark_ups", "sha256", &self.sha256)?,
            number: self.mark,
            drawn,
            at: parsed("mark_ups", "drawn", &self.drawn)?,
            by: self.by,
            rubbed_out: rubbed_out.map(|at| (at, self.rubbed_out_by.unwrap_or_default())),
        })
    }
}

/// All marks over a build's photographs in the order they were drawn.
pub(in crate::store) async fn of_build(on: impl Executor<'_>, build: BuildId) -> Result<Vec<MarkUp>, StoreError> {
    let rows: Vec<Row> = sqlx::query_as("SELECT * FROM mark_ups WHERE build = $1 ORDER BY number")
        .bind(build.to_string())
        .fetch_all(on)
        .await?;
    rows.into_iter().map(Row::mark_up).collect()
}

impl Write {
    /// The marks over one photograph in the order they were drawn, as the writer finds it.
    pub async fn mark_ups(&mut self, build: BuildId, sha256: &Fingerprint) -> Result<Vec<MarkUp>, StoreError> {
        let rows: Vec<Row> = sqlx::query_as("SELECT * FROM mark_ups WHERE build = $1 AND sha256 = $2 ORDER BY number")
            .bind(build.to_string())
            .bind(sha256.text())
            .fetch_all(&mut self.connection)
            .await?;
        rows.into_iter().map(Row::mark_up).collect()
    }

    /// Adds a mark.
    pub async fn add_mark_up(&mut self, build: BuildId, mark: &MarkUp) -> Result<(), StoreError> {
        let Drawn { shape, from, to, of } = mark.drawn;
        sqlx::query(
            "INSERT INTO mark_ups
             (build, sha256, mark, shape, from_across, from_down, to_across, to_down, of_balloon, drawn, by)
             VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11)",
        )
        .bind(build.to_string())
        .bind(mark.sha256.text())
        .bind(mark.number)
        .bind(shape.word())
        .bind(from.across.ratio())
        .bind(from.down.ratio())
        .bind(to.across.ratio())
        .bind(to.down.ratio())
        .bind(of.map(|of| of.to_string()))
        .bind(moment(mark.at))
        .bind(&mark.by)
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }

    /// Rubs a mark out; says whether it stood.
    pub async fn rub_out(&mut self, build: BuildId, mark: &MarkUp) -> Result<bool, StoreError> {
        let Some((at, by)) = &mark.rubbed_out else { return Ok(false) };
        let done = sqlx::query(
            "UPDATE mark_ups SET rubbed_out = $4, rubbed_out_by = $5
             WHERE build = $1 AND sha256 = $2 AND mark = $3 AND rubbed_out IS NULL",
        )
        .bind(build.to_string())
        .bind(mark.sha256.text())
        .bind(mark.number)
        .bind(moment(*at))
        .bind(by)
        .execute(&mut self.connection)
        .await?;
        Ok(done.rows_affected() == 1)
    }
}
