//! Things that are stated again and never changed, of which the newest statement counts: which one that is, so that nobody
//! states over what he has not seen.

use super::engine::Executor;
use super::error::StoreError;
use super::handle::Store;
use super::lane::Write;
use crate::domain::words::ids::BuildId;

/// Which of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stated {
    /// The dates of a build's car.
    CarDates(BuildId),
    /// How a build's cage is lowered.
    Lowering(BuildId),
    /// How the shop welds.
    WeldRates,
    /// How the shop cuts its tube.
    Saw,
}

impl Stated {
    /// The number of the newest statement; 0 before the first.
    async fn newest(self, on: impl Executor<'_>) -> Result<i64, StoreError> {
        let query = match self {
            Self::CarDates(_) => "SELECT COALESCE(MAX(number), 0) FROM car_dates WHERE build = $1",
            Self::Lowering(_) => "SELECT COALESCE(MAX(number), 0) FROM lowering WHERE build = $1",
            Self::WeldRates => "SELECT COALESCE(MAX(number), 0) FROM weld_rates",
            Self::Saw => "SELECT COALESCE(MAX(number), 0) FROM saw",
        };
        let query = sqlx::query_scalar(query);
        let query = match self {
            Self::CarDates(build) | Self::Lowering(build) => query.bind(build.to_string()),
            Self::WeldRates | Self::Saw => query,
        };
        Ok(query.fetch_one(on).await?)
    }
}

impl Store {
    /// The number of the newest statement; 0 before the first.
    pub async fn stated(&self, what: Stated) -> Result<i64, StoreError> {
        what.newest(self.readers()).await
    }
}

impl Write {
    /// Goes on where the newest statement is the one that its writer had before him, or he does not say which that was.
    ///
    /// # Errors
    /// `Stale` where another one was made meanwhile.
    pub async fn states_over(&mut self, what: Stated, over: Option<i64>) -> Result<(), StoreError> {
        let now = what.newest(&mut self.connection).await?;
        match over {
            Some(over) if over != now => Err(StoreError::Stale { now }),
            _ => Ok(()),
        }
    }
}
