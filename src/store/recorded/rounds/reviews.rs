//! Rows of what a scrutineer answers of each part of a round; none of them ever changes.

use sqlx::FromRow;

use crate::domain::recorded::reviews::{PartAnswer, Reviewed};
use crate::domain::words::ids::RoundId;
use crate::store::engine::Executor;
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::lane::Write;
use crate::store::text::{json, listed, moment, parsed};

#[derive(Debug, FromRow)]
struct Row {
    number: i64,
    part: String,
    answer: String,
    remark: String,
    marks: String,
    at: String,
    by: String,
}

impl Row {
    fn reviewed(self) -> Result<Reviewed, StoreError> {
        let answer = match self.answer.as_str() {
            "" => None,
            word => Some(PartAnswer::of(word).ok_or(StoreError::Damaged { table: "reviewed", column: "answer" })?),
        };
        Ok(Reviewed {
            number: self.number,
            part: parsed("reviewed", "part", &self.part)?,
            answer,
            remark: self.remark,
            marks: listed("reviewed", "marks", &self.marks)?,
            at: parsed("reviewed", "at", &self.at)?,
            by: self.by,
        })
    }
}

async fn of_round(on: impl Executor<'_>, round: RoundId) -> Result<Vec<Reviewed>, StoreError> {
    let rows: Vec<Row> = sqlx::query_as(
        "SELECT number, part, answer, remark, marks, at, by FROM reviewed WHERE round = $1 ORDER BY number",
    )
    .bind(round.to_string())
    .fetch_all(on)
    .await?;
    rows.into_iter().map(Row::reviewed).collect()
}

impl Store {
    /// Everything that was answered of a round, oldest first; of each part the newest stands.
    pub async fn reviewed(&self, round: RoundId) -> Result<Vec<Reviewed>, StoreError> {
        of_round(self.readers(), round).await
    }
}

impl Write {
    /// The same as the writer finds it.
    pub async fn reviewed(&mut self, round: RoundId) -> Result<Vec<Reviewed>, StoreError> {
        of_round(&mut self.connection, round).await
    }

    /// Adds an answer, and gives it its number.
    pub async fn add_reviewed(&mut self, round: RoundId, new: Reviewed) -> Result<Reviewed, StoreError> {
        let number = sqlx::query_scalar(
            "INSERT INTO reviewed (round, part, answer, remark, at, by, marks) VALUES ($1, $2, $3, $4, $5, $6, $7)
             RETURNING number",
        )
        .bind(round.to_string())
        .bind(new.part.to_string())
        .bind(new.answer.map(PartAnswer::word).unwrap_or_default())
        .bind(&new.remark)
        .bind(moment(new.at))
        .bind(&new.by)
        .bind(json(&new.marks)?)
        .fetch_one(&mut self.connection)
        .await?;
        Ok(Reviewed { number, ..new })
    }
}
