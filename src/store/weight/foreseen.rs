//! Rows of what goes into a weighed car and comes out of it; taken back, never deleted.

use jiff::Timestamp;
use sqlx::FromRow;

use crate::domain::weight::carried::{Listed, Spread, SpreadIs, Thing, Way};
use crate::domain::words::ids::BuildId;
use crate::quantity::{Mass, Typed};
use crate::store::engine::Executor;
use crate::store::error::StoreError;
use crate::store::lane::Write;
use crate::store::text::{moment, parsed};

#[derive(Debug, FromRow)]
struct Row {
    place: u32,
    name: String,
    way: String,
    mass_kg: f64,
    mass: String,
    spread_kg: Option<f64>,
    spread: Option<String>,
    spread_is: Option<String>,
    weigh_in: Option<u32>,
    added: String,
    by: String,
}

impl Row {
    fn listed(self) -> Result<Listed, StoreError> {
        let damaged = |column| StoreError::Damaged { table: "foreseen", column };
        let way: Way = self.way.parse().map_err(|()| damaged("way"))?;
        let spread = match (self.spread_kg, self.spread, self.spread_is) {
            (Some(kg), Some(text), Some(is)) => {
                let is: SpreadIs = is.parse().map_err(|()| damaged("spread_is"))?;
                Some(Spread { mass: Typed::of(Mass::from_kg(kg), text), is })
            }
            _ => None,
        };
        let mass = Typed::of(Mass::from_kg(self.mass_kg), self.mass);
        Ok(Listed {
            place: self.place,
            thing: Thing { name: self.name, way, mass, spread },
            weigh_in: self.weigh_in,
            added: parsed("foreseen", "added", &self.added)?,
            by: self.by,
        })
    }
}

/// What stands on a build's list, in the order it was listed.
pub(in crate::store) async fn of_build(on: impl Executor<'_>, build: BuildId) -> Result<Vec<Listed>, StoreError> {
    let rows: Vec<Row> =
        sqlx::query_as("SELECT * FROM foreseen WHERE build = $1 AND taken_back IS NULL ORDER BY place")
            .bind(build.to_string())
            .fetch_all(on)
            .await?;
    rows.into_iter().map(Row::listed).collect()
}

impl Write {
    /// What stands on a build's list, as the writer finds it.
    pub async fn foreseen(&mut self, build: BuildId) -> Result<Vec<Listed>, StoreError> {
        of_build(&mut self.connection, build).await
    }

    /// The place that the next thing of a build gets, and the number of its newest weigh-in.
    pub async fn next_foreseen(&mut self, build: BuildId) -> Result<(u32, Option<u32>), StoreError> {
        Ok(sqlx::query_as(
            "SELECT (SELECT COALESCE(MAX(place), 0) + 1 FROM foreseen WHERE build = $1),
                    (SELECT MAX(balloon) FROM weigh_ins WHERE build = $1)",
        )
        .bind(build.to_string())
        .fetch_one(&mut self.connection)
        .await?)
    }

    /// Adds a thing to a build's list.
    pub async fn add_foreseen(&mut self, build: BuildId, listed: &Listed) -> Result<(), StoreError> {
        let thing = &listed.thing;
        sqlx::query(
            "INSERT INTO foreseen (build, place, name, way, mass_kg, mass, spread_kg, spread, spread_is, weigh_in, added, by)
             VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12)",
        )
        .bind(build.to_string())
        .bind(listed.place)
        .bind(&thing.name)
        .bind(thing.way.key())
        .bind(thing.mass.value.kg())
        .bind(&thing.mass.text)
        .bind(thing.spread.as_ref().map(|spread| spread.mass.value.kg()))
        .bind(thing.spread.as_ref().map(|spread| &spread.mass.text))
        .bind(thing.spread.as_ref().map(|spread| spread.is.key()))
        .bind(listed.weigh_in)
        .bind(moment(listed.added))
        .bind(&listed.by)
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }

    /// Takes a thing off a build's list; its row stays.
    pub async fn take_back_foreseen(&mut self, build: BuildId, place: u32, at: Timestamp) -> Result<(), StoreError> {
        let done =
            sqlx::query("UPDATE foreseen SET taken_back = $3 WHERE build = $1 AND place = $2 AND taken_back IS NULL")
                .bind(build.to_string())
                .bind(place)
                .bind(moment(at))
                .execute(&mut self.connection)
                .await?;
        if done.rows_affected() == 1 { Ok(()) } else { Err(StoreError::NotFound("thing on the list")) }
    }
}
