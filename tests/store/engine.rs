//! Settings, the version floor, the folder's lock, restarts, and commits shared by many.

use sqlx::{Connection as _, SqliteConnection};
use tackbook::actions::{self, Context};
use tackbook::domain::recorded::notes::NewNote;
use tackbook::domain::shop::people::Role;
use tackbook::store::vault::Item;
use tackbook::store::{Store, StoreError, version_is_safe};

use crate::house::{House, jpeg};
use crate::kept::kept;

/// What each connection must be set to; the numbers are SQLite's own (sqlite.org/pragma.html: synchronous 2 is FULL).
const WANTED: [(&str, &str); 6] = [
    ("journal_mode", "wal"),
    ("synchronous", "2"),
    ("foreign_keys", "1"),
    ("busy_timeout", "5000"),
    ("trusted_schema", "0"),
    ("cell_size_check", "1"),
];

#[tokio::test]
async fn every_connection_is_set_to_keep_what_it_says() {
    let house = House::open().await;
    let settings = house.office.store.settings().await.unwrap();
    assert_eq!(settings.len(), WANTED.len());
    for ((name, writing, reading), (wanted, value)) in settings.into_iter().zip(WANTED) {
        assert_eq!((name, writing.as_str(), reading.as_str()), (wanted, value, value));
    }
}

#[tokio::test]
async fn the_sqlite_that_is_built_in_has_not_the_wal_reset_race() {
    let house = House::open().await;
    let version: String =
        sqlx::query_scalar("SELECT sqlite_version()").fetch_one(&mut house.behind_its_back().await).await.unwrap();
    assert!(version_is_safe(&version), "{version}");
    assert!(!version_is_safe("3.51.2"));
}

#[tokio::test]
async fn a_folder_is_held_by_one_program_at_a_time() {
    let house = House::open().await;
    let Err(StoreError::InUse(said)) = Store::open(&house.folder.0).await else {
        panic!("the folder was given out twice")
    };
    assert!(said.contains("already works in"), "{said}");
    house.office.store.close().await;
    assert!(Store::open(&house.folder.0).await.is_ok());
}

#[tokio::test]
async fn a_restart_keeps_everything() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await;
    let photo = jpeg(1, 5_000);
    let (capture, receipt) = house.photo(build.id, &photo).await;
    let sha256 = tackbook::domain::words::fingerprint::Fingerprint::of(&photo);
    let round = house.round(build.id, 1, std::slice::from_ref(&sha256)).await;
    let before = house.office.store.facts(build.id).await.unwrap();
    let head = house.office.store.verify_log().await.unwrap();
    let house = house.restarted().await;
    let store = &house.office.store;
    assert_eq!(store.facts(build.id).await.unwrap(), before);
    assert_eq!(store.verify_log().await.unwrap(), head);
    assert_eq!(store.photo(build.id, capture).await.unwrap().unwrap().received, Some(receipt));
    assert_eq!(kept(store, Item::Photo(sha256)).await, Some(photo));
    assert!(kept(store, Item::Packet(round.packet_sha256)).await.unwrap().starts_with(b"%PDF-"));
}

#[tokio::test]
async fn a_closed_shop_takes_nothing() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await;
    house.office.store.close().await;
    let said = actions::recorded::notes::add(&house.office, build.id, note(&house.office, 0)).await;
    assert!(matches!(said, Err(actions::ActionError::Store(StoreError::Ended))), "{said:?}");
}

#[tokio::test]
async fn many_at_once_are_all_kept_and_logged_one_by_one() {
    let house = House::open().await;
    let fabricator = house.with("Fabricator", Role::Fabricator).await;
    let build = house.build("Pine Coupe").await.id;
    let before = house.office.store.verify_log().await.unwrap().entries;
    let mut writing = tokio::task::JoinSet::new();
    for number in 0..200 {
        let ctx = if number % 2 == 0 { house.office.clone() } else { fabricator.clone() };
        writing.spawn(async move {
            let new = note(&ctx, number);
            // every tenth is refused inside the change, and must take nobody else's with it
            let build = if number % 10 == 0 { uuid::Uuid::now_v7().into() } else { build };
            actions::recorded::notes::add(&ctx, build, new).await.is_ok()
        });
    }
    let kept = writing.join_all().await.into_iter().filter(|kept| *kept).count();
    assert_eq!(kept, 180);
    assert_eq!(house.office.store.notes(build).await.unwrap().len(), 180);
    let log = house.office.store.verify_log().await.unwrap();
    assert_eq!((log.entries, log.broken_at), (before + 180, None));
}

fn note(ctx: &Context, number: usize) -> NewNote {
    NewNote {
        day: ctx.clock.today(),
        text: format!("Cut bar {number}."),
        hours: None,
        cost: None,
        waiting_on: String::new(),
    }
}

/// The engine's own error of a database that may not grow (sqlite.org/pragma.html, `max_page_count`) is told as want of room.
#[tokio::test]
async fn records_that_cannot_grow_are_told_as_want_of_room() {
    let mut small = SqliteConnection::connect("sqlite::memory:").await.unwrap();
    sqlx::raw_sql("CREATE TABLE words (text TEXT); PRAGMA max_page_count = 3").execute(&mut small).await.unwrap();
    let full = sqlx::query("INSERT INTO words VALUES (hex(zeroblob(50000)))").execute(&mut small).await.unwrap_err();
    assert!(StoreError::from(full).is_no_room());
    let other = sqlx::query("INSERT INTO words VALUES (1, 2)").execute(&mut small).await.unwrap_err();
    assert!(!StoreError::from(other).is_no_room());
}
