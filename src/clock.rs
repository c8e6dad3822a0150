//! The one clock: now, today, new ids. Everything else is handed the values.

use std::sync::LazyLock;
use std::time::{Duration, Instant};

use jiff::civil::{Date, DateTime};
use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp};
use uuid::Uuid;

/// Tells the time in the shop's zone; a test holds it still.
#[derive(Debug, Clone)]
pub struct Clock {
    zone: TimeZone,
    held: Option<Timestamp>,
}

impl Clock {
    /// The machine's clock, in the machine's zone.
    pub fn of_machine() -> Self {
        Self { zone: TimeZone::system(), held: None }
    }

    /// A clock that stands still, in UTC.
    pub const fn held_at(moment: Timestamp) -> Self {
        Self { zone: TimeZone::UTC, held: Some(moment) }
    }

    /// This moment.
    #[expect(clippy::disallowed_methods, reason = "the one place that asks the machine")]
    pub fn now(&self) -> Timestamp {
        self.held.unwrap_or_else(Timestamp::now)
    }

    /// How long something has gone on that nobody can set: what waits are counted by. From when the program first asked.
    pub fn steady(&self) -> Duration {
        static BEGUN: LazyLock<Instant> = LazyLock::new(Instant::now);
        self.held.map_or_else(|| BEGUN.elapsed(), |held| held.as_duration().try_into().unwrap_or_default())
    }

    /// Today in the shop's zone.
    pub fn today(&self) -> Date {
        self.now().to_zoned_datetime(self.zone.clone()).date()
    }

    /// The hour of the day in the shop's zone, from 0 to 23.
    pub fn hour(&self) -> i8 {
        self.now().to_zoned_datetime(self.zone.clone()).hour()
    }

    /// The shop's zone by its name in the tz database, where it has one; else how far it is from UTC now.
    pub fn zone(&self) -> String {
        let named = || self.now().to_zoned_datetime(self.zone.clone()).strftime("%:z").to_string();
        self.zone.iana_name().map_or_else(named, str::to_owned)
    }

    /// A day in the shop's zone.
    pub fn day_of(&self, moment: Timestamp) -> Date {
        moment.to_zoned_datetime(self.zone.clone()).date()
    }

    /// A moment in the shop's zone as it is read: `2026-05-04 14:02`.
    pub fn minute_of(&self, moment: Timestamp) -> String {
        moment.to_zoned_datetime(self.zone.clone()).strftime("%Y-%m-%d %H:%M").to_string()
    }

    /// The moment that a camera or a phone claims, `2026-05-04 10:11:12 +02:00`, by the shop's zone where it names no offset;
    /// none for what is no time.
    pub fn claimed(&self, text: &str) -> Option<Timestamp> {
        let with_offset = Timestamp::strptime("%Y-%m-%d %H:%M:%S %:z", text).ok();
        let here = || self.zone.to_timestamp(DateTime::strptime("%Y-%m-%d %H:%M:%S", text).ok()?).ok();
        with_offset.or_else(here)
    }

    /// This moment and a while.
    pub fn after(&self, while_: SignedDuration) -> Timestamp {
        self.now().saturating_add(while_).unwrap_or(Timestamp::MAX)
    }

    /// A new id (UUID version 7, RFC 9562).
    pub fn new_id(&self) -> Uuid {
        Uuid::now_v7()
    }
}
