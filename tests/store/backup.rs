//! Backups: what a folder of them keeps, and where none is made.

use tackbook::actions::{self, ActionError};
use tackbook::store::StoreError;
use tackbook::store::backup::KEPT;

use crate::covered::unbound;
use crate::folder::Folder;
use crate::house::{House, clock_after};

fn names(folder: &Folder, ending: &str) -> Vec<String> {
    let all = std::fs::read_dir(&folder.0).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let mut names: Vec<String> = all.filter(|name| name.ends_with(ending)).collect();
    names.sort();
    names
}

#[tokio::test]
async fn the_newest_fourteen_stay_and_the_shop_remembers_the_last() {
    let (house, to) = (House::open().await, Folder::new());
    assert_eq!(house.office.store.last_backup().await.unwrap(), None);
    for day in 0..16 {
        let clock = clock_after(day * 24 * 3600);
        let taken = actions::shop::backup::take(&house.folder.0, &to.0, &clock, &|_, _| {}).await.unwrap();
        assert_eq!(taken.list.lost, Vec::<String>::new());
        let last = house.office.store.last_backup().await.unwrap().unwrap();
        assert_eq!(last.made, clock.now());
        house.office.store.healthy().await.unwrap();
    }
    let lists = names(&to, ".json");
    assert_eq!(lists.len(), KEPT, "{lists:?}");
    // the same records on two days are one file
    assert!((1..=KEPT).contains(&names(&to, ".db").len()));
    let restored = Folder::new();
    let oldest = lists.first().map(String::as_str);
    let back = actions::shop::backup::restore(&to.0, oldest, &restored.0, &|_, _| {}).await.unwrap();
    assert!(back.report.good(), "{:?}", back.report.bad);
    assert_eq!(back.list.made, clock_after(2 * 24 * 3600).now(), "the two oldest are gone");
}

#[tokio::test]
async fn a_clock_that_was_ahead_lets_no_backup_take_the_newest_one_away() {
    let (house, to) = (House::open().await, Folder::new());
    let year = 365 * 24 * 3600;
    for ahead in 0..i64::try_from(KEPT).unwrap() {
        let clock = clock_after(year + ahead * 3600);
        actions::shop::backup::take(&house.folder.0, &to.0, &clock, &|_, _| {}).await.unwrap();
    }
    house.build("Pine Coupe").await;
    // the clock was set right
    let made = clock_after(3600);
    let taken = actions::shop::backup::take(&house.folder.0, &to.0, &made, &|_, _| {}).await.unwrap();
    let lists = names(&to, ".json");
    assert_eq!(lists.len(), KEPT, "{lists:?}");
    assert!(!lists.contains(&"backup-2032-04-06T120000Z.json".to_owned()), "the oldest by count is gone: {lists:?}");
    let restored = Folder::new();
    let back = actions::shop::backup::restore(&to.0, None, &restored.0, &|_, _| {}).await.unwrap();
    assert_eq!(back.list, taken.list, "the newest is the one that was made last");
    assert!(back.report.good(), "{:?}", back.report.bad);
}

#[tokio::test]
async fn a_log_that_was_cut_short_is_told_by_the_backup_and_by_the_shop() {
    let (house, to) = (House::open().await, Folder::new());
    house.build("Pine Coupe").await;
    let take = async |after: i64| {
        actions::shop::backup::take(&house.folder.0, &to.0, &clock_after(after), &|_, _| {}).await.unwrap()
    };
    let first = take(0).await;
    assert!(first.parted.is_none());
    let log = house.office.store.verify_log().await.unwrap();
    assert_eq!(first.list.log.map(|end| (end.entries, end.head)), Some((log.entries, log.head)));
    house.build("Elm Saloon").await;
    assert!(take(3600).await.parted.is_none(), "a log that went on is the same log");
    assert!(actions::shop::health::verify(&house.office.store).await.unwrap().good());
    // somebody takes the last build away, and everything that told of it
    let mut behind = unbound(house.folder.0.join("tackbook.db").to_str().unwrap()).await;
    for words in [
        "DELETE FROM builds WHERE name = 'Elm Saloon'",
        "DELETE FROM log_rows WHERE entry = (SELECT MAX(number) FROM log)",
        "DELETE FROM log WHERE number = (SELECT MAX(number) FROM log)",
    ] {
        assert!(sqlx::query(words).execute(&mut behind).await.unwrap().rows_affected() > 0, "{words}");
    }
    assert_eq!(house.office.store.verify_log().await.unwrap().broken_at, None, "the chain itself says nothing");
    assert!(house.office.store.verify_rows().await.unwrap().faults.is_empty(), "nor do the rows");
    let report = actions::shop::health::verify(&house.office.store).await.unwrap();
    assert!(report.bad.iter().any(|bad| bad.starts_with("The last backup has a log of")), "{report:?}");
    let parted = take(7200).await.parted;
    assert_eq!(parted, Some("backup-2031-04-07T130000Z.json".to_owned()));
    for day in 1..20 {
        assert!(take(7200 + day * 86_400).await.parted.is_none(), "told once");
    }
    let lists = names(&to, ".json");
    assert!(lists.contains(&parted.unwrap()), "the backup that knows more is kept: {lists:?}");
}

#[tokio::test]
async fn a_backup_lies_beside_the_shop_and_never_in_it() {
    let (house, elsewhere) = (House::open().await, Folder::new());
    let folder = &house.folder.0;
    for (shop, to, words) in [
        (folder.clone(), folder.join("photos"), "a folder of its own"),
        (folder.clone(), folder.parent().unwrap().to_owned(), "a folder of its own"),
        (folder.join("photos"), elsewhere.0.clone(), "no shop"),
    ] {
        let said = actions::shop::backup::take(&shop, &to, &house.office.clock, &|_, _| {}).await;
        let Err(ActionError::Store(StoreError::Folder(why))) = said else { panic!("{said:?}") };
        assert!(why.contains(words), "{why}");
    }
}

#[tokio::test]
async fn a_list_that_names_what_lies_elsewhere_is_refused_whole() {
    let (house, to) = (House::open().await, Folder::new());
    actions::shop::backup::take(&house.folder.0, &to.0, &house.office.clock, &|_, _| {}).await.unwrap();
    let list = to.0.join(names(&to, ".json").first().unwrap());
    let text = std::fs::read_to_string(&list).unwrap();
    std::fs::write(&list, text.replace("records-", "../records-")).unwrap();
    let said = actions::shop::backup::restore(&to.0, None, &Folder::new().0, &|_, _| {}).await;
    let Err(ActionError::Store(StoreError::Folder(why))) = said else { panic!("{said:?}") };
    assert!(why.contains("is no file of a shop"), "{why}");
}
