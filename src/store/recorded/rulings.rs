//! Rows of the scrutineer's rulings; they never change and are taken back once.

use jiff::Timestamp;
use sqlx::FromRow;

use crate::domain::measure::measures::Measure;
use crate::domain::recorded::rulings::{NewRuling, Ruling};
use crate::domain::words::ids::BuildId;
use crate::store::engine::Executor;
use crate::store::error::StoreError;
use crate::store::lane::Write;
use crate::store::text::{maybe, moment, parsed};

const TABLE: &str = "rulings";

#[derive(Debug, FromRow)]
struct Row {
    place: u32,
    rule: String,
    of_balloon: Option<String>,
    measure: Option<String>,
    stays: bool,
    words: String,
    given_by: String,
    given: String,
    letter: String,
    edition: String,
    found: String,
    capture: Option<String>,
    round: Option<u32>,
    recorded: String,
    by: String,
    taken_back: Option<String>,
    taken_back_by: Option<String>,
    why: Option<String>,
}

impl Row {
    fn ruling(self) -> Result<Ruling, StoreError> {
        let back: Option<Timestamp> = maybe(TABLE, "taken_back", self.taken_back.as_deref())?;
        let ruled = NewRuling {
            rule: self.rule,
            of: maybe(TABLE, "of_balloon", self.of_balloon.as_deref())?,
            measure: maybe(TABLE, "measure", self.measure.as_deref())?,
            stays: self.stays,
            words: self.words,
            given_by: self.given_by,
            given: parsed(TABLE, "given", &self.given)?,
            capture: maybe(TABLE, "capture", self.capture.as_deref())?,
            round: self.round,
            letter: self.letter,
        };
        Ok(Ruling {
            place: self.place,
            ruled,
            edition: self.edition,
            found: self.found,
            recorded: parsed(TABLE, "recorded", &self.recorded)?,
            by: self.by,
            taken_back: back.map(|at| (at, self.taken_back_by.unwrap_or_default(), self.why.unwrap_or_default())),
        })
    }
}

/// All rulings of a build, those taken back among them, oldest first.
pub(in crate::store) async fn of_build(on: impl Executor<'_>, build: BuildId) -> Result<Vec<Ruling>, StoreError> {
    let rows: Vec<Row> = sqlx::query_as("SELECT * FROM rulings WHERE build = $1 ORDER BY place")
        .bind(build.to_string())
        .fetch_all(on)
        .await?;
    rows.into_iter().map(Row::ruling).collect()
}

impl Write {
    /// All rulings of a build, as the writer finds it.
    pub async fn rulings(&mut self, build: BuildId) -> Result<Vec<Ruling>, StoreError> {
        of_build(&mut self.connection, build).await
    }

    /// Adds a ruling.
    pub async fn add_ruling(&mut self, build: BuildId, ruling: &Ruling) -> Result<(), StoreError> {
        let ruled = &ruling.ruled;
        sqlx::query(
            "INSERT INTO rulings (build, place, rule, of_balloon, measure, stays, words, given_by, given, letter, edition,
                                  found, capture, round, recorded, by)
             VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16)",
        )
        .bind(build.to_string())
        .bind(ruling.place)
        .bind(&ruled.rule)
        .bind(ruled.of.map(|of| of.to_string()))
        .bind(ruled.measure.map(Measure::word))
        .bind(ruled.stays)
        .bind(&ruled.words)
        .bind(&ruled.given_by)
        .bind(ruled.given.to_string())
        .bind(&ruled.letter)
        .bind(&ruling.edition)
        .bind(&ruling.found)
        .bind(ruled.capture.map(|capture| capture.to_string()))
        .bind(ruled.round)
        .bind(moment(ruling.recorded))
        .bind(&ruling.by)
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }

    /// Takes a standing ruling back; its row stays.
    pub async fn take_back_ruling(
        &mut self,
        build: BuildId,
        place: u32,
        at: Timestamp,
        (by, why): (&str, &str),
    ) -> Result<(), StoreError> {
        let done = sqlx::query(
            "UPDATE rulings SET taken_back = $3, taken_back_by = $4, why = $5
             WHERE build = $1 AND place = $2 AND taken_back IS NULL",
        )
        .bind(build.to_string())
        .bind(place)
        .bind(moment(at))
        .bind(by)
        .bind(why)
        .execute(&mut self.connection)
        .await?;
        if done.rows_affected() == 1 { Ok(()) } else { Err(StoreError::NotFound("ruling")) }
    }
}
