//! When a backup is due, and when its lack is told.

use jiff::{SignedDuration, Timestamp};

/// Hours of the night in which one is made by itself (*common practice*: nobody works, the phones have sent).
const NIGHT: std::ops::RangeInclusive<i8> = 2..=5;
/// So old the last one is before the next night's is made.
const NIGHTLY: SignedDuration = SignedDuration::from_hours(18);
/// So old it is before one is made at any hour: the machine is off at night.
const LATE: SignedDuration = SignedDuration::from_hours(30);
/// So old it is before the office is told.
pub const TOLD: SignedDuration = SignedDuration::from_hours(3 * 24);

/// Whether a backup is to be made now: one a night, and one by day where there was none at night.
pub fn due(last: Option<Timestamp>, now: Timestamp, hour: i8) -> bool {
    let Some(last) = last else { return true };
    let age = now.duration_since(last);
    age >= LATE || (age >= NIGHTLY && NIGHT.contains(&hour))
}

/// Whether the last one is so old that the office is told.
pub fn too_old(last: Timestamp, now: Timestamp) -> bool {
    now.duration_since(last) > TOLD
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_is_made_a_night_and_by_day_where_the_night_had_none() {
        let at = |hour: i64| Timestamp::from_second(hour * 3600).unwrap();
        let last = Some(at(3));
        for (now, expected) in [(3, false), (20, false), (21, false), (26, true), (27, true), (30, false), (33, true)] {
            let hour = i8::try_from(now % 24).unwrap();
            assert_eq!(due(last, at(now), hour), expected, "{now} h");
        }
        assert!(due(None, at(12), 12));
        assert!(!too_old(at(0), at(72)) && too_old(at(0), at(73)));
    }
}
