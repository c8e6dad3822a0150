//! Guesses where photographs belong: as many as a full car has cost no more than a page may wait for.

use std::collections::BTreeMap;
use std::time::{Duration, Instant};

use jiff::SignedDuration;
use tackbook::domain::derived::worked::Worked;
use tackbook::domain::judge::shots::Shot;
use tackbook::domain::recorded::photos::Photo;
use tackbook::domain::shop::looks::Seen;
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::domain::work::guesses::{Known, guesses};
use tackbook::domain::work::walk::unasked;

use crate::full_build;

const DAY: jiff::civil::Date = jiff::civil::date(2026, 5, 4);
const MANY: usize = 1_600;

#[test]
fn sixteen_hundred_photographs_of_which_half_are_at_no_shot_are_compared_within_a_second() {
    let mut facts = full_build::facts();
    let one = facts.photos.iter().find(|photo| photo.kept()).unwrap().clone();
    let shots: Vec<String> = Worked::of(&facts, DAY).shots.iter().map(Shot::name).collect();
    let mut looks = BTreeMap::new();
    facts.photos = (0..MANY)
        .map(|number| {
            let sha256 = Fingerprint::of(&number.to_be_bytes());
            let hash = 0x0f0f_3c3c_5a5a_1188_u64.rotate_left(u32::try_from(number % 64).unwrap());
            looks.insert(sha256.clone(), Seen { difference_hash: hash, ..Seen::default() });
            // every other one at a shot, a minute apart
            let shot = if number % 2 == 0 { shots[number % shots.len()].clone() } else { String::new() };
            let declared = one.declared + SignedDuration::from_mins(i64::try_from(number).unwrap());
            Photo { capture: uuid::Uuid::from_u128(number as u128).into(), sha256, shot, declared, ..one.clone() }
        })
        .collect();
    let worked = Worked::of(&facts, DAY);
    let begun = Instant::now();
    let homeless = unasked(worked.every_shot(), &facts);
    let known = Known::of(&facts, &worked.shots, &looks);
    let found: usize = homeless.iter().map(|photo| guesses(&known, photo).len()).sum();
    let took = begun.elapsed();
    assert_eq!(homeless.len(), MANY / 2);
    assert!(found >= homeless.len(), "{found}");
    assert!(took < Duration::from_secs(1), "{took:?}");
}
