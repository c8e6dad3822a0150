//! Rows of the scales' papers; they never change.

use sqlx::FromRow;

use crate::domain::weight::scale_paper::{Filed, Paper};
use crate::domain::words::ids::BuildId;
use crate::store::engine::Connection;
use crate::store::error::StoreError;
use crate::store::lane::Write;
use crate::store::text::{json, listed, maybe, moment, parsed};

#[derive(Debug, FromRow)]
struct Row {
    place: u32,
    name: String,
    paper: String,
    checked: Option<String>,
    accuracy: String,
    recorded: String,
    by: String,
}

impl Row {
    fn filed(self) -> Result<Filed, StoreError> {
        let paper = Paper {
            place: self.place,
            name: self.name,
            number: self.paper,
            checked: maybe("scale_papers", "checked", self.checked.as_deref())?,
            accuracy: listed("scale_papers", "accuracy", &self.accuracy)?,
        };
        Ok(Filed { paper, recorded: parsed("scale_papers", "recorded", &self.recorded)?, by: self.by })
    }
}

/// The papers of a build's scales, in the order they were recorded.
pub(in crate::store) async fn of_build(on: &mut Connection, build: BuildId) -> Result<Vec<Filed>, StoreError> {
    let rows: Vec<Row> = sqlx::query_as("SELECT * FROM scale_papers WHERE build = $1 ORDER BY place")
        .bind(build.to_string())
        .fetch_all(on)
        .await?;
    rows.into_iter().map(Row::filed).collect()
}

impl Write {
    /// The papers of a build's scales, as the writer finds it.
    pub async fn scale_papers(&mut self, build: BuildId) -> Result<Vec<Filed>, StoreError> {
        of_build(&mut self.connection, build).await
    }

    /// Adds a paper.
    pub async fn add_scale_paper(&mut self, build: BuildId, filed: &Filed) -> Result<(), StoreError> {
        let paper = &filed.paper;
        sqlx::query(
            "INSERT INTO scale_papers (build, place, name, paper, checked, accuracy, recorded, by)
             VALUES ($1, $2, $3, $4, $5, $6, $7, $8)",
        )
        .bind(build.to_string())
        .bind(paper.place)
        .bind(&paper.name)
        .bind(&paper.number)
        .bind(paper.checked.map(|day| day.to_string()))
        .bind(json(&paper.accuracy)?)
        .bind(moment(filed.recorded))
        .bind(&filed.by)
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }
}
