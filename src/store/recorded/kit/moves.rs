//! Rows of moves: an item's way through the cars, each time in one of them a row of kit of its own.

use jiff::Timestamp;
use jiff::civil::Date;
use sqlx::FromRow;

use crate::domain::recorded::kit::moves::{Moving, Pictured, Stay, Way};
use crate::domain::words::ids::{BuildId, KitId};
use crate::store::engine::Connection;
use crate::store::error::StoreError;
use crate::store::lane::Write;
use crate::store::recorded::kit;
use crate::store::text::{listed, maybe, moment, parsed};

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
    shot: Option<String>,
    sha256: Option<String>,
    declared: Option<String>,
    #[sqlx(flatten)]
    kit: kit::Row,
}

/// All the rows of one thing, from any of them: back by the moves it came by, and on by those it went by. Each stands once
/// for each photograph of it that counts, and once where there is none.
const WAYS: &str = "WITH RECURSIVE linked (start, item) AS (
    SELECT id, id FROM kit WHERE build = $1
        AND (EXISTS (SELECT 1 FROM kit_moves WHERE left_as = kit.id) OR EXISTS (SELECT 1 FROM kit_moves WHERE came_as = kit.id)
        OR EXISTS (SELECT 1 FROM kit_ways_brought WHERE item = kit.id))
    UNION SELECT start, left_as FROM linked JOIN kit_moves ON came_as = item
    UNION SELECT start, came_as FROM linked JOIN kit_moves ON left_as = item)
SELECT linked.start, kit.*, builds.name AS car, builds.slug, came.day AS came_day, went.day AS went_day, went.why AS went_why,
    photos.shot, photos.sha256, photos.declared
FROM linked JOIN kit ON kit.id = linked.item JOIN builds ON builds.id = kit.build
LEFT JOIN kit_moves came ON came.came_as = kit.id LEFT JOIN kit_moves went ON went.left_as = kit.id
LEFT JOIN photos ON photos.build = kit.build AND photos.shot LIKE 'K' || kit.balloon || ' %'
    AND photos.received IS NOT NULL AND photos.withdrawn IS NULL
ORDER BY linked.start, kit.number, photos.number";

/// The way of each item that moved into a build or out of it. A car that is not in this shop has no address here.
pub(in crate::store) async fn of_build(on: &mut Connection, build: BuildId) -> Result<Vec<Way>, StoreError> {
    let mut ways = as_recorded(on, build).await?;
    for stay in ways.iter_mut().flat_map(|way| &mut way.stays).filter(|stay| stay.build != build) {
        let here: bool = sqlx::query_scalar("SELECT EXISTS (SELECT 1 FROM builds WHERE id = $1)")
            .bind(stay.build.to_string())
            .fetch_one(&mut *on)
            .await?;
        if !here {
            stay.slug.clear();
        }
    }
    Ok(ways)
}

/// The same with the addresses that cars had in the shops they were recorded in.
pub(in crate::store) async fn as_recorded(on: &mut Connection, build: BuildId) -> Result<Vec<Way>, StoreError> {
    let rows: Vec<Row> = sqlx::query_as(WAYS).bind(build.to_string()).fetch_all(&mut *on).await?;
    let mut ways: Vec<Way> = Vec::new();
    for mut row in rows {
        let item: KitId = parsed("kit_moves", "left_as", &row.start)?;
        let pictured = row.pictured()?;
        let stay = row.stay()?;
        if ways.last().is_none_or(|way| way.item != item) {
            ways.push(Way { item, stays: Vec::new() });
        }
        let Some(way) = ways.last_mut() else { continue };
        if way.stays.last().is_none_or(|last| last.item.id != stay.item.id) {
            way.stays.push(stay);
        }
        if let Some(last) = way.stays.last_mut() {
            last.photos.extend(pictured);
        }
    }
    for way in &mut ways {
        let mut stays = Vec::new();
        for stay in std::mem::take(&mut way.stays) {
            stays.extend(with_brought(on, stay).await?);
        }
        way.stays = stays;
    }
    Ok(ways)
}

/// A stay, and those in cars that are not in this shop which came with it in a car's file.
async fn with_brought(on: &mut Connection, mut stay: Stay) -> Result<Vec<Stay>, StoreError> {
    let text: Option<String> = sqlx::query_scalar("SELECT way FROM kit_ways_brought WHERE item = $1")
        .bind(stay.item.id.to_string())
        .fetch_optional(on)
        .await?;
    let Some(text) = text else { return Ok(vec![stay]) };
    let way: Way = listed("kit_ways_brought", "way", &text)?;
    let here = way.here().ok_or(StoreError::Damaged { table: "kit_ways_brought", column: "way" })?;
    stay.came = here.came.or(stay.came);
    stay.went = stay.went.or_else(|| here.went.clone());
    let after = way.stays.iter().skip(way.before().len() + 1);
    Ok(way.before().iter().cloned().chain([stay]).chain(after.cloned()).collect())
}

impl Row {
    /// The photograph that the row stands for, if there is one.
    fn pictured(&mut self) -> Result<Option<Pictured>, StoreError> {
        let (Some(shot), Some(sha256), Some(declared)) = (self.shot.take(), &self.sha256, &self.declared) else {
            return Ok(None);
        };
        let (sha256, declared) = (parsed("photos", "sha256", sha256)?, parsed("photos", "declared", declared)?);
        Ok(Some(Pictured { shot, sha256, declared }))
    }

    /// The stay in one car, as yet without its photographs.
    fn stay(self) -> Result<Stay, StoreError> {
        let went: Option<Date> = maybe("kit_moves", "day", self.went_day.as_deref())?;
        Ok(Stay {
            build: parsed("kit", "build", &self.build)?,
            car: self.car,
            slug: self.slug,
            recorded: parsed("kit", "added", &self.added)?,
            came: maybe("kit_moves", "day", self.came_day.as_deref())?,
            item: self.kit.item()?,
            went: went.map(|day| (day, self.went_why.unwrap_or_default())),
            photos: Vec::new(),
        })
    }
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
