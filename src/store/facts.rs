//! Reading all that is recorded of a build in one read transaction.

use jiff::Timestamp;

use super::books::Book;
use super::error::StoreError;
use super::handle::Store;
use super::{
    balance, books, build_log, builds, cage, car_dates, forecasts, foreseen, kit, kit_moves, lowering, mark_ups,
    measures, notes, photos, questions, rounds, rulings, scale_papers, stock, text, weigh_in,
};
use crate::domain::recorded::facts::{BookText, BuildFacts};
use crate::domain::words::ids::BuildId;

impl Store {
    /// Everything recorded of a build, as of one moment.
    pub async fn facts(&self, id: BuildId) -> Result<BuildFacts, StoreError> {
        let mut at_once = self.readers().begin().await?;
        let on = &mut *at_once;
        let build = builds::by_id(&mut *on, id).await?.ok_or(StoreError::NotFound("build"))?;
        let book =
            match build.book {
                Some(book) => books::by_id(&mut *on, book)
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
            mark_ups: mark_ups::of_build(&mut *on, id).await?,
            sticks: stock::of_build(&mut *on, id).await?,
            cuts: stock::cuts_of_build(&mut *on, id).await?,
            kit: kit::of_build(&mut *on, id).await?,
            kit_ways: kit_moves::of_build(&mut *on, id).await?,
            measured,
            car: car_dates::of_build(&mut *on, id).await?,
            questions: questions::of_build(&mut *on, id).await?,
            rounds: rounds::of_build(&mut *on, id).await?,
            replies: rounds::replies_of_build(&mut *on, id).await?,
            rulings: rulings::of_build(&mut *on, id).await?,
            notes: notes::of_build(&mut *on, id).await?,
            as_of: build_log::as_of(&mut *on, id).await?,
            log_head: build_log::head_of(&mut *on, id).await?,
        })
    }

    /// The number of each build's last log entry, oldest build first: what moved since, the front page reads again.
    pub async fn as_ofs(&self) -> Result<Vec<(BuildId, i64)>, StoreError> {
        let rows: Vec<(String, i64)> = sqlx::query_as(
            "SELECT id, COALESCE((SELECT MAX(log.number) FROM log WHERE log.build = builds.id), 0)
             FROM builds ORDER BY number",
        )
        .fetch_all(self.readers())
        .await?;
        rows.into_iter().map(|(id, as_of)| Ok((text::parsed("builds", "id", &id)?, as_of))).collect()
    }
}
