//! Photographs: offsets are promises, repeating is doing it once, and no build sees another's.

use tackbook::actions::recorded::photos::{Finished, Whole};
use tackbook::actions::{self, ActionError};
use tackbook::domain::shop::people::Role;
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::store::vault::Appended;
use tackbook::store::vault::Item;

use crate::house::{House, declaration, jpeg, look, new_capture};
use crate::kept::kept;

#[tokio::test]
async fn telling_twice_is_telling_once() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    let (bytes, capture) = (jpeg(1, 1_000), new_capture());
    let first = actions::recorded::photos::declare(&house.office, build, declaration(capture, &bytes)).await.unwrap();
    let entries = house.office.store.verify_log().await.unwrap().entries;
    let again = actions::recorded::photos::declare(&house.office, build, declaration(capture, &bytes)).await.unwrap();
    assert_eq!(first, again);
    assert_eq!(house.office.store.photos(build).await.unwrap().len(), 1);
    assert_eq!(house.office.store.verify_log().await.unwrap().entries, entries);
}

#[tokio::test]
async fn a_name_stands_for_one_content_in_one_build() {
    let house = House::open().await;
    let (build, other) = (house.build("Pine Coupe").await.id, house.build("Elm Saloon").await.id);
    let capture = new_capture();
    actions::recorded::photos::declare(&house.office, build, declaration(capture, &jpeg(1, 1_000))).await.unwrap();
    for (build, bytes) in [(build, jpeg(2, 1_000)), (other, jpeg(1, 1_000))] {
        let said = actions::recorded::photos::declare(&house.office, build, declaration(capture, &bytes)).await;
        assert!(matches!(said, Err(ActionError::OtherContent)), "{said:?}");
    }
}

#[tokio::test]
async fn an_offset_that_was_told_is_a_promise() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    let bytes = jpeg(1, 1_000);
    let told = declaration(new_capture(), &bytes);
    let sha256 = told.sha256.clone();
    actions::recorded::photos::declare(&house.office, build, told).await.unwrap();
    let append = async |house: &House, at: usize, end: usize| {
        let part = bytes.get(at..end).unwrap().to_vec();
        actions::recorded::photos::append(&house.office, build, &sha256, at as u64, part).await.unwrap()
    };
    assert_eq!(append(&house, 0, 400).await, Appended::Now(400));
    // sent again after a lost answer, and sent too far ahead: both are told where to go on
    assert_eq!(append(&house, 0, 400).await, Appended::GoOnFrom(400));
    assert_eq!(append(&house, 700, 1_000).await, Appended::GoOnFrom(400));
    let house = house.restarted().await;
    let standing = actions::recorded::photos::standing(&house.office, build, &sha256).await.unwrap();
    assert_eq!((standing.offset, standing.receipt), (400, None));
    let early = actions::recorded::photos::finish(&house.office, build, &sha256, &look()).await.unwrap();
    assert_eq!(early, Finished::GoOnFrom(400));
    assert_eq!(append(&house, 400, 1_000).await, Appended::Now(1_000));
    let done = actions::recorded::photos::finish(&house.office, build, &sha256, &look()).await.unwrap();
    assert!(matches!(done, Finished::Kept(_)));
    assert_eq!(kept(&house.office.store, Item::Photo(sha256)).await, Some(bytes));
}

#[tokio::test]
async fn finishing_twice_gives_the_same_receipt() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    let bytes = jpeg(1, 1_000);
    let sha256 = Fingerprint::of(&bytes);
    actions::recorded::photos::declare(&house.office, build, declaration(new_capture(), &bytes)).await.unwrap();
    actions::recorded::photos::append(&house.office, build, &sha256, 0, bytes).await.unwrap();
    let mut racing = tokio::task::JoinSet::new();
    for _ in 0..8 {
        let (ctx, sha256) = (house.office.clone(), sha256.clone());
        racing.spawn(async move { actions::recorded::photos::finish(&ctx, build, &sha256, &look()).await.unwrap() });
    }
    let mut receipts = racing.join_all().await;
    receipts.push(actions::recorded::photos::finish(&house.office, build, &sha256, &look()).await.unwrap());
    let first = receipts.first().unwrap().clone();
    assert!(matches!(first, Finished::Kept(_)) && receipts.iter().all(|receipt| *receipt == first), "{receipts:?}");
    let received = house.office.store.log(100).await.unwrap();
    assert_eq!(received.iter().filter(|entry| entry.what == "A photo was received.").count(), 1);
}

#[tokio::test]
async fn bytes_that_are_not_the_declared_ones_are_not_kept() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    let mut bytes = jpeg(1, 1_000);
    let sha256 = Fingerprint::of(&bytes);
    actions::recorded::photos::declare(&house.office, build, declaration(new_capture(), &bytes)).await.unwrap();
    *bytes.last_mut().unwrap() ^= 1;
    actions::recorded::photos::append(&house.office, build, &sha256, 0, bytes).await.unwrap();
    let done = actions::recorded::photos::finish(&house.office, build, &sha256, &look()).await.unwrap();
    assert_eq!(done, Finished::Altered);
    let standing = actions::recorded::photos::standing(&house.office, build, &sha256).await.unwrap();
    assert_eq!((standing.offset, standing.receipt), (0, None));
    assert_eq!(kept(&house.office.store, Item::Photo(sha256.clone())).await, None);
    assert!(house.office.store.log(1).await.unwrap().first().unwrap().what.contains("arrived altered"));
    // the phone sends it again, whole this time
    house.photo(build, &jpeg(1, 1_000)).await;
}

#[tokio::test]
async fn more_than_was_declared_voids_the_part() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    let bytes = jpeg(1, 1_000);
    let sha256 = Fingerprint::of(&bytes);
    actions::recorded::photos::declare(&house.office, build, declaration(new_capture(), &bytes)).await.unwrap();
    let said = actions::recorded::photos::append(&house.office, build, &sha256, 0, vec![0; 1_001]).await.unwrap();
    assert_eq!(said, Appended::TooLong);
    assert_eq!(actions::recorded::photos::standing(&house.office, build, &sha256).await.unwrap().offset, 0);
}

#[tokio::test]
async fn what_is_no_photo_is_refused_in_words() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    let whole =
        Whole { capture: new_capture(), shot: String::new(), note: String::new(), bytes: b"<svg></svg>".to_vec() };
    let Err(ActionError::Refused(faults)) =
        actions::recorded::photos::keep_whole(&house.office, build, whole, &look()).await
    else {
        panic!("a drawing was kept as a photo")
    };
    assert!(faults.first().unwrap().why.contains("JPEG"), "{faults:?}");
}

#[tokio::test]
async fn the_same_content_is_sent_once_in_a_build_and_again_for_another() {
    let house = House::open().await;
    let (build, other) = (house.build("Pine Coupe").await.id, house.build("Elm Saloon").await.id);
    let bytes = jpeg(1, 1_000);
    let (_, receipt) = house.photo(build, &bytes).await;
    let again =
        actions::recorded::photos::declare(&house.office, build, declaration(new_capture(), &bytes)).await.unwrap();
    assert_eq!(again.offset, 1_000);
    assert!(again.receipt.is_some_and(|again| again.dots == receipt.dots));
    assert_eq!(house.office.store.photos(build).await.unwrap().len(), 2);
    // knowing a fingerprint gives no file of another build
    let elsewhere =
        actions::recorded::photos::declare(&house.office, other, declaration(new_capture(), &bytes)).await.unwrap();
    assert_eq!((elsewhere.offset, elsewhere.receipt), (0, None));
    let sha256 = Fingerprint::of(&bytes);
    let finished = actions::recorded::photos::finish(&house.office, other, &sha256, &look()).await.unwrap();
    assert_eq!(finished, Finished::GoOnFrom(0));
}

#[tokio::test]
async fn promise_6_what_is_withdrawn_leaves_who_when_why_and_the_bytes() {
    let house = House::open().await;
    let fabricator = house.with("Fabricator", Role::Fabricator).await;
    let (build, other) = (house.build("Pine Coupe").await.id, house.build("Elm Saloon").await.id);
    let bytes = jpeg(1, 1_000);
    let (capture, _) = house.photo(build, &bytes).await;
    let refused = actions::recorded::photos::withdraw(&fabricator, build, capture, "blurred").await;
    assert!(matches!(refused, Err(ActionError::NotAllowed)), "{refused:?}");
    let elsewhere = actions::recorded::photos::withdraw(&house.office, other, capture, "blurred").await;
    assert!(matches!(elsewhere, Err(ActionError::NotFound("photo"))), "{elsewhere:?}");
    actions::recorded::photos::withdraw(&house.office, build, capture, "blurred").await.unwrap();
    actions::recorded::photos::withdraw(&house.office, build, capture, "another reason").await.unwrap();
    let withdrawn = house.office.store.photo(build, capture).await.unwrap().unwrap().withdrawn.unwrap();
    assert_eq!((withdrawn.why.as_str(), withdrawn.by.as_str()), ("blurred", "Office"));
    assert_eq!(kept(&house.office.store, Item::Photo(Fingerprint::of(&bytes))).await, Some(bytes));
}

#[tokio::test]
async fn a_part_that_nobody_goes_on_with_is_dropped_after_two_weeks_and_the_log_says_so() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    let (old, young) = (jpeg(1, 1_000), jpeg(2, 1_000));
    for bytes in [&old, &young] {
        let told = declaration(new_capture(), bytes);
        let sha256 = told.sha256.clone();
        actions::recorded::photos::declare(&house.office, build, told).await.unwrap();
        actions::recorded::photos::append(&house.office, build, &sha256, 0, bytes[..400].to_vec()).await.unwrap();
    }
    // the held clock stands in 2031: the files' own times are set beside it
    let now = house.office.clock.now();
    for (bytes, days) in [(&old, 15), (&young, 13)] {
        let part = house.folder.0.join("arriving").join(format!("{build}-{}.part", Fingerprint::of(bytes)));
        let written = now - jiff::SignedDuration::from_hours(24 * days);
        std::fs::File::options()
            .append(true)
            .open(part)
            .unwrap()
            .set_modified(std::time::UNIX_EPOCH + std::time::Duration::from_secs(written.as_second().unsigned_abs()))
            .unwrap();
    }
    let (store, clock) = (&house.office.store, &house.office.clock);
    assert_eq!(actions::recorded::photos::drop_old_parts(store, clock).await.unwrap(), 1);
    assert_eq!(actions::recorded::photos::drop_old_parts(store, clock).await.unwrap(), 0);
    for (bytes, offset) in [(&old, 0), (&young, 400)] {
        let standing =
            actions::recorded::photos::standing(&house.office, build, &Fingerprint::of(bytes)).await.unwrap();
        assert_eq!((standing.offset, standing.receipt), (offset, None));
    }
    assert_eq!(store.photos(build).await.unwrap().len(), 2, "the photographs stay, as ones on a phone");
    assert!(store.log(1).await.unwrap().first().unwrap().what.contains("dropped"));
}
