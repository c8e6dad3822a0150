//! Rows of moves: an item's way through the cars, each time in one of them a row of kit of its own.

use jiff::Timestamp;
use jiff::civil::Date;
use sqlx::{FromRow, SqliteConnection};

use super::error::StoreError;
use super::kit;
use super::lane::Write;
use super::text::{maybe, moment, parsed};
use crate::domain::ids::{BuildId, KitId};
use crate::domain::kit_moves::{Moving, Pictured, Stay, Way};

#[derive(Debug, FromRow)]
struct Row {
    start: String,
    build: String,
    car: String,
    slug: String,
    added: String,
    came_day: Option<String>,
    went_day: Option<String>,
    went_why: Option<String>,
    #[sqlx(flatten)]
    kit: kit::Row,
}

/// All the rows of one thing, from any of them: back by the moves it came by, and on by those it went by.
const WAYS: &str = "WITH RECURSIVE linked (start, item) AS (
    SELECT id, id FROM kit WHERE build = $1 AND id IN (SELECT left_as FROM kit_moves UNION SELECT came_as FROM kit_moves)
    UNION SELECT start, left_as FROM linked JOIN kit_moves ON came_as = item
    UNION SELECT start, came_as FROM linked JOIN kit_moves ON left_as = item)
SELECT linked.start, kit.*, builds.name AS car, builds.slug, came.day AS came_day, went.day AS went_day, went.why AS went_why
FROM linked JOIN kit ON kit.id = linked.item JOIN builds ON builds.id = kit.build
LEFT JOIN kit_moves came ON came.came_as = kit.id LEFT JOIN kit_moves went ON went.left_as = kit.id
ORDER BY linked.start, kit.number";

/// The way of each item that moved into a build or out of it.
pub(super) async fn of_build(on: &mut SqliteConnection, build: BuildId) -> Result<Vec<Way>, StoreError> {
    let rows: Vec<Row> = sqlx::query_as(WAYS).bind(build.to_string()).fetch_all(&mut *on).await?;
    let mut ways: Vec<Way> = Vec::new();
    for row in rows {
        let item: KitId = parsed("kit_moves", "left_as", &row.start)?;
        let stay = stay(on, row).await?;
        match ways.last_mut().filter(|way| way.item == item) {
            Some(way) => way.stays.push(stay),
            None => ways.push(Way { item, stays: vec![stay] }),
        }
    }
    Ok(ways)
}

async fn stay(on: &mut SqliteConnection, row: Row) -> Result<Stay, StoreError> {
    let item = row.kit.item()?;
    let photos: Vec<(String, String, String)> = sqlx::query_as(
        "SELECT shot, sha256, declared FROM photos WHERE build = $1 AND shot LIKE $2
         AND received IS NOT NULL AND withdrawn IS NULL ORDER BY number",
    )
    .bind(&row.build)
    .bind(format!("K{} %", item.number))
    .fetch_all(on)
    .await?;
    let pictured = |(shot, sha256, declared): (String, String, String)| {
        let sha256 = parsed("photos", "sha256", &sha256)?;
        Ok(Pictured { shot, sha256, declared: parsed("photos", "declared", &declared)? })
    };
    let went: Option<Date> = maybe("kit_moves", "day", row.went_day.as_deref())?;
    Ok(Stay {
        build: parsed("kit", "build", &row.build)?,
        car: row.car,
        slug: row.slug,
        recorded: parsed("kit", "added", &row.added)?,
        came: maybe("kit_moves", "day", row.came_day.as_deref())?,
        item,
        went: went.map(|day| (day, row.went_why.unwrap_or_default())),
        photos: photos.into_iter().map(pictured).collect::<Result<_, StoreError>>()?,
    })
}

impl Write {
    /// The day an item came by a move, and when it was recorded in its build.
    pub async fn kit_since(&mut self, item: KitId) -> Result<(Option<Date>, Timestamp), StoreError> {
        let (added, day): (String, Option<String>) =
            sqlx::query_as("SELECT added, (SELECT day FROM kit_moves WHERE came_as = kit.id) FROM kit WHERE id = $1")
                .bind(item.to_string())
                .fetch_one(&mut self.connection)
                .await?;
        Ok((maybe("kit_moves", "day", day.as_deref())?, parsed("kit", "added", &added)?))
    }

    /// Records that one row of kit went on as another.
    pub async fn add_kit_move(
        &mut self,
        (left, came): (KitId, KitId),
        moving: &Moving,
        at: Timestamp,
        by: &str,
    ) -> Result<(), StoreError> {
        sqlx::query("INSERT INTO kit_moves (left_as, came_as, day, why, moved, by) VALUES ($1, $2, $3, $4, $5, $6)")
            .bind(left.to_string())
            .bind(came.to_string())
            .bind(moving.day.to_string())
            .bind(&moving.why)
            .bind(moment(at))
            .bind(by)
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }
}
