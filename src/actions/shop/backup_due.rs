//! When a backup is due, and when its lack is told.

use jiff::{SignedDuration, Timestamp};

/// Hours of the night in which one is made by itself (*common practice*: nobody works, the phones have sent).
const NIGHT: std::ops::RangeInclusive<i8> = 2..=5;
/// So old the last one is before the next night's is made (own choice: one a night, also when nights differ in hour).
const NIGHTLY: SignedDuration = SignedDuration::from_hours(18);
/// So old it is before one is made at any hour: the machine is off at night (own choice).
const LATE: SignedDuration = SignedDuration::from_hours(30);
/// So old it is before the office is told (*common practice*: a long weekend).
const TOLD: SignedDuration = SignedDuration::from_hours(3 * 24);

/// So far ahead of now the last one may be dated (own choice: clocks are set right by minutes).
const AHEAD: SignedDuration = SignedDuration::from_hours(1);

/// Whether the last one is dated in the future: the machine's clock was ahead then, or is behind now.
pub fn ahead(last: Timestamp, now: Timestamp) -> bool {
    last.duration_since(now) > AHEAD
}

/// Whether a backup is to be made now: one a night, and one by day where there was none at night. One that is dated in the
/// future says nothing of when it was made.
pub fn due(last: Option<Timestamp>, now: Timestamp, hour: i8) -> bool {
    let Some(last) = last else { return true };
    let age = now.duration_since(last);
    ahead(last, now) || age >= LATE || (age >= NIGHTLY && NIGHT.contains(&hour))
}

/// Whether the last one is so old that the office is told.
pub fn too_old(last: Timestamp, now: Timestamp) -> bool {
    now.duration_since(last) > TOLD
}

/// What the office is told among the open items of the shop: `last` is the last backup's moment, `first_photo` when the first
/// photograph was kept. None while there is nothing to tell.
pub fn open_item(last: Option<Timestamp>, first_photo: Option<Timestamp>, now: Timestamp) -> Option<&'static str> {
    match (last, first_photo) {
        (Some(last), _) if ahead(last, now) => {
            Some("The last backup is dated in the future: set the machine's clock right, then make another")
        }
        (Some(last), _) => too_old(last, now).then_some("The last backup is more than three days old: make another"),
        (None, Some(first)) => {
            too_old(first, now).then_some("Photographs are on one disk alone: no backup was ever made")
        }
        (None, None) => None,
    }
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
        // made by a clock that was a day ahead
        assert!(due(last, at(-21), 3) && ahead(at(3), at(-21)) && !ahead(at(3), at(2)));
        assert!(!too_old(at(0), at(72)) && too_old(at(0), at(73)));
    }

    #[test]
    fn the_office_is_told_three_days_after_the_last_or_after_the_first_photograph() {
        let at = |hour: i64| Timestamp::from_second(hour * 3600).unwrap();
        let describe =
            |last: Option<i64>, first: Option<i64>| open_item(last.map(at), first.map(at), at(100)).is_some();
        for (last, first, expected) in [
            (None, None, false),
            (None, Some(28), false),
            (None, Some(27), true),
            (Some(28), Some(0), false),
            (Some(27), Some(90), true),
            (Some(101), Some(0), false),
            (Some(102), Some(0), true),
        ] {
            assert_eq!(describe(last, first), expected, "{last:?} {first:?}");
        }
    }
}
