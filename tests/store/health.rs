//! Whether the records can be written, and whether what was kept is still what was recorded.

use std::fs;
use std::path::PathBuf;

use tackbook::actions;
use tackbook::domain::recorded::rounds::Round;
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::store::{Store, StoreError};

use crate::folder::Folder;
use crate::house::{House, jpeg};

async fn full() -> (House, Fingerprint, Round) {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    house.photo(build, &jpeg(1, 5_000)).await;
    house.photo(build, &jpeg(2, 5_000)).await;
    let sha256 = Fingerprint::of(&jpeg(1, 5_000));
    let round = house.round(build, 1, std::slice::from_ref(&sha256)).await;
    (house, sha256, round)
}

fn photo_file(house: &House, sha256: &Fingerprint) -> PathBuf {
    house.folder.0.join("photos").join(sha256.text().get(..2).unwrap()).join(sha256.text())
}

/// Writes over a write-protected file, as a dying disk or a person with a key would.
fn overwrite(file: &PathBuf, bytes: &[u8]) {
    fs::remove_file(file).unwrap();
    fs::write(file, bytes).unwrap();
}

#[tokio::test]
async fn an_open_shop_is_healthy_and_a_closed_one_is_not() {
    let house = House::open().await;
    let entries = house.office.store.verify_log().await.unwrap().entries;
    house.office.store.healthy().await.unwrap();
    house.office.store.healthy().await.unwrap();
    let beats: i64 =
        sqlx::query_scalar("SELECT beats FROM heartbeat").fetch_one(&mut house.behind_its_back().await).await.unwrap();
    assert_eq!(beats, 2, "healthy means that a row was really written");
    assert_eq!(house.office.store.verify_log().await.unwrap().entries, entries);
    house.office.store.close().await;
    assert!(house.office.store.healthy().await.is_err());
}

#[tokio::test]
async fn what_is_kept_is_what_was_recorded() {
    let (house, ..) = full().await;
    let report = actions::shop::health::verify(&house.office.store).await.unwrap();
    assert!(report.good(), "{report:?}");
    assert_eq!((report.photos, report.packets, report.strays.len()), (2, 1, 0));
    assert_eq!(report.log, house.office.store.verify_log().await.unwrap());
}

#[tokio::test]
async fn promise_9_one_altered_byte_of_a_packet_or_a_photo_shows() {
    let (house, sha256, round) = full().await;
    let mut bytes = jpeg(1, 5_000);
    *bytes.get_mut(2_500).unwrap() ^= 1;
    overwrite(&photo_file(&house, &sha256), &bytes);
    overwrite(&house.folder.0.join("packets").join(format!("{}.pdf", round.packet_sha256)), b"%PDF-1.7 another");
    let report = actions::shop::health::verify(&house.office.store).await.unwrap();
    assert_eq!(report.bad.len(), 2, "{report:?}");
    assert!(report.bad.iter().all(|bad| bad.contains("Pine Coupe") && bad.contains("not the file that was kept")));
}

#[tokio::test]
async fn a_missing_file_shows() {
    let (house, sha256, _) = full().await;
    fs::remove_file(photo_file(&house, &sha256)).unwrap();
    let report = actions::shop::health::verify(&house.office.store).await.unwrap();
    assert_eq!(report.bad.len(), 1, "{report:?}");
    assert!(report.bad.iter().all(|bad| bad.contains(sha256.text()) && bad.contains("missing")), "{report:?}");
}

/// A cut between file and row leaves a file without a row: told, but nothing is wrong.
#[tokio::test]
async fn a_file_without_a_row_is_told_of_and_is_not_bad() {
    let (house, sha256, _) = full().await;
    let shelf = photo_file(&house, &sha256).parent().unwrap().to_owned();
    fs::write(shelf.join("left-over"), b"something").unwrap();
    let report = actions::shop::health::verify(&house.office.store).await.unwrap();
    assert!(report.good(), "{report:?}");
    assert_eq!(report.strays, [format!("photos/{}/left-over", sha256.text().get(..2).unwrap())]);
}

#[tokio::test]
async fn rows_altered_behind_the_programs_back_show() {
    for (trigger, change) in [
        ("rounds_keep", "UPDATE rounds SET contents = '{}'"),
        ("rounds_keep", "UPDATE rounds SET as_of = 9999"),
        ("photos_received_once", "UPDATE photos SET entry = 9999 WHERE number = 1"),
    ] {
        let (house, ..) = full().await;
        let mut behind = house.behind_its_back().await;
        sqlx::query(sqlx::AssertSqlSafe(format!("DROP TRIGGER {trigger}"))).execute(&mut behind).await.unwrap();
        sqlx::query(change).execute(&mut behind).await.unwrap();
        let report = actions::shop::health::verify(&house.office.store).await.unwrap();
        // what the change means, and that the log knows neither the row that is there nor misses none
        let (rows, meaning): (Vec<_>, Vec<_>) = report.bad.iter().partition(|bad| bad.starts_with("A record in "));
        assert_eq!((rows.len(), meaning.len()), (2, 1), "{change}: {report:?}");
    }
}

#[tokio::test]
async fn a_writers_lane_that_ended_is_told_and_takes_no_more_work() {
    let house = House::open().await;
    let store = &house.office.store;
    assert!(!store.ended());
    let broken = store.change::<(), StoreError, _>(|_| Box::pin(async { panic!("a change that ends the lane") })).await;
    assert!(matches!(broken, Err(StoreError::Ended)), "{broken:?}");
    let after = store.change::<(), StoreError, _>(|_| Box::pin(async { Ok(((), None)) })).await;
    assert!(matches!(after, Err(StoreError::Ended)), "{after:?}");
    assert!(store.ended());
    assert!(matches!(store.healthy().await, Err(StoreError::Ended)));
    // what was kept is read as ever
    assert_eq!(store.people().await.unwrap().len(), 1);
}

#[cfg(unix)]
#[tokio::test]
async fn a_new_shop_is_for_its_owner_alone_to_read() {
    use std::os::unix::fs::PermissionsExt as _;

    let above = Folder::new();
    let shop = above.0.join("shop");
    let store = Store::open(&shop).await.unwrap();
    store.healthy().await.unwrap();
    let mode = |path: &str| fs::metadata(shop.join(path)).unwrap().permissions().mode() & 0o777;
    for (path, wanted) in
        [("", 0o700), ("keys", 0o700), ("tackbook.db", 0o600), ("tackbook.db-wal", 0o600), ("tackbook.db-shm", 0o600)]
    {
        assert_eq!(mode(path), wanted, "{path}: {:o}", mode(path));
    }
    store.close().await;
}

#[cfg(unix)]
#[tokio::test]
async fn deleting_the_lock_of_an_open_shop_lets_no_second_program_in() {
    let house = House::open().await;
    fs::remove_file(house.folder.0.join("lock")).unwrap();
    let second = Store::open(&house.folder.0).await;
    assert!(matches!(second, Err(StoreError::InUse(_))), "{second:?}");
    house.office.store.close().await;
    Store::open(&house.folder.0).await.unwrap().close().await;
}
