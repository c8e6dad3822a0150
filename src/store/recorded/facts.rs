//! Reading all that is recorded of a build in one read transaction.

use jiff::Timestamp;

use super::{
    build_log, cage, car_dates, kit, lowering, mark_ups, measures, notes, photos, photos_said, questions, rounds,
    rulings, welds,
};
use crate::domain::recorded::facts::{BookText, BuildFacts};
use crate::domain::words::ids::BuildId;
use crate::store::book::rule_books;
use crate::store::book::rule_books::Book;
use crate::store::engine::Connection;
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::shop::{builds, stock};
use crate::store::text;
use crate::store::weight::{balance, forecasts, foreseen, scale_papers, weigh_in};

/// The same of any connection to a shop's records, which sees one moment's state of them.
pub(in crate::store) async fn facts_of(on: &mut Connection, id: BuildId) -> Result<BuildFacts, StoreError> {
    let build = builds::by_id(&mut *on, id).await?.ok_or(StoreError::NotFound("build"))?;
    let book =
        match build.book {
            Some(book) => rule_books::by_id(&mut *on, book)
                .await?
                .map(|Book { id, name, edition, toml, .. }| BookText { id, name, edition, toml }),
            None => None,
        };
    let photos = photos::of_build(&mut *on, id).await?;
    let measured = measures::of_build(&mut *on, id).await?;
    let moments: Vec<Timestamp> = BuildFacts::evidence_moments(&photos, &measured).collect();
    Ok(BuildFacts {
        build,
        book,
        weigh_ins: weigh_in::of_build(&mut *on, id).await?,
        papers: scale_papers::of_build(&mut *on, id).await?,
        forecasts: forecasts::of_build(&mut *on, id).await?,
        wheels: balance::of_build(&mut *on, id).await?,
        foreseen: foreseen::of_build(&mut *on, id).await?,
        cage: cage::of_build(&mut *on, id).await?,
        earlier_cages: cage::earlier(&mut *on, id, &moments).await?,
        lowering: lowering::of_build(&mut *on, id).await?,
        looks: lowering::looks_of_build(&mut *on, id).await?,
        photos,
        photos_said: photos_said::of_build(&mut *on, id).await?,
        mark_ups: mark_ups::of_build(&mut *on, id).await?,
        sticks: stock::of_build(&mut *on, id).await?,
        cuts: stock::cuts_of_build(&mut *on, id).await?,
        kit: kit::of_build(&mut *on, id).await?,
        kit_ways: kit::moves::of_build(&mut *on, id).await?,
        measured,
        car: car_dates::of_build(&mut *on, id).await?,
        questions: questions::of_build(&mut *on, id).await?,
        rounds: rounds::of_build(&mut *on, id).await?,
        replies: rounds::replies_of_build(&mut *on, id).await?,
        rulings: rulings::of_build(&mut *on, id).await?,
        notes: notes::of_build(&mut *on, id).await?,
        welds: welds::of_build(&mut *on, id).await?,
        weld_order: welds::order::of_build(&mut *on, id).await?,
        as_of: build_log::as_of(&mut *on, id).await?,
        log_head: build_log::head_of(&mut *on, id).await?,
    })
}

impl Store {
    /// Everything recorded of a build, as of one moment.
    pub async fn facts(&self, id: BuildId) -> Result<BuildFacts, StoreError> {
        facts_of(&mut *self.readers().begin().await?, id).await
    }

    /// What was last said of each build, oldest build first: where it is the same, nothing of the build has changed.
    pub async fn seen_of_all(&self) -> Result<Vec<(BuildId, Seen)>, StoreError> {
        let rows: Vec<(String, i64, i64, i64, i64)> = sqlx::query_as(
            "SELECT id, COALESCE((SELECT MAX(log.number) FROM log WHERE log.build = builds.id), 0),
                 COALESCE((SELECT MAX(number) FROM log WHERE build IS NULL), 0),
                 COALESCE((SELECT MAX(number) FROM log WHERE room = 'stock'), 0),
                 COALESCE((SELECT MAX(number) FROM log WHERE room = 'kit'), 0)
             FROM builds ORDER BY number",
        )
        .fetch_all(self.readers())
        .await?;
        let seen = |(id, of_build, of_shop, of_stock, of_kit): (String, i64, i64, i64, i64)| {
            Ok((text::parsed("builds", "id", &id)?, Seen { of_build, shared: [of_shop, of_stock, of_kit] }))
        };
        rows.into_iter().map(seen).collect()
    }

    /// What was last said of one build, as [`Store::seen_of_all`] says it.
    pub async fn seen(&self, id: BuildId) -> Result<Seen, StoreError> {
        let (of_build, of_shop, of_stock, of_kit): (i64, i64, i64, i64) = sqlx::query_as(
            "SELECT COALESCE((SELECT MAX(number) FROM log WHERE build = $1), 0),
                 COALESCE((SELECT MAX(number) FROM log WHERE build IS NULL), 0),
                 COALESCE((SELECT MAX(number) FROM log WHERE room = 'stock'), 0),
                 COALESCE((SELECT MAX(number) FROM log WHERE room = 'kit'), 0)",
        )
        .bind(id.to_string())
        .fetch_one(self.readers())
        .await?;
        Ok(Seen { of_build, shared: [of_shop, of_stock, of_kit] })
    }
}

/// How far the log was when a build was looked at. Its own entries tell what was recorded of it; those of the shop, and those
/// of sticks and kit, which go from build to build, what others changed of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Seen {
    of_build: i64,
    shared: [i64; 3],
}
