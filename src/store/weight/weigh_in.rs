//! Rows of weigh-ins: each pad, or the whole car, in kilograms beside the text as typed.

use sqlx::FromRow;

use super::scale_papers;
use crate::domain::weight::scale_paper::Filed;
use crate::domain::weight::weigh_in::{Loads, Pads, Reading, Stood, WeighIn};
use crate::domain::words::ids::BuildId;
use crate::quantity::{Mass, Typed};
use crate::store::engine::Connection;
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::lane::Write;
use crate::store::text::{json, listed, parsed};

#[derive(Debug, FromRow)]
struct Row {
    id: String,
    balloon: u32,
    left_front_kg: f64,
    left_front: String,
    right_front_kg: f64,
    right_front: String,
    left_rear_kg: f64,
    left_rear: String,
    right_rear_kg: f64,
    right_rear: String,
    whole_kg: Option<f64>,
    whole: Option<String>,
    resolution_kg: f64,
    resolution: String,
    conditions: String,
    cage_in: bool,
    scale: String,
    paper: Option<u32>,
    again: String,
    aboard: String,
    heights: String,
    note: String,
    day: String,
    by: String,
}

impl Row {
    fn weigh_in(self, papers: &[Filed]) -> Result<WeighIn, StoreError> {
        let mass = |kg: f64, text: String| Typed::of(Mass::from_kg(kg), text);
        Ok(WeighIn {
            id: parsed("weigh_ins", "id", &self.id)?,
            number: self.balloon,
            reading: Reading {
                loads: match (self.whole_kg, self.whole) {
                    (Some(kg), Some(text)) => Loads::Whole(mass(kg, text)),
                    _ => Loads::Pads(Pads {
                        left_front: mass(self.left_front_kg, self.left_front),
                        right_front: mass(self.right_front_kg, self.right_front),
                        left_rear: mass(self.left_rear_kg, self.left_rear),
                        right_rear: mass(self.right_rear_kg, self.right_rear),
                    }),
                },
                resolution: mass(self.resolution_kg, self.resolution),
                conditions: listed("weigh_ins", "conditions", &self.conditions)?,
                cage_in: self.cage_in,
                scale: self.scale,
                paper: self
                    .paper
                    .and_then(|place| papers.iter().find(|filed| filed.paper.place == place))
                    .map(|filed| filed.paper.clone()),
                again: listed("weigh_ins", "again", &self.again)?,
                stood: Stood { aboard: self.aboard, heights: self.heights },
                note: self.note,
            },
            day: parsed("weigh_ins", "day", &self.day)?,
            by: self.by,
        })
    }
}

/// A build's weigh-ins, newest first.
pub(in crate::store) async fn of_build(on: &mut Connection, build: BuildId) -> Result<Vec<WeighIn>, StoreError> {
    let rows: Vec<Row> = sqlx::query_as("SELECT * FROM weigh_ins WHERE build = $1 ORDER BY balloon DESC")
        .bind(build.to_string())
        .fetch_all(&mut *on)
        .await?;
    let papers = scale_papers::of_build(on, build).await?;
    rows.into_iter().map(|row| row.weigh_in(&papers)).collect()
}

impl Store {
    /// A build's weigh-ins, newest first.
    pub async fn weigh_ins(&self, build: BuildId) -> Result<Vec<WeighIn>, StoreError> {
        of_build(&mut *self.readers().acquire().await?, build).await
    }
}

impl Write {
    /// The number the next weigh-in of a build gets.
    pub async fn next_weigh_in(&mut self, build: BuildId) -> Result<u32, StoreError> {
        Ok(sqlx::query_scalar("SELECT COALESCE(MAX(balloon), 0) + 1 FROM weigh_ins WHERE build = $1")
            .bind(build.to_string())
            .fetch_one(&mut self.connection)
            .await?)
    }

    /// Adds a weigh-in to a build.
    pub async fn add_weigh_in(&mut self, build: BuildId, weigh_in: &WeighIn) -> Result<(), StoreError> {
        let reading = &weigh_in.reading;
        let nothing = Typed::written(Mass::default());
        let (pads, whole) = match &reading.loads {
            Loads::Pads(pads) => ([&pads.left_front, &pads.right_front, &pads.left_rear, &pads.right_rear], None),
            Loads::Whole(total) => ([&nothing; 4], Some(total)),
        };
        let mut query = sqlx::query(
            "INSERT INTO weigh_ins (id, build, balloon, conditions, note, day, by, left_front_kg, left_front,
             right_front_kg, right_front, left_rear_kg, left_rear, right_rear_kg, right_rear, resolution_kg, resolution,
             whole_kg, whole, scale, cage_in, paper, again, aboard, heights)
             VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19, $20, $21, $22,
             $23, $24, $25)",
        )
        .bind(weigh_in.id.to_string())
        .bind(build.to_string())
        .bind(weigh_in.number)
        .bind(json(&reading.conditions)?)
        .bind(&reading.note)
        .bind(weigh_in.day.to_string())
        .bind(&weigh_in.by);
        for mass in pads.into_iter().chain([&reading.resolution]) {
            query = query.bind(mass.value.kg()).bind(&mass.text);
        }
        query = query
            .bind(whole.map(|total| total.value.kg()))
            .bind(whole.map(|total| &total.text))
            .bind(&reading.scale)
            .bind(reading.cage_in)
            .bind(reading.paper.as_ref().map(|paper| paper.place))
            .bind(json(&reading.again)?)
            .bind(&reading.stood.aboard)
            .bind(&reading.stood.heights);
        query.execute(&mut self.connection).await?;
        Ok(())
    }
}
